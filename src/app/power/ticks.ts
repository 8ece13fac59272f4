import type { Lamp } from '../../lamp/schema.ts'

/** The lamp with one item of its power-up list ticked or not; the same lamp when it was so already. */
export function ticked(lamp: Lamp, key: string, on: boolean): Lamp {
  const done = lamp.powerUp?.done ?? []
  if (done.includes(key) === on) return lamp
  if (on) return { ...lamp, powerUp: { done: [...done, key] } }
  const left = done.filter((k) => k !== key)
  if (left.length > 0) return { ...lamp, powerUp: { done: left } }
  const { powerUp: _, ...rest } = lamp
  return rest
}
