// The small functions: cone distances, turns, the face, the ideal lens, slopes, the choice of emitter and wavelength.
import { describe, expect, test } from 'vitest'
import { seededRandom } from '../../src/num/rng.ts'
import { coneAcross, coneIn, coneOut, NEVER } from '../../src/optics/cone.ts'
import { chooseWavelength, whichEmitter } from '../../src/optics/emission.ts'
import { insideFace } from '../../src/optics/face.ts'
import { passIdeal } from '../../src/optics/idealLens.ts'
import * as P from '../../src/optics/params.ts'
import { DX, DY, DZ, INDEX, LUM, NM_COUNT, QUANTILES, RAY_SIZE, TX, TY, WAVELENGTH } from '../../src/optics/records.ts'
import { slopeToSource, slopeToTarget } from '../../src/optics/slopes.ts'
import { quarterTurn, shareOfTurn, turnOf } from '../../src/optics/turn.ts'
import { expectShares } from '../kit/chi2.ts'
import { expectWithin } from '../kit/expect.ts'
import { doubles, rayAt } from '../kit/lensBench.ts'

test('cone distances: the first change of side along the ray, found by small steps', () => {
  const random = seededRandom(4)
  let [outs, ins, across] = [0, 0, 0]
  for (let i = 0; i < 3000; i++) {
    const q0 = 3 * random() - 1
    const q1 = 2 * random() - 1
    const o = [4 * random() - 2, 4 * random() - 2, 4 * random() - 2] as const
    const ray = rayAt(o, [random() - 0.5, random() - 0.5, random() - 0.5], 1)
    const [dx, dy, dz] = [ray[DX]!, ray[DY]!, ray[DZ]!]
    const q = (t: number) => q0 + q1 * (o[2] + t * dz)
    const f = (t: number) => (o[0] + t * dx) ** 2 + (o[1] + t * dy) ** 2 - q(t) ** 2
    const a = dx * dx + dy * dy - (q1 * dz) ** 2
    const b = o[0] * dx + o[1] * dy - q(0) * q1 * dz
    const c = f(0)
    let first = NEVER
    let second = NEVER
    for (let t = 0; t < 20 && second === NEVER; t += 0.002) {
      if (f(t) > 0 === f(t + 0.002) > 0) continue
      if (first === NEVER) first = t
      else second = t
    }
    const got = c <= 0 ? coneOut(a, b, c) : coneIn(a, b, c)
    if (first < 19) {
      expectWithin(got, first + 0.001, { abs: 0.0011, because: 'steps of 0.002' })
      if (c <= 0) outs++
      else ins++
    } else if (got < 19) expectWithin(f(got), 0, { abs: 1e-5, because: 'it grazes between two steps' })
    if (c < 0 && a < 0 && second < 19) {
      across++
      expectWithin(coneAcross(a, b, c), second + 0.001, { abs: 0.0011, because: 'steps of 0.002' })
    }
  }
  for (const count of [outs, ins, across]) expect(count).toBeGreaterThan(20)
})

test('turns: cosine and sine to 1e-9, and the share of a turn back to 1e-6', () => {
  const ray = new Float64Array(RAY_SIZE)
  for (let i = 0; i <= 4000; i++) {
    const u = i / 4000
    turnOf(ray, u)
    expectWithin(ray[TX]!, Math.cos(2 * Math.PI * u), { abs: 1e-9, because: 'series to x¹⁰ and x¹¹' })
    expectWithin(ray[TY]!, Math.sin(2 * Math.PI * u), { abs: 1e-9, because: 'series to x¹⁰ and x¹¹' })
    const back = shareOfTurn(3 * ray[TX]!, 3 * ray[TY]!)
    expect(back).toBeGreaterThanOrEqual(0)
    expect(back).toBeLessThan(1 + 1e-12)
    const off = Math.abs(back - (u % 1))
    expectWithin(Math.min(off, 1 - off), 0, { abs: 1e-6, because: 'a polynomial good to 2e-6 rad' })
  }
  quarterTurn(ray, -0.5)
  expectWithin(ray[TY]!, Math.sin(-0.5), { abs: 1e-9, because: 'series' })
})

