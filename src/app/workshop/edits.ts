// What the builder types about a part: its price, its weighed mass; kept in the lamp's file.
import type { Lamp } from '../../lamp/schema.ts'

type Typed = 'prices' | 'massG'

/** Null takes the value away. */
export function withTyped(lamp: Lamp, of: Typed, key: string, value: number | null): Lamp {
  const { [key]: _, ...others } = lamp.workshop?.[of] ?? {}
  const next = value === null ? others : { ...others, [key]: value }
  const { [of]: __, ...rest } = lamp.workshop ?? {}
  return { ...lamp, workshop: Object.keys(next).length > 0 ? { ...rest, [of]: next } : rest }
}
