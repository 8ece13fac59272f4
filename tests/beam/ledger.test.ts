// Where each lumen went: shares worked by hand.
import { describe, expect, test } from 'vitest'
import type { Angles, HalfAngle } from '../../src/beam/angles.ts'
import { readLedger } from '../../src/beam/ledger.ts'
import type { TallyLayout } from '../../src/run/layout.ts'
import { FATES, type Fate } from '../../src/run/types.ts'
import { expectWithin } from '../kit/expect.ts'
import { filledRun, HAND_LM_PER_W, smallShape } from '../kit/handRun.ts'

const rounding = { rel: 1e-12, because: 'rounding' }
const shape = smallShape()

type Weights = Partial<Record<Fate, number>>
/** Shares of the weight by fate; a batch has emitted 300 luminous units and 1 radiant one. */
function book(t: Float64Array, l: TallyLayout, lumens: Weights, watts: Weights = lumens) {
  for (const [fate, share] of Object.entries(lumens)) t[l.fateLm + FATES.indexOf(fate as Fate)] = share * HAND_LM_PER_W
  for (const [fate, share] of Object.entries(watts)) t[l.fateW + FATES.indexOf(fate as Fate)] = share
}
/** Shares of the delivered light, and of what of it met a riser, by bins of 0.1. */
function bins(t: Float64Array, l: TallyLayout, all: number[], riser: number[] = []) {
  for (const [i, v] of all.entries()) t[l.profileLm + i] = v * HAND_LM_PER_W
  for (const [i, v] of riser.entries()) t[l.profileRiserLm + i] = v * HAND_LM_PER_W
}
const half = (rad: number, without = new Array<number>(16).fill(rad), ownSe = 0): HalfAngle => ({
  rad,
  without,
  ownSe,
  forwardSeCd: 0,
})
const read = (run: ReturnType<typeof filledRun>, angles: Angles) =>
  Object.fromEntries(readLedger(run, angles).map((row) => [row.line, row]))

describe('a row', () => {
  const run = filledRun(
    shape,
    (t, l, b) => book(t, l, { wall: b % 2 ? 0.5 : 0.3, delivered: b % 2 ? 0.5 : 0.7 }, { wall: 0.25, delivered: 0.75 }),
    { emittedLm: 1200 },
  )
  test('share, lumens, watts, error', () => {
    const rows = read(run, {})
    expectWithin(rows['wall']!.share.value, 0.4, rounding)
    expectWithin(rows['wall']!.lm, 480, rounding)
    // 1200 lm are 4 W.
    expectWithin(rows['wall']!.w, 1, rounding)
    // Sixteen values 0.1 from their mean: 0.1/√15.
    expectWithin(rows['wall']!.share.se, 0.1 / Math.sqrt(15), rounding)
    expectWithin(rows['delivered']!.share.value, 0.6, rounding)
    expectWithin(rows['delivered']!.share.se, 0.1 / Math.sqrt(15), rounding)
    expectWithin(rows['delivered']!.w, 3, rounding)
    expect(rows['face']!.share).toEqual({ value: 0, se: 0 })
  })
  test('one for each fate, in their order, each with a name of its own', () => {
    const list = readLedger(run, {})
    expect(list.map((row) => row.line)).toEqual([...FATES])
    expect(new Set(list.map((row) => row.name)).size).toBe(FATES.length)
    for (const { name } of list) expect(name).toMatch(/^[A-Z].{9,}/)
  })
})

