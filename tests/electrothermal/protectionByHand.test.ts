// The rules of cut-out and fold-back at their own boundaries, and what is summed up of a run, by hand.
import { describe, expect, test } from 'vitest'
import type { PowerModel } from '../../src/electrothermal/model.ts'
import {
  bendsOf,
  cutOutMoves,
  foldBackShare,
  type ProtectionState,
  protectionRunOf,
  repeats,
  sharePassedAt,
  solveShare,
  staysOpen,
  type WatchedMoment,
  watchedC,
  withoutProtection,
} from '../../src/electrothermal/protection.ts'
import type { Protection } from '../../src/lamp/schema.ts'
import { expectWithin } from '../kit/expect.ts'
import { coarse, fewCells } from '../kit/fewCells.ts'
import { once } from '../kit/once.ts'

const foldBack = { startC: 50, endC: 70, leastShare: 0.2 }
const closed: ProtectionState = { open: false, switched: [] }
const open: ProtectionState = { open: true, switched: [] }
const unguarded = once(() => coarse(fewCells()))
const guarded = (protection: Protection | null): PowerModel => ({ ...unguarded(), protection })

test('it reads the hottest cell; without cells absolute zero', () => {
  expect(watchedC(Float64Array.of(20, 35, 30))).toBe(35)
  expect(watchedC(Float64Array.of(-60, -50))).toBe(-50)
  expect(watchedC(new Float64Array())).toBe(-273.15)
  const model = guarded({ foldBack })
  expect(withoutProtection(model)).toEqual({ ...model, protection: null })
})

describe('fold-back', () => {
  test('all up to 50 °C, 4 % less for each kelvin, a fifth from 70 °C on', () => {
    for (const [celsius, share] of [
      [-40, 1],
      [50, 1],
      [50.5, 0.98],
      [55, 0.8],
      [69.5, 0.22],
      [70, 0.2],
      [71, 0.2],
      [200, 0.2],
    ] as const)
      expectWithin(foldBackShare({ foldBack }, celsius), share, { abs: 1e-12, because: '1 − 0.8 (T − 50)/20' })
    expect(foldBackShare({ cutOut: { openC: 30 } }, 90)).toBe(1)
    expect(foldBackShare(null, 90)).toBe(1)
  })
  test('let through: nothing while the cut-out is open, else the fold-back’s share', () => {
    const model = guarded({ foldBack })
    expect(sharePassedAt(model, open, 20)).toBe(0)
    expectWithin(sharePassedAt(model, closed, 60), 0.6, { abs: 1e-12, because: 'halfway' })
    expect(sharePassedAt(guarded(null), closed, 60)).toBe(1)
  })
})

describe('the share at which the fold-back leaves just that share', () => {
  const tries = (leaves: (share: number) => number, guess = 1) => {
    const shares: number[] = []
    const found = solveShare((share) => {
      shares.push(share)
      return { leaves: leaves(share), value: shares.length }
    }, guess)
    return { shares, found }
  }
  test('a guess within 1e-6 is taken at once, one further off is not', () => {
    expect(tries((s) => s - 0.9e-6, 0.5).shares).toEqual([0.5])
    expect(tries((s) => s + 0.9e-6, 0.5).found).toEqual({ share: 0.5, value: 1 })
    expect(tries((s) => s - 1.2e-6, 0.5).shares.length).toBeGreaterThan(1)
    expect(tries(() => 0.5, 0.5 + 1.2e-6)).toMatchObject({
      shares: [0.5 + 1.2e-6, 0.5],
      found: { share: 0.5, value: 2 },
    })
  })
  test('a straight line after its two ends: 1 − s at 1, 0, then ½', () => {
    expect(tries((s) => 1 - s)).toEqual({ shares: [1, 0, 0.5], found: { share: 0.5, value: 3 } })
  })
  test('ends on one side of the root: the other end of the range is tried, by the sign', () => {
    // 0.2 + 0.6 s meets s at ½; from 1: 0.8 leaves 0.68, too little; from 0: 0.2 leaves 0.32, too much.
    const rising = (s: number) => 0.2 + 0.6 * s
    const [down, up] = [tries(rising, 1), tries(rising, 0)]
    for (const [i, share] of [1, 0.8, 0, 0.5].entries())
      expectWithin(down.shares[i]!, share, { abs: 1e-12, because: 'the secant of a line' })
    for (const [i, share] of [0, 0.2, 1, 0.5].entries())
      expectWithin(up.shares[i]!, share, { abs: 1e-12, because: 'the secant of a line' })
    expect([down.shares.length, up.shares.length]).toEqual([4, 4])
  })
  test('a jump has no root: Illinois’ rule, every fourth step in the middle, and no more than 60 of them', () => {
    // s − 0 from 0.3 on, 1 − s below. Halved ends by hand: (0, ½) at 1, −½; (0, ⅓) at ½, −⅓; (⅓, ⅕) at −⅓, ⅘; then the middle;
    // (⅓, 4/15) at −⅙, 11/15.
    const { shares, found } = tries((s) => (s < 0.3 ? 1 : 0))
    const last = (11 / 15 / 3 + 4 / 15 / 6) / (11 / 15 + 1 / 6)
    for (const [i, share] of [1, 0, 1 / 2, 1 / 3, 1 / 5, 4 / 15, last].entries())
      expectWithin(shares[i]!, share, { abs: 1e-12, because: 'by hand' })
    expect(shares).toHaveLength(62)
    expect(found).toEqual({ share: shares[61], value: 62 })
  })
})

