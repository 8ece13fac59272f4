// The curve by distance: read, joined, completed with foci and made to fall at its end, on curves of a few points.
import { describe, expect, test } from 'vitest'
import type { Focus } from '../../src/hazard/foci.ts'
import { type CurvePoint, clearDistanceMm, type Front, irradianceAt } from '../../src/hazard/front.ts'
import { addFoci, joinFronts, makeTailMonotone } from '../../src/hazard/frontWhole.ts'
import { T95 } from '../../src/num/stats.ts'
import type { HotSpot } from '../../src/run/figure.ts'
import { expectWithin } from '../kit/expect.ts'

const because = 'by hand'
/** Upper ends by distance; each with a standard error of 1. */
const point = (distanceMm: number, upper: number): CurvePoint => ({ distanceMm, kWm2: upper - T95, se: 1, discMm: 10 })
const curveOf = (...points: [number, number][]): Front => ({ worst: null, curve: points.map(([d, u]) => point(d, u)) })
const uppers = (front: Front) => front.curve.map((p) => [p.distanceMm, Math.round((p.kWm2 + T95 * p.se) * 1e9) / 1e9])
const spot = (upper: number, xMm = 0): HotSpot => ({ kWm2: upper - T95, se: 1, xMm, yMm: 2, zMm: 3, discMm: 10 })
const focus = (distanceMm: number, upper: number): Focus => ({
  distanceMm,
  coneHalfRad: 0.1,
  kWm2: upper - 2 * T95,
  se: 2,
  xMm: 4,
  yMm: 5,
  zMm: 1000 + distanceMm,
  discMm: 8,
})

describe('upper end at a distance', () => {
  const front = curveOf([10, 20], [30, 40], [50, 10])
  test.each([
    [1, 20],
    [10, 20],
    [15, 25],
    [30, 40],
    [45, 17.5],
    [50, 10],
    // Beyond the last 1/d².
    [100, 2.5],
  ])('%d mm: %d', (d, upper) => expectWithin(irradianceAt(front, d), upper, { abs: 1e-12, because }))
  test('no light, none', () => expect(irradianceAt(curveOf(), 10)).toBe(0))
  test('of two points at one distance the hotter, whichever comes first', () => {
    for (const first of [curveOf([1, 20], [1, 30], [5, 2], [5, 3]), curveOf([1, 30], [1, 20], [5, 3], [5, 2])])
      expect([0.5, 1, 5].map((d) => irradianceAt(first, d))).toEqual([30, 30, 3].map((x) => expect.closeTo(x, 9)))
  })
})

describe('clear distance', () => {
  const front = curveOf([10, 20], [30, 40], [50, 10])
  test.each([
    // From 40 at 30 mm to 10 at 50 mm.
    [40, 30],
    [25, 40],
    [11.5, 49],
    // √ beyond the last.
    [10, 50],
    [2.5, 100],
    [41, 0],
  ])('%d kW/m²: %d mm', (threshold, mm) => expectWithin(clearDistanceMm(front, threshold), mm, { abs: 1e-9, because }))
  test('the last crossing counts, not the first; a curve that begins hot', () => {
    expectWithin(clearDistanceMm(curveOf([10, 40], [20, 5], [30, 40], [40, 5]), 22.5), 35, { abs: 1e-9, because })
    expectWithin(clearDistanceMm(curveOf([10, 40], [20, 20]), 30), 15, { abs: 1e-9, because })
    expect(clearDistanceMm(curveOf(), 1)).toBe(0)
  })
})

describe('foci on the curve', () => {
  const front = curveOf([10, 20], [30, 40], [50, 10])
  test('where they are hotter than it is there', () => {
    // Between 10 and 30 mm: 25 at 15 mm.
    expect(uppers(addFoci(front, [focus(15, 25.1)]))).toEqual([
      [10, 20],
      [15, 25.1],
      [30, 40],
      [50, 10],
    ])
    expect(uppers(addFoci(front, [focus(15, 24.9)]))).toEqual(uppers(front))
    expect(uppers(addFoci(front, [focus(45, 17.4)]))).toEqual(uppers(front))
    expect(uppers(addFoci(front, [focus(45, 17.6)])).length).toBe(4)
    // Before the first its value, beyond the last none.
    expect(uppers(addFoci(front, [focus(5, 19.9)])).length).toBe(3)
    expect(uppers(addFoci(front, [focus(5, 20.1)]))[0]).toEqual([5, 20.1])
    expect(uppers(addFoci(front, [focus(60, 0.1)]))[3]).toEqual([60, 0.1])
  })
  test('each with its own disc and error, by distance', () => {
    const { curve } = addFoci(front, [focus(40, 90), focus(20, 80)])
    expect(curve.map((p) => p.distanceMm)).toEqual([10, 20, 30, 40, 50])
    expect(curve[3]).toEqual({ distanceMm: 40, kWm2: 90 - 2 * T95, se: 2, discMm: 8 })
  })
  test('not twice at one distance', () => {
    expect(uppers(addFoci(front, [focus(30, 50)]))).toEqual(uppers(front))
    expect(uppers(addFoci(front, [focus(30, 50), focus(31, 50)])).length).toBe(4)
  })
  test('an exact tie is no news', () => {
    const even: Front = { worst: null, curve: [{ distanceMm: 10, kWm2: 20, se: 0, discMm: 10 }] }
    expect(addFoci(even, [{ ...focus(5, 0), kWm2: 20, se: 0 }]).curve.length).toBe(1)
    expect(addFoci(curveOf(), [{ ...focus(5, 0), kWm2: 0, se: 0 }])).toEqual({ worst: null, curve: [] })
  })
  test('the first, the hottest, is the worst place where it is hotter than that', () => {
    const with40 = { ...front, worst: spot(40) }
    const place = { xMm: 4, yMm: 5, zMm: 1015, kWm2: 41 - 2 * T95, se: 2, discMm: 8 }
    expect(addFoci(with40, [focus(15, 41), focus(16, 90)]).worst).toEqual(place)
    expect(addFoci(with40, [focus(15, 39)]).worst).toBe(with40.worst)
    expect(addFoci(front, [focus(15, 41)]).worst).toEqual(place)
    expect(addFoci(front, []).worst).toBeNull()
    expect(addFoci(with40, []).worst).toBe(with40.worst)
    const even = { ...front, worst: { ...spot(0), kWm2: 20, se: 0 } }
    expect(addFoci(even, [{ ...focus(15, 0), kWm2: 20, se: 0 }]).worst).toBe(even.worst)
    expect(addFoci(front, [{ ...focus(15, 0), kWm2: 0, se: 0 }]).worst).toBeNull()
  })
})

