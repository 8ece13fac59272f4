// Two runs compared.
import { expect } from 'vitest'
import type { Run } from '../../src/run/types.ts'

/** Bit for bit, without the cost of a deep comparison of a million numbers. */
export function expectSameRun(a: Run, b: Run): void {
  const same = (x: ArrayLike<number>, y: ArrayLike<number>) => {
    if (x.length !== y.length) return false
    for (let i = 0; i < x.length; i++) if (!Object.is(x[i], y[i])) return false
    return true
  }
  for (const [i, tally] of a.tallies.entries()) expect(same(tally, b.tallies[i]!), `batch ${i}`).toBe(true)
  expect(same(a.exits.data, b.exits.data)).toBe(true)
  expect(same(a.exits.batch, b.exits.batch)).toBe(true)
  expect([b.rays, b.exits.count, b.exits.fromRays]).toEqual([a.rays, a.exits.count, a.exits.fromRays])
}
