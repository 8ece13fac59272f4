// The short way has the full walk's bits where it is taken, leaves everything as it was where not, and is taken just where the full walk did
// nothing but refract at the flat side and at its ring's facet, on a way that can be told to be clear without a root.
import { describe, expect, test } from 'vitest'
import { passDirect } from '../../../src/optics/direct.ts'
import { draw, drawAt, seedStream } from '../../../src/optics/draws.ts'
import { passFresnel } from '../../../src/optics/grooves.ts'
import { fresnelMean } from '../../../src/optics/interface.ts'
import * as P from '../../../src/optics/params.ts'
import { DX, LEAVES_WORKED, PATH, RISER, W, X } from '../../../src/optics/records.ts'
import { slopeToSource, slopeToTarget } from '../../../src/optics/slopes.ts'
import { type Grooves, grooveTables, rayAt } from '../../kit/lensBench.ts'
import { along, bent, type V } from '../../kit/vectors.ts'

const N = 1.49
interface Case extends Partial<Grooves> {
  spread: number
  toSource?: boolean
  steep?: boolean
}
const CASES: Case[] = [
  { spread: 30, draftRad: 0 },
  { spread: 200, draftRad: 0.05 },
  { spread: 200, draftRad: 0.4, square: true },
  { spread: 800, draftRad: 0, square: true },
  { spread: 100, draftRad: 0.2, toSource: true },
  { spread: 300, draftRad: 0.4, steep: true },
]

/** Where the ray in glass meets r = q0 − z/tan, upward from z = 0: a bisection, as r − q rises from below 0. */
function facet(at: V, d: V, q0: number, tan: number): V | null {
  const gap = (s: number) => Math.hypot(at[0] + s * d[0], at[1] + s * d[1]) - (q0 - (s * d[2]) / tan)
  let [low, high] = [0, (q0 * tan) / d[2]]
  if (gap(high) < 0) return null
  for (let i = 0; i < 60; i++) {
    const mid = (low + high) / 2
    if (gap(mid) < 0) low = mid
    else high = mid
  }
  return along(at, d, low)
}