describe('two fronts as one', () => {
  const a = curveOf([10, 20], [30, 40])
  test('points of the second that are hotter', () => {
    expect(uppers(joinFronts(a, curveOf([5, 19], [20, 30.1], [25, 34.9], [40, 1])))).toEqual([
      [10, 20],
      [20, 30.1],
      [30, 40],
      [40, 1],
    ])
    expect(uppers(joinFronts(a, curveOf([5, 21])))[0]).toEqual([5, 21])
    // One that is hotter at the same distance is added; an equal one isn't.
    expect(uppers(joinFronts(a, curveOf([10, 21])))).toEqual([
      [10, 20],
      [10, 21],
      [30, 40],
    ])
    expect(uppers(joinFronts(a, curveOf([10, 20], [30, 40])))).toEqual(uppers(a))
    expect(uppers(joinFronts(curveOf(), a))).toEqual(uppers(a))
  })
  test('the hotter worst place; of equal ones the first', () => {
    const [cold, hot, equal] = [spot(40), spot(41), spot(40, 9)]
    const worst = (x: HotSpot | null, y: HotSpot | null) => joinFronts({ ...a, worst: x }, { ...a, worst: y }).worst
    expect(worst(cold, hot)).toBe(hot)
    expect(worst(hot, cold)).toBe(hot)
    expect(worst(cold, equal)).toBe(cold)
    expect(worst(null, cold)).toBe(cold)
    expect(worst(cold, null)).toBe(cold)
    expect(worst(null, null)).toBeNull()
  })
})

describe('beyond the hottest place and the last focus', () => {
  const front = curveOf([10, 20], [20, 50], [30, 5], [40, 8], [50, 3], [60, 4])
  test('no upper end is less than one further out; se stays', () => {
    const whole = makeTailMonotone(front, [])
    expect(uppers(whole)).toEqual([
      [10, 20],
      [20, 50],
      [30, 8],
      [40, 8],
      [50, 4],
      [60, 4],
    ])
    expect(whole.curve.map((p) => p.se)).toEqual([1, 1, 1, 1, 1, 1])
    expectWithin(whole.curve[2]!.kWm2, 8 - T95, { abs: 1e-12, because })
    // The one that was read is left as it is.
    expect(front.curve[2]!.kWm2).toBe(5 - T95)
    expect(whole.worst).toBeNull()
  })
  test('up to the last focus it stays as read', () => {
    expect(uppers(makeTailMonotone(front, [focus(35, 9), focus(5, 90)]))).toEqual([
      [10, 20],
      [20, 50],
      [30, 5],
      [40, 8],
      [50, 4],
      [60, 4],
    ])
    // At the focus itself too.
    expect(uppers(makeTailMonotone(front, [focus(30, 9)]))[2]).toEqual([30, 5])
    expect(uppers(makeTailMonotone(front, [focus(29.9, 9)]))[2]).toEqual([30, 8])
    expect(uppers(makeTailMonotone(front, [focus(100, 9)]))).toEqual(uppers(front))
  })
  test('the hottest by its upper end, of equal ones the first', () => {
    const two = curveOf([10, 50], [20, 5], [30, 50], [40, 1], [50, 2])
    expect(uppers(makeTailMonotone(two, []))).toEqual([
      [10, 50],
      [20, 50],
      [30, 50],
      [40, 2],
      [50, 2],
    ])
    // 45 ± 2 · 2.131 is more than 48 ± 0: what lies between them stays.
    const wide: Front = {
      worst: null,
      curve: [
        { distanceMm: 10, kWm2: 48, se: 0, discMm: 10 },
        { distanceMm: 20, kWm2: 5, se: 0, discMm: 10 },
        { distanceMm: 30, kWm2: 45, se: 2, discMm: 10 },
      ],
    }
    expect(makeTailMonotone(wide, []).curve[1]!.kWm2).toBe(5)
    expect(makeTailMonotone({ ...wide, worst: spot(9) }, []).worst).toEqual(spot(9))
  })
  test('nothing stays nothing', () => {
    expect(makeTailMonotone(curveOf(), [])).toEqual({ worst: null, curve: [] })
    expect(makeTailMonotone(curveOf(), [focus(10, 5)])).toEqual({ worst: null, curve: [] })
  })
})