describe('delivered light by angle', () => {
  // Bins of 0.1: beam to 0.1, field to 0.3. By way of risers 0.01, 0.02, 0.03 of it.
  const fill = (t: Float64Array, l: TallyLayout) => {
    book(
      t,
      l,
      { delivered: 0.6, deliveredViaRiser: 0.06, wall: 0.34 },
      { delivered: 0.5, deliveredViaRiser: 0.06, wall: 0.44 },
    )
    bins(t, l, [0.11, 0.22, 0.13, 0.2], [0.01, 0.02, 0.03])
  }
  const run = filledRun(shape, fill)
  test('inside the beam, inside the field, outside', () => {
    const rows = read(run, { beam: half(0.1), field: half(0.3) })
    expect(rows['delivered']).toBeUndefined()
    const share = (line: string) => rows[line]!.share.value
    expectWithin(share('deliveredInBeam'), 0.1, rounding)
    expectWithin(share('deliveredInField'), 0.3, rounding)
    expectWithin(share('deliveredOutside'), 0.2, rounding)
    expectWithin(share('deliveredViaRiser'), 0.06, rounding)
    expectWithin(rows['deliveredInField']!.lm, 0.3 * 4800, rounding)
    // Of 16 W half: 8 W, by the shares 1, 3, 2 of 6.
    for (const [line, w] of [
      ['deliveredInBeam', 8 / 6],
      ['deliveredInField', 4],
      ['deliveredOutside', 8 / 3],
    ] as const)
      expectWithin(rows[line]!.w, w, rounding)
    const names = ['deliveredInBeam', 'deliveredInField', 'deliveredOutside'].map((line) => rows[line]!.name)
    expect(new Set(names).size).toBe(3)
    for (const name of names) expect(name).toMatch(/^Left the lamp, /)
    expect(readLedger(run, { beam: half(0.1), field: half(0.3) }).length).toBe(FATES.length + 2)
  })
  test('each batch by its own angles', () => {
    // Without batch 0 the beam ends at 0.2, where 0.3 lie inside, and without batch 1 the field at 0.4, with all 0.6.
    const beam = half(0.1, [0.2, ...new Array<number>(15).fill(0.1)])
    const field = half(0.3, [0.3, 0.4, ...new Array<number>(14).fill(0.3)])
    const rows = read(run, { beam, field })
    // One of 16 is off by 0.2: squares 0.04 · 15/16, times 15/16.
    const se = (0.2 * 15) / 16
    expectWithin(rows['deliveredInBeam']!.share.se, se, rounding)
    expectWithin(rows['deliveredOutside']!.share.se, se, rounding)
    // In the field: 0.1 once, 0.5 once, else 0.3: squares 0.08, times 15/16.
    expectWithin(rows['deliveredInField']!.share.se, Math.sqrt((15 / 16) * 0.08), rounding)
  })
  test('a field within the beam adds nothing to it', () => {
    const rows = read(run, { beam: half(0.3), field: half(0.1) })
    expectWithin(rows['deliveredInBeam']!.share.value, 0.4, rounding)
    expect(rows['deliveredInField']!.share.value).toBe(0)
    expectWithin(rows['deliveredOutside']!.share.value, 0.2, rounding)
  })
  test('no part is more than the whole, and none is below zero', () => {
    const of = (all: number[], riser: number[], beamRad: number) => {
      const r = filledRun(shape, (t, l) => {
        book(t, l, { delivered: 0.2, wall: 0.8 })
        bins(t, l, all, riser)
      })
      const rows = read(r, { beam: half(beamRad), field: half(0.3) })
      return ['deliveredInBeam', 'deliveredInField', 'deliveredOutside'].map((line) => rows[line]!.share.value)
    }
    expect(of([0.3, 0.1], [], 0.1)).toEqual([0.2, 0, 0])
    const [beam, field, outside] = of([0.05, 0.3], [], 0.1)
    expectWithin(beam!, 0.05, rounding)
    expectWithin(field!, 0.15, rounding)
    expectWithin(outside!, 0, { abs: 1e-15, because: 'rounding' })
    // More by way of risers than there is, between beam and field.
    const [less, none, rest] = of([0.15, 0.01], [0, 0.06], 0.1)
    expectWithin(less!, 0.15, rounding)
    expect(none).toBe(0)
    expectWithin(rest!, 0.05, rounding)
  })
  test('in one line, where an angle is not known or nothing is delivered', () => {
    for (const angles of [{}, { beam: half(0.1) }, { field: half(0.3) }]) {
      const rows = read(run, angles)
      expectWithin(rows['delivered']!.share.value, 0.6, rounding)
      expect(rows['delivered']!.name).toBe('Left the lamp')
      expect(rows['deliveredInBeam']).toBeUndefined()
    }
    const dark = filledRun(shape, (t, l) => book(t, l, { wall: 1 }))
    expect(read(dark, { beam: half(0.1), field: half(0.3) })['delivered']!.share.value).toBe(0)
  })
})