describe.each(CASES)('spread $spread, draft $draftRad, square $square, to the source $toSource, steep $steep', (o) => {
  test('the same bits, taken just where nothing else happens', () => {
    const pitch = 5
    const tables = grooveTables({
      halfMm: 57,
      thicknessMm: 3,
      pitchMm: pitch,
      absorption: 0.004,
      slopes: Array.from({ length: 11 }, (_, k) =>
        o.steep
          ? 0.2 + 0.1 * k
          : o.toSource
            ? slopeToSource((k + 0.5) * pitch, 80, N)
            : slopeToTarget((k + 0.5) * pitch, 80, 3, N),
      ),
      ...o,
    })
    const p = Float32Array.from(tables.p)
    const rings = Float32Array.from(tables.rings)
    const stream = new Int32Array(3)
    let taken = 0
    for (let i = 0; i < 150; i++) {
      seedStream(stream, 7, 0, i)
      const r = 60 * (o.square ? 1.2 : 1) * Math.sqrt(draw(stream))
      const phi = 2 * Math.PI * draw(stream)
      const [x, y] = [r * Math.cos(phi), r * Math.sin(phi)]
      const ray = rayAt([x, y, -3], [x + o.spread * (draw(stream) - 0.5), y + o.spread * (draw(stream) - 0.5), 80], N)
      const begun = stream.slice()
      const before = ray.slice()
      const full = ray.slice()
      const walked = stream.slice()
      const outcome = passFresnel(full, walked, p, rings, false)
      const went = passDirect(ray, stream, p, rings)
      if (went) {
        taken++
        expect(outcome).toBe(LEAVES_WORKED)
        expect([...ray, ...stream]).toEqual([...full, ...walked])
      } else expect([...ray, ...stream]).toEqual([...before, ...begun])

      // Two draws, no riser: it met two surfaces. Then the ring, and whether it stayed in it on its way up, by geometry.
      const d = [...before.subarray(DX, DX + 3)] as unknown as V
      const glass = bent(d, [0, 0, -1], 1 / N)!
      const valley = along([x, y, -3], glass, 3 / glass[2])
      const ring = Math.floor(Math.hypot(valley[0], valley[1]) / pitch)
      let plain =
        outcome === LEAVES_WORKED && full[RISER] === 0 && walked[2]! - begun[2]! === 2 && ring > 0 && ring < 11
      if (plain) {
        const tan = tables.rings[ring * 5]!
        const on = facet(valley, glass, (ring + 1) * pitch, tan)!
        const out = [...full.subarray(X, X + 3)] as unknown as V
        // In air: outward all the way, or inward all the way, and within the ring.
        const radii = Array.from({ length: 51 }, (_, k) =>
          Math.hypot(on[0] + ((out[0] - on[0]) * k) / 50, on[1] + ((out[1] - on[1]) * k) / 50),
        )
        const rises = radii.every((q, k) => k === 0 || q >= radii[k - 1]!)
        const falls = radii.every((q, k) => k === 0 || q <= radii[k - 1]!)
        const inRing = radii.every((q) => q >= ring * pitch - 1e-9 && q <= (ring + 1) * pitch + 1e-9)
        // In glass: steeper than the riser, or going away from its cone from the first.
        const tanDraft = tables.p[P.lensTanDraft]!
        const steep = Math.hypot(glass[0], glass[1]) < glass[2] * tanDraft
        const gap = (s: number) =>
          (valley[0] + s * glass[0]) ** 2 +
          (valley[1] + s * glass[1]) ** 2 -
          (ring * pitch + s * glass[2] * tanDraft) ** 2
        // Total reflection takes no draw: the path in glass tells whether there was one.
        const once = Math.abs(full[PATH]! - 3 / glass[2] - Math.hypot(...along(on, valley, -1))) < 1e-4
        const byTop = out[2] === p[P.lensLayer] // not over the border
        plain = byTop && once && (rises || falls) && inRing && (steep || gap(1e-6) >= gap(0))
      }
      expect(went, `ray ${i}`).toBe(plain)
    }
    expect(taken).toBeGreaterThan(5)
  })
})

