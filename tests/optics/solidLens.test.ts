import { describe, expect, test } from 'vitest'
import { seededRandom } from '../../src/num/rng.ts'
import { draw, seedStream } from '../../src/optics/draws.ts'
import { fresnelMean } from '../../src/optics/interface.ts'
import * as P from '../../src/optics/params.ts'
import { DX, ENDS_AT_LIMIT, ENDS_AT_RIM, LEAVES_FLAT, LEAVES_WORKED, X } from '../../src/optics/records.ts'
import { expectWithin, seeds } from '../kit/expect.ts'
import { type LensTables, pass, rayAt, solidTables, type Vec } from '../kit/lensBench.ts'

const N = 1.5168
const near = { abs: 1e-9, because: 'rounding over some crossings' }
type V = [number, number, number]

/**
 * The same lens by the formula of a sphere about its centre (0, 0, −R), in glass or in air; draws in the same order. Gives where and how the
 * ray leaves.
 */
function slowSphere(lens: LensTables, radius: number, at: V, d: V, stream: Int32Array, fromCurved: boolean) {
  const half = lens.p[P.lensHalf]!
  const thickness = lens.p[P.lensThickness]!
  let path = 0
  let glass = false
  const step = (s: number) => {
    at = [0, 1, 2].map((k) => at[k]! + s * d[k]!) as V
    if (glass) path += s
  }
  const meet = (normal: V) => {
    const side = d[0] * normal[0] + d[1] * normal[1] + d[2] * normal[2] > 0 ? -1 : 1
    const m = normal.map((v) => v * side) as V
    const cos = -(d[0] * m[0] + d[1] * m[1] + d[2] * m[2])
    const eta = glass ? N : 1 / N
    const sin2 = eta * eta * (1 - cos * cos)
    if (sin2 < 1 && draw(stream) >= fresnelMean(cos, glass ? N : 1, glass ? 1 : N)) {
      const out = Math.sqrt(1 - sin2)
      d = [0, 1, 2].map((k) => eta * (d[k]! + cos * m[k]!) - out * m[k]!) as V
      glass = !glass
    } else d = [0, 1, 2].map((k) => d[k]! + 2 * cos * m[k]!) as V
  }
  const ends = (outcome: number) => ({ outcome, at, d, path })
  /** Both meetings with the sphere. */
  const sphere = () => {
    const c: V = [at[0], at[1], at[2] + radius]
    const b = c[0] * d[0] + c[1] * d[1] + c[2] * d[2]
    const disc = b * b - (c[0] ** 2 + c[1] ** 2 + c[2] ** 2 - radius ** 2)
    return disc < 0 ? [] : [-b - Math.sqrt(disc), -b + Math.sqrt(disc)]
  }
  const outward = () => at.map((v, k) => (k === 2 ? v + radius : v) / radius) as V

  if (fromCurved) {
    const hit = sphere().filter((s) => s > 0)[0]
    if (hit === undefined) return ends(ENDS_AT_RIM)
    step(hit)
    if (Math.hypot(at[0], at[1]) > half) return ends(ENDS_AT_RIM)
    meet(outward())
    if (!glass) return ends(LEAVES_WORKED)
  } else {
    meet([0, 0, 1])
    if (!glass) return ends(LEAVES_FLAT)
  }
  for (let i = 0; i < 250; i++) {
    const curved = sphere().filter((s) => s > 1e-9)
    const toCurve = curved[curved.length - 1] ?? 1e30
    const toFlat = d[2] < 0 ? (-thickness - at[2]) / d[2] : 1e30
    const dr2 = d[0] ** 2 + d[1] ** 2
    const rd = at[0] * d[0] + at[1] * d[1]
    const toRim = (-rd + Math.sqrt(Math.max(0, rd * rd - dr2 * (at[0] ** 2 + at[1] ** 2 - half * half)))) / dr2
    const s = Math.min(toCurve, toFlat)
    if (toRim < s) {
      path += toRim
      return ends(ENDS_AT_RIM)
    }
    step(s)
    meet(toFlat < toCurve ? [0, 0, 1] : outward())
    if (!glass) return ends(toFlat < toCurve ? LEAVES_FLAT : LEAVES_WORKED)
  }
  return ends(ENDS_AT_LIMIT)
}

describe.each(seeds(10))('a spherical lens by the sphere’s own formula, seed %i', (seed) => {
  test('fate, place, direction, path', () => {
    const random = seededRandom(seed)
    const radius = 60 + 100 * random()
    const halfMm = 40
    const sag = radius - Math.sqrt(radius ** 2 - halfMm ** 2)
    const lens = solidTables({
      halfMm,
      thicknessMm: sag + 5 * random() + 0.5,
      radiusMm: radius,
      conic: 0,
      absorption: 0.01,
    })
    const fates = new Map<number, number>()
    for (let i = 0; i < 1000; i++) {
      const fromCurved = random() < 0.5
      const r = halfMm * Math.sqrt(random())
      const phi = 2 * Math.PI * random()
      const sign = fromCurved ? -1 : 1
      const cos = Math.sqrt(random())
      const turn = 2 * Math.PI * random()
      const sin = Math.sqrt(1 - cos * cos)
      const from: Vec = [r * Math.cos(phi), r * Math.sin(phi), fromCurved ? 0 : -lens.p[P.lensThickness]!]
      const ray = rayAt(from, [sin * Math.cos(turn), sin * Math.sin(turn), sign * cos], N)
      const stream = new Int32Array(3)
      seedStream(stream, seed, 0, i)
      const slow = slowSphere(
        lens,
        radius,
        [...ray.subarray(X, X + 3)] as V,
        [...ray.subarray(DX, DX + 3)] as V,
        stream,
        fromCurved,
      )
      const fast = pass(lens, ray, fromCurved, seed, i)
      expect(fast.outcome, `ray ${i}`).toBe(slow.outcome)
      fates.set(fast.outcome, (fates.get(fast.outcome) ?? 0) + 1)
      expectWithin(fast.pathMm, slow.path, { abs: 1e-6, because: 'the short series for the exponential' })
      if (fast.outcome === ENDS_AT_RIM) continue
      for (const k of [0, 1, 2] as const) {
        expectWithin(fast.at[k], slow.at[k], near)
        expectWithin(fast.towards[k], slow.d[k], near)
      }
    }
    for (const outcome of [LEAVES_WORKED, LEAVES_FLAT, ENDS_AT_RIM]) expect(fates.get(outcome) ?? 0).toBeGreaterThan(10)
  })
})

describe('conics: a ray that gets through met the surface where its equation says', () => {
  test.each([-3, -2.3, -1, -0.4, 0, 0.8])('conic constant %f', (conic) => {
    const lens = solidTables({ halfMm: 30, thicknessMm: 14, radiusMm: 60, conic })
    const random = seededRandom(1000 + conic * 10)
    let through = 0
    for (let i = 0; i < 500; i++) {
      const x = 40 * random() - 20
      const y = 40 * random() - 20
      const out = pass(lens, rayAt([x, y, -14], [0.3 * random() - 0.15, 0.3 * random() - 0.15, 1], N), false, 3, i)
      if (out.outcome !== LEAVES_WORKED) continue
      through++
      const r2 = out.at[0] ** 2 + out.at[1] ** 2
      // ISO 10110-12: z = c r² / (1 + √(1 − (1 + K) c² r²))
      const sag = r2 / 60 / (1 + Math.sqrt(1 - ((1 + conic) * r2) / 3600))
      expectWithin(out.at[2], -sag, near)
      expectWithin(Math.hypot(...out.towards), 1, near)
    }
    expect(through).toBeGreaterThan(400)
  })
})
