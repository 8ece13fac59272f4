// The schema's library leaves an entry out that is called `__proto__`. Groups and channels may be called so; their entries are put back here.
import type { z } from 'zod'
import { harness, mode } from './power.ts'
import type { Lamp } from './schema.ts'

const NAME = '__proto__'

/** Puts left out entries of `json` into `lamp`, which was parsed from it. Returns what does not fit, by path. */
export function restoreProtoEntries(lamp: Lamp, json: unknown): { path: PropertyKey[]; issue: z.core.$ZodIssue }[] {
  const { power } = lamp
  if (!power) return []
  const faults: { path: PropertyKey[]; issue: z.core.$ZodIssue }[] = []
  const restore = (record: object | undefined, of: z.ZodNumber, ...path: PropertyKey[]) => {
    const value = ownAt(json, [...path, NAME])
    if (!record || value === undefined) return
    const parsed = of.safeParse(value)
    if (!parsed.success)
      faults.push(...parsed.error.issues.map((issue) => ({ path: [...path, NAME, ...issue.path], issue })))
    else Object.defineProperty(record, NAME, { value, enumerable: true, writable: true, configurable: true })
  }
  const lengths = harness.shape.channelLengthMm.unwrap().valueType
  restore(power.harness.channelLengthMm, lengths, 'power', 'harness', 'channelLengthMm')
  const currents = mode.shape.groupA.unwrap().valueType
  for (const [i, m] of power.modes.entries()) restore(m.groupA, currents, 'power', 'modes', i, 'groupA')
  return faults
}

/** What stands at a path of a document; never what objects inherit. */
export function ownAt(json: unknown, path: readonly PropertyKey[]): unknown {
  let at: unknown = json
  for (const step of path) {
    if (at === null || typeof at !== 'object' || !Object.hasOwn(at, step)) return undefined
    at = (at as Record<PropertyKey, unknown>)[step]
  }
  return at
}
