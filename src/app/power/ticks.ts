import type { Lamp } from '../../lamp/schema.ts'

/** The lamp with an item of its checklist ticked or cleared; the same object when nothing changes. */
export function ticked(lamp: Lamp, key: string, on: boolean): Lamp {
  const done = lamp.powerUp?.done ?? []
  if (done.includes(key) === on) return lamp
  if (on) return { ...lamp, powerUp: { done: [...done, key] } }
  const left = done.filter((k) => k !== key)
  if (left.length > 0) return { ...lamp, powerUp: { done: left } }
  const { powerUp: _, ...rest } = lamp
  return rest
}