describe('cut-out', () => {
  const both = { cutOut: { openC: 60, closeC: 45 } }

  test('opens from 0.01 K under its temperature on, closes up to 0.01 K over the lower one', () => {
    const model = guarded(both)
    expect([59.985, 60 - 0.01, 60, 90].map((c) => cutOutMoves(model, closed, c))).toEqual([false, true, true, true])
    expect([60, 45.015, 45 + 0.01, 45, 20].map((c) => cutOutMoves(model, open, c))).toEqual([
      ...[false, false, true, true, true],
    ])
  })
  test('one without a lower temperature never closes; a lamp without one has none', () => {
    const model = guarded({ cutOut: { openC: 60 } })
    expect(cutOutMoves(model, open, -100)).toBe(false)
    expect(cutOutMoves(model, closed, 60)).toBe(true)
    for (const none of [null, { foldBack }]) {
      expect(cutOutMoves(guarded(none), closed, 400)).toBe(false)
      expect(cutOutMoves(guarded(none), open, -100)).toBe(false)
    }
  })
  test('open for good: latched, or to close within 0.01 K of the air’s 20 °C or below', () => {
    const stays = (closeC: number | undefined, state = open) =>
      staysOpen(guarded({ cutOut: closeC === undefined ? { openC: 60 } : { openC: 60, closeC } }), state)
    expect([undefined, 10, 20, 20 + 0.01, 20.015, 45].map((c) => stays(c))).toEqual([
      ...[true, true, true, true, false, false],
    ])
    expect([undefined, 10, 45].map((c) => stays(c, closed))).toEqual([false, false, false])
    // Nothing to close at all.
    expect(staysOpen(guarded(null), open)).toBe(true)
  })
  test('steps of time end where it moves next and where the fold-back begins', () => {
    expect(bendsOf(guarded({ ...both, foldBack }), closed)).toEqual([60, 50])
    expect(bendsOf(guarded({ ...both, foldBack }), open)).toEqual([45])
    expect(bendsOf(guarded(both), closed)).toEqual([60])
    expect(bendsOf(guarded({ foldBack }), closed)).toEqual([50])
    expect(bendsOf(guarded({ cutOut: { openC: 60 } }), open)).toEqual([])
    expect([bendsOf(guarded(null), closed), bendsOf(guarded(null), open)]).toEqual([[], []])
  })
})

/** Opens at the first, closes at the second, and so on. */
const switchedAt = (...times: number[]): ProtectionState => ({
  open: times.length % 2 === 1,
  switched: times.map((atS, i) => ({ atS, open: i % 2 === 0 })),
})

describe('cycles alike', () => {
  test('times off and on may differ by a hundredth of the last cycle', () => {
    const alike = (c2: number, o3: number) => repeats(switchedAt(0, 50, 100, c2, o3))
    expect(alike(150, 200)).toBe(true)
    // A cycle of 100 s: 1 s.
    expect([alike(151, 200), alike(149, 200)]).toEqual([true, true])
    expect([alike(151.1, 201.1), alike(148.9, 198.9)]).toEqual([false, false])
    expect([alike(150, 201.1), alike(150, 198.9)]).toEqual([false, false])
    // Off 50, 51; on 50, 51.5: 1 % of 102.5 s.
    expect(alike(151, 202)).toBe(true)
    expect(alike(151, 202.1)).toBe(false)
  })
  test('only just after it has opened again, and from the third opening on', () => {
    expect(repeats(switchedAt())).toBe(false)
    expect(repeats(switchedAt(0))).toBe(false)
    expect(repeats(switchedAt(0, 50, 100))).toBe(false)
    expect(repeats(switchedAt(0, 50, 100, 150))).toBe(false)
    expect(repeats(switchedAt(0, 50, 100, 150, 200, 250))).toBe(false)
  })
  test('only the last two count', () => {
    expect(repeats(switchedAt(-300, -40, 0, 50, 100, 150, 200))).toBe(true)
    expect(repeats(switchedAt(-200, -150, -100, -50, 0, 50, 130))).toBe(false)
  })
  test('25 openings are the most, however unlike', () => {
    const unlike = (openings: number) => switchedAt(...Array.from({ length: 2 * openings - 1 }, (_, i) => i ** 2))
    expect(repeats(unlike(24))).toBe(false)
    expect(repeats(unlike(25))).toBe(true)
  })
})

