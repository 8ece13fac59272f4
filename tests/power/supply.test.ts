// The supply as the harness sees it, by hand.
import { describe, expect, test } from 'vitest'
import type { Pack } from '../../src/lamp/schema.ts'
import { gannetPower } from '../../src/library/demoPower.ts'
import { makeSource } from '../../src/power/supply.ts'
import { expectWithin } from '../kit/expect.ts'

const BY_HAND = { rel: 1e-12, because: 'by hand' }
const pack = (over: Partial<Pack> = {}): Pack => ({ ...(gannetPower.supply as Pack), ...over })

describe('a pack of 10 in series, 6 side by side', () => {
  test('open voltage over charge: 4.2 V full, 3.73 V at half, 3 V empty, each (typical, memory)', () => {
    const { openV } = makeSource(pack())
    for (const [q, volts] of [
      [1, 42],
      [0.5, 37.3],
      [0, 30],
    ] as const)
      expectWithin(openV(q), volts, BY_HAND)
    expect(openV(0.75)).toBeGreaterThan(39.1)
    expect(openV(0.75)).toBeLessThan(40)
  })
  test('resistance, limits, charge and stored heat', () => {
    const s = makeSource(pack({ charged: 0.4, cellGram: 50 }))
    expectWithin(s.ohm, (10 * 0.025) / 6, BY_HAND)
    expectWithin(s.heatJK!, 60 * 0.05 * 950, BY_HAND)
    expect([s.maxA, s.cutOffV, s.capacityC, s.charged, s.maxCellC]).toEqual([60, 30, 18 * 3600, 0.4, 60])
  })
})

test('a fixed supply: one voltage, no end, no cells', () => {
  const s = makeSource({ kind: 'fixed', name: '', volts: 48, milliohm: 20, maxA: 15 })
  expect([s.openV(0), s.openV(1), s.ohm, s.maxA]).toEqual([48, 48, 0.02, 15])
  expect([s.cutOffV, s.capacityC, s.charged, s.heatJK, s.maxCellC]).toEqual([null, null, 1, null, null])
})