test('the face: round, square, hexagon across flats', () => {
  const none = new Float32Array(0)
  for (const [shape, area] of [
    [0, Math.PI],
    [1, 4],
    [2, 2 * Math.sqrt(3)],
  ] as const) {
    let inside = 0
    const n = 700
    for (let i = 0; i < n; i++)
      for (let k = 0; k < n; k++)
        if (insideFace((2.4 * (i + 0.5)) / n - 1.2, (2.4 * (k + 0.5)) / n - 1.2, shape, 1, 0, none)) inside++
    expectWithin((inside * 5.76) / (n * n), area, { rel: 4e-3, because: 'a grid of 700: half a cell on each side' })
    expect(insideFace(0.9999, 0, shape, 1, 0, none)).toBe(true)
    expect(insideFace(1.0001, 0, shape, 1, 0, none)).toBe(false)
  }
})

test('ideal lens: one way and back again is no lens', () => {
  const p = doubles(P.size)
  p[P.lensFocal] = 120
  const random = seededRandom(5)
  for (let i = 0; i < 500; i++) {
    const ray = rayAt([80 * random(), -50 * random(), 7], [random() - 0.5, random() - 0.5, random() + 0.1], 1)
    const before = ray.slice(DX, DZ + 1)
    passIdeal(ray, p)
    for (const k of [DX, DY, DZ]) ray[k]! *= -1
    passIdeal(ray, p)
    for (const [k, v] of before.entries()) expectWithin(ray[DX + k]!, -v, { abs: 1e-12, because: 'reversible' })
  }
})

describe('slopes, by their defining equations', () => {
  test.each([5, 60, 240, 600])('r %i', (r) => {
    const [f, t, n] = [300, 5, 1.5]
    // Grooves to the target: refract at the flat side, then at the slope; the ray leaves along the axis.
    const alpha = slopeToTarget(r, f, t, n)
    // n sin(α − θ') = sin α gives θ'; back to θ and to r.
    const inside = alpha - Math.asin(Math.sin(alpha) / n)
    const outside = Math.asin(n * Math.sin(inside))
    expectWithin(f * Math.tan(outside) + t * Math.tan(inside), r, {
      rel: 1e-9,
      because: 'rounding, at a steep ray more of it',
    })
    const beta = slopeToSource(r, f, n)
    expectWithin(Math.sin(Math.atan2(r, f) + beta), n * Math.sin(beta), { abs: 1e-14, because: 'rounding' })
  })
})

test('emitters by the alias table, wavelengths by quantiles', () => {
  // Shares 0.5, 0.3, 0.2 in an alias table worked by hand: cells of 1/3; 1: 0.9 own, rest 0; 2: 0.6 own, rest 0.
  const emitters = Float32Array.from(
    [
      [0, 0, 1, 0, 0, 1, 0, 0],
      [0, 0, 1, 0, 0, 0.9, 0, 0],
      [0, 0, 1, 0, 0, 0.6, 0, 0],
    ].flat(),
  )
  const counts = new Float64Array(3)
  for (let i = 0; i < 30_000; i++) counts[whichEmitter((i + 0.5) / 30_000, emitters, 3)]!++
  expectShares(counts, [0.5, 0.3, 0.2])
  expectWithin(counts[0]!, 15_000, { abs: 2, because: 'even numbers' })

  const ray = new Float64Array(RAY_SIZE)
  const quantiles = Float32Array.from({ length: QUANTILES + 1 }, (_, i) => 400 + (200 * i) / QUANTILES)
  const index = Float32Array.from({ length: NM_COUNT }, (_, i) => 1.5 - i / 1000)
  const lum = Float32Array.from({ length: NM_COUNT }, (_, i) => i)
  for (let i = 0; i < 1000; i++) {
    const u = (i + 0.5) / 1000
    chooseWavelength(ray, Float64Array.of(0, 0, 0, 0, 0, u), quantiles, 0, index, lum)
    expectWithin(ray[WAVELENGTH]!, 400 + 200 * u, { abs: 1e-4, because: 'single precision' })
    const s = (ray[WAVELENGTH]! - 380) / 5
    expectWithin(ray[INDEX]!, 1.5 - s / 1000, { abs: 1e-6, because: 'single precision' })
    expectWithin(ray[LUM]!, s, { abs: 1e-4, because: 'single precision' })
  }
})