describe('what it did in a run', () => {
  const moment = (tS: number, over: Partial<WatchedMoment> = {}): WatchedMoment => ({
    ...{ tS, watchedC: 30, passes: 1, charge: 1, electrics: { totalLm: 100 } },
    ...over,
  })
  const dark = { passes: 0, electrics: { totalLm: 0 } }
  const cutOut = { openC: 60, closeC: 45 }

  test('nothing on a lamp without one', () => {
    expect(protectionRunOf(guarded(null), closed, [moment(0)])).toBeNull()
  })
  test('never moved: no opening, no cycle', () => {
    expect(protectionRunOf(guarded({ cutOut }), closed, [moment(0), moment(9)])).toEqual({
      ...{ firstOpenS: null, openings: 0, staysOpen: false, cycle: null },
      ...{ foldsFromS: null, leastShare: null, shareAtEnd: 1 },
    })
  })
  test('the fold-back: from when on, the least while there was light, and the last', () => {
    const moments = [
      moment(0, { watchedC: 50 }),
      moment(10, { watchedC: 50.5, passes: 0.98 }),
      moment(20, { watchedC: 60, passes: 0.6 }),
      moment(30, { watchedC: 55, passes: 0.8 }),
      moment(40, dark),
    ]
    const state = switchedAt(40)
    expect(protectionRunOf(guarded({ cutOut: { openC: 60 }, foldBack }), state, moments)).toEqual({
      ...{ firstOpenS: 40, openings: 1, staysOpen: true, cycle: null },
      ...{ foldsFromS: 10, leastShare: 0.6, shareAtEnd: 0.8 },
    })
    expect(protectionRunOf(guarded({ foldBack }), closed, [moment(0)])).toMatchObject({
      foldsFromS: null,
      leastShare: 1,
    })
    expect(protectionRunOf(guarded({ cutOut }), switchedAt(0), [moment(0, dark)])).toMatchObject({ shareAtEnd: 0 })
  })
  test('the last whole cycle, from opening to opening: 60 s off, 20 s on; with as much charge left as it takes, one more', () => {
    const moments = [
      moment(0, { charge: 1 }),
      moment(100, { charge: 0.9 }),
      moment(100, { charge: 0.9, ...dark }),
      moment(160, { charge: 0.5, ...dark }),
      moment(160, { charge: 0.5 }),
      moment(170, { charge: 0.48, electrics: { totalLm: 80 } }),
      moment(180, { charge: 0.45, electrics: { totalLm: 60 } }),
      moment(180, { charge: 0.45, ...dark }),
      moment(400, { charge: 0.4, ...dark }),
    ]
    const run = (last: number) =>
      protectionRunOf(guarded({ cutOut }), switchedAt(0, 50, 100, 160, 180), moments.slice(0, last))
    const { cycle } = run(9)!
    // 10 s at 90 lm, 10 s at 70 lm: 1600 lm s in 80 s. 0.9 − 0.45 used in the cycle, 0.45 left: one more.
    expect(run(9)).toMatchObject({ firstOpenS: 0, openings: 3, staysOpen: false })
    expect(cycle).toMatchObject({ fromS: 100, periodS: 80, onS: 20, duty: 0.25, meanLm: 20 })
    expectWithin(cycle!.emptyAboutS!, 180 + 80, { rel: 1e-12, because: 'as much is left as a cycle takes' })
    const endless = moments.map((m) => ({ ...m, charge: 1 }))
    expect(
      protectionRunOf(guarded({ cutOut }), switchedAt(0, 50, 100, 160, 180), endless)!.cycle!.emptyAboutS,
    ).toBeNull()
  })
  test('a pack that a cycle takes 2 % of has 20 cycles left at 40 %', () => {
    const at = (tS: number, charge: number) => moment(tS, { charge })
    const state = switchedAt(0, 30, 50)
    const { cycle } = protectionRunOf(guarded({ cutOut }), state, [
      at(0, 0.42),
      at(30, 0.41),
      at(50, 0.4),
      at(60, 0.1),
    ])!
    expectWithin(cycle!.emptyAboutS!, 50 + 20 * 50, { rel: 1e-9, because: '0.4/0.02 cycles of 50 s' })
    expect(cycle!.onS).toBe(20)
  })
  test('no cycle before the second opening', () => {
    for (const times of [[], [5], [5, 9]])
      expect(protectionRunOf(guarded({ cutOut }), switchedAt(...times), [moment(0)])!.cycle).toBeNull()
  })
})
