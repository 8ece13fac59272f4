import { expect, test } from 'vitest'
import { giveBack, spareFloat32, spareFloat64, spareUint8 } from '../../src/num/spareArrays.ts'

test('a buffer given back is used again, by whatever kind of array it is large enough for, and by one at a time', () => {
  const first = spareFloat64(10_000).fill(7)
  giveBack([first])
  const again = spareFloat32(15_000)
  expect(again.buffer).toBe(first.buffer)
  expect([again.length, again.byteOffset]).toEqual([15_000, 0])
  expect(spareFloat64(10_000).buffer).not.toBe(first.buffer)
})

test('none that is too small, and none that is much too large', () => {
  const small = spareUint8(100)
  const large = spareUint8(4_000_000)
  giveBack([small, large])
  const wanted = spareUint8(500_000)
  expect([small.buffer, large.buffer]).not.toContain(wanted.buffer)
  expect(wanted.length).toBe(500_000)
  expect(spareFloat64(0).length).toBe(0)
})
