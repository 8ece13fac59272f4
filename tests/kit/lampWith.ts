// A valid lamp that differs from an example only in what the test is about.

import { readLamp } from '../../src/lamp/read.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'

/** Objects may be given in part; lists and null replace what was there. */
export type Overrides<T> = T extends readonly unknown[]
  ? T
  : T extends object
    ? { [K in keyof T]?: Overrides<T[K]> | undefined }
    : T

/** An example (Gannet Head by default) with `overrides` laid over it. Throws when the outcome is no lamp. */
export function lampWith(overrides: Overrides<Lamp>, base: Lamp = gannetHead()): Lamp {
  const read = readLamp(laidOver(base, overrides))
  if (!read.ok) throw new Error(`lampWith: ${read.why.join(' ')}`)
  return read.lamp
}

function laidOver(base: unknown, over: unknown): unknown {
  if (over === undefined) return base
  if (!isPlain(over) || !isPlain(base)) return over
  // A lens (or heat) of another kind shares nothing with the old one.
  if ('kind' in over && over['kind'] !== base['kind']) return over
  const out: Record<string, unknown> = { ...base }
  for (const [key, value] of Object.entries(over)) out[key] = laidOver(base[key], value)
  return out
}

const isPlain = (x: unknown): x is Record<string, unknown> => x !== null && typeof x === 'object' && !Array.isArray(x)
