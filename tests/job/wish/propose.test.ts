// Wishes of the trade turned into lamps, each traced again with other random numbers and more rays: what was promised comes out within both ±.
import { describe, expect, test } from 'vitest'
import { traceCell } from '../../../src/job/sweep/cell.ts'
import type { KindId } from '../../../src/job/wish/kinds.ts'
import { proposeKind } from '../../../src/job/wish/propose.ts'
import { wishedCd } from '../../../src/job/wish/search.ts'
import type { Wish } from '../../../src/job/wish/wish.ts'
import { wantedCd } from '../../../src/job/wish/wish.ts'
import { readLamp } from '../../../src/lamp/read.ts'
import { amount } from '../../kit/amount.ts'

/** Common practice, no source: what such lamps are asked to do. */
const WISHES: readonly { name: string; wish: Wish; kind: KindId }[] = [
  { name: 'hand searchlight', wish: { candela: 300_000, minutes: 10, widthMm: 200 }, kind: 'narrowCollimators' },
  {
    name: 'sign over a yard',
    wish: { lux: 100, distanceM: 10, sizeM: 2, minutes: 20, lengthMm: 500 },
    kind: 'collimatorsLens',
  },
  { name: 'searchlight of a metre', wish: { candela: 2e6, minutes: 10, lengthMm: 1200 }, kind: 'manyBoardsLens' },
  { name: 'far mark', wish: { candela: 1e6, minutes: 5, widthMm: 700 }, kind: 'denseLens' },
  { name: 'work place', wish: { lux: 300, distanceM: 3, sizeM: 2, minutes: 60 }, kind: 'narrowCollimators' },
  { name: 'climbing wall', wish: { lux: 50, distanceM: 30, sizeM: 10, minutes: 30 }, kind: 'manyBoardsLens' },
  { name: 'river bank', wish: { lux: 5, distanceM: 150, minutes: 15 }, kind: 'narrowCollimators' },
  { name: 'mast light', wish: { candela: 100_000, minutes: 120, massKg: 10 }, kind: 'collimatorsLens' },
  { name: 'stage spot', wish: { lux: 800, distanceM: 10, sizeM: 1.5, minutes: 30 }, kind: 'manyBoardsLens' },
  {
    name: 'lens at hand',
    wish: { candela: 400_000, minutes: 10, lens: { focalMm: 500, sizeMm: 400 } },
    kind: 'denseLens',
  },
]

describe.each(WISHES.slice(0, amount(2, WISHES.length)))('$name', ({ wish, kind }) => {
  test(`${kind}: as wished, a valid lamp, and a second trace agrees`, async () => {
    const outcome = await proposeKind(wish, kind, { seed: 1, rays: amount(1 << 13, 1 << 16) })
    if (!outcome.ok) throw new Error(`declined: ${JSON.stringify(outcome.declined)}`)
    const { proposal } = outcome
    expect(proposal.misses).toEqual([])
    expect(proposal.severe.filter((f) => !f.ofItsKind && f.rule !== 'front-hot')).toEqual([])
    expect(readLamp(proposal.lamp)).toMatchObject({ ok: true })
    expect(proposal.fullMinutes ?? Infinity).toBeGreaterThanOrEqual(wish.minutes ?? 10)
    const again = await traceCell(proposal.lamp, { seed: 7, rays: amount(1 << 13, 1 << 19) })
    const figure =
      wish.lux === undefined ? 'axialIntensityCd' : wish.sizeM === undefined ? 'targetCentreLx' : 'targetMeanLx'
    const [a, b] = [proposal.figures[figure], again?.figures[figure]]
    if (!a || !b || !again) throw new Error(`no ${figure}`)
    // Four standard errors of the difference, and what rays of less than a bin tell at least.
    expect(Math.abs(a.value - b.value)).toBeLessThanOrEqual(4 * Math.hypot(a.se, b.se) + 1e-3 * b.value)
    expect(wishedCd(wish, again.figures)).toBeGreaterThan(0.97 * wantedCd(wish))
  })
})

test('a lamp that is too short for the light is declined, with what it would give', async () => {
  const outcome = await proposeKind({ candela: 5e6, lengthMm: 200 }, 'manyBoardsLens', { seed: 1, rays: 4096 })
  expect(outcome).toMatchObject({ ok: false, declined: { because: 'light' } })
  if (!outcome.ok) expect(outcome.declined.most).toBeLessThan(5e6)
})