describe('left to the full walk', () => {
  const lens = (over: Partial<Grooves> = {}) =>
    grooveTables({ halfMm: 30, thicknessMm: 2, pitchMm: 10, slopes: [0.2, 0.3, 0.35], absorption: 0.01, ...over })
  /** True or false by the short way, over many draws. */
  function ways(at: V, d: V, over: Partial<Grooves> = {}, index = N): Set<boolean> {
    const { p, rings } = lens(over)
    const stream = new Int32Array(3)
    const seen = new Set<boolean>()
    for (let i = 0; i < 100; i++) {
      seedStream(stream, 1, 0, i)
      const ray = rayAt(at, d, index)
      const before = ray.slice()
      const begun = stream.slice()
      const went = passDirect(ray, stream, p, rings)
      seen.add(went)
      if (!went) expect([...ray, ...stream]).toEqual([...before, ...begun])
      else {
        const outcome = passFresnel(before, begun, p, rings, false)
        expect([outcome, ...before, ...begun]).toEqual([LEAVES_WORKED, ...ray, ...stream])
      }
    }
    return seen
  }
  test('straight up in ring 1: now and then reflected, else through', () =>
    expect(ways([15, 0, -2], [0, 0, 1])).toEqual(new Set([true, false])))
  test('the first ring, which has no inner edge', () => expect(ways([5, 0, -2], [0, 0, 1])).toEqual(new Set([false])))
  test('rounded tips', () => expect(ways([15, 0, -2], [0, 0, 1], { tipShare: 0.1 })).toEqual(new Set([false])))
  test('beyond the last ring', () => expect(ways([32, 0, -2], [0, 0, 1], { halfMm: 40 })).toEqual(new Set([false])))
  test('at the first place beyond the last ring', () =>
    expect(ways([30, 0, -2], [0, 0, 1], { halfMm: 40 })).toEqual(new Set([false])))
  test('the aperture’s edge belongs to it, round and square', () => {
    for (const square of [true, false]) {
      expect(ways([25, 0, -2], [0, 0, 1], { halfMm: 25, square }).has(true)).toBe(true)
      expect(ways([0, -25, -2], [0, 0, 1], { halfMm: 25, square }).has(true)).toBe(true)
      expect(ways([25.01, 0, -2], [0, 0, 1], { halfMm: 25, square }).has(true)).toBe(false)
      expect(ways([0, -25.01, -2], [0, 0, 1], { halfMm: 25, square }).has(true)).toBe(false)
      expect(ways([19, 19, -2], [0, 0, 1], { halfMm: 25, square }).has(true)).toBe(square)
    }
  })
  test('total reflection at a steep facet', () =>
    expect(ways([15, 0, -2], [0, 0, 1], { slopes: [0.2, 1, 0.35] })).toEqual(new Set([false])))
  test('no facet within reach: a facet and ray that part', () =>
    expect(ways([15, 0, -2], [-0.9, 0, 0.3], { slopes: [0.2, 1.5, 0.2] }, 1.05)).toEqual(new Set([false])))
  test('at the valley itself', () => {
    // r is the outer edge of ring 1, for which rounding decides which ring it is: the short way may be taken or not, its bits hold.
    ways([20, 0, -2], [0, 0, 1])
    ways([19.999999999999996, 0, -2], [0, 0, 1])
  })
  test('along the flat side: reflected', () => expect(ways([15, 0, -2], [1, 0, 0])).toEqual(new Set([false])))
  test('against the flat side’s normal by rounding: reflected', () =>
    expect(ways([15, 0, -2], [1, 0, -1e-9])).toEqual(new Set([false])))
  test('the middle of a draw’s cell decides, at the flat side and at the facet', () => {
    const stream = new Int32Array(3)
    const counts = [0, 0]
    for (let i = 0; i < 150; i++) {
      for (const surface of [0, 1]) {
        seedStream(stream, 5, 0, i)
        const draws = [drawAt(stream, 8), drawAt(stream, 9)] as const
        const { p, rings } = lens()
        const shares = (n: number) => [fresnelMean(1, 1, n), fresnelMean(Math.cos(0.3), n, 1)] as const
        // The index at which this surface's reflectance lies half a cell below its draw; the other's must lie well below its own.
        let [low, high] = [1.001, 2.5]
        for (let step = 0; step < 60; step++) {
          const mid = (low + high) / 2
          if (shares(mid)[surface]! < draws[surface]! - 2 ** -25) low = mid
          else high = mid
        }
        if (high === 2.5 || low === 1.001 || shares(low)[1 - surface]! > draws[1 - surface]! - 0.01) continue
        counts[surface]!++
        expect(passDirect(rayAt([15, 0, -2], [0, 0, 1], low), stream, p, rings)).toBe(true)
      }
    }
    for (const count of counts) expect(count).toBeGreaterThan(3)
  })
  test('the weight is dimmed by the path in glass', () => {
    const { p, rings } = lens({ absorption: 0.02 })
    const stream = new Int32Array(3)
    seedStream(stream, 1, 0, 3)
    const ray = rayAt([15, 0, -2], [0, 0, 1], N)
    expect(passDirect(ray, stream, p, rings)).toBe(true)
    const path = 2 + 5 * Math.tan(0.3)
    expect(Math.abs(ray[W]! - Math.exp(-0.02 * path))).toBeLessThan(1e-6)
    expect(p[P.lensRings]).toBe(3)
  })
})
