// Two runs compared.
import { expect } from 'vitest'
import type { Run } from '../../src/run/types.ts'

type Numbers = Float64Array | Float32Array | Uint8Array

const bytes = (x: Numbers) => Buffer.from(x.buffer, x.byteOffset, x.byteLength)

/** Bit for bit, without the cost of a deep comparison of a million numbers. */
export const sameBits = (a: Numbers, b: Numbers): boolean =>
  a.BYTES_PER_ELEMENT === b.BYTES_PER_ELEMENT && bytes(a).equals(bytes(b))

export function expectSameRun(a: Run, b: Run): void {
  const same = sameBits
  for (const [i, tally] of a.tallies.entries()) expect(same(tally, b.tallies[i]!), `batch ${i}`).toBe(true)
  expect(same(a.exits.data, b.exits.data)).toBe(true)
  expect(same(a.exits.batch, b.exits.batch)).toBe(true)
  expect([b.rays, b.exits.count, b.exits.fromRays]).toEqual([a.rays, a.exits.count, a.exits.fromRays])
}
