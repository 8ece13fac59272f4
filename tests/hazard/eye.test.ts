import { describe, expect, test } from 'vitest'
import {
  blueSeconds,
  FIELDS_RAD,
  type FieldRadiance,
  makeEyeRays,
  readEye,
  thermalSeconds,
} from '../../src/hazard/eye.ts'
import { keepAwayMm } from '../../src/hazard/eyeSheet.ts'
import { peakPerWatt, sourceRadiance } from '../../src/hazard/sourceRadiance.ts'
import { stileLamp } from '../../src/library/demos.ts'
import { blueLightWeight, retinalThermalWeight } from '../../src/library/eyeWeights.ts'
import { expectWithin } from '../kit/expect.ts'
import { direction, drawnRun, onDisc } from '../kit/handRun.ts'

const WATTS = 100
const NO_BOUND = { blueWm2sr: 1e12, thermalWm2sr: 1e12 }

/** A Lambertian disc of radius R at the front, 555 nm: the same radiance from everywhere, Φ/(π A). */
const disc = (radiusMm: number) =>
  makeEyeRays(
    drawnRun({
      rays: 200_000,
      emittedLm: WATTS * 300,
      draw: (u) => ({
        fate: 'delivered',
        at: [...onDisc(u(0), u(1), radiusMm), 0],
        towards: direction(Math.asin(Math.sqrt(u(2) * 0.999999)), 2 * Math.PI * u(3)),
      }),
    }),
    0,
  )
const radiance = (radiusMm: number) => WATTS / (Math.PI * Math.PI * (radiusMm / 1000) ** 2)
const at = (distanceMm: number, xMm = 0) => ({ xMm, yMm: 0, distanceMm })

describe('a Lambertian disc', () => {
  test('fills the field: its own radiance, weighted by B and R of 555 nm', () => {
    const rays = disc(100)
    const { fields } = readEye(rays, at(300), 0, NO_BOUND, 0.03)
    const wide = fields.at(-1)!
    expectWithin(wide.thermalWm2sr, radiance(100) * retinalThermalWeight(555), {
      rel: 0.35,
      because: 'upper end of some hundred rays, and the fullest of many fields',
    })
    expect(wide.thermalWm2sr).toBeGreaterThan(0.9 * radiance(100))
    expectWithin(wide.blueWm2sr / wide.thermalWm2sr, blueLightWeight(555), { rel: 1e-3, because: 'one wavelength' })
  })
  test('fills a part of the field: as much less', () => {
    const rays = disc(5)
    const share = (10 / 500 / 0.1) ** 2
    const wide = readEye(rays, at(500), 0, NO_BOUND, 0.05).fields.at(-1)!
    expectWithin(wide.thermalWm2sr, radiance(5) * share, { rel: 0.15, because: 'upper end of a thousand rays' })
    expect(wide.thermalWm2sr).toBeGreaterThan(0.95 * radiance(5) * share)
  })
  test('from 45° to the side its radiance is the same', () => {
    const wide = readEye(disc(100), at(400, 400), 45, NO_BOUND, 0.06).fields.at(-1)!
    expectWithin(wide.thermalWm2sr, radiance(100), { rel: 0.5, because: 'upper end; the field is cut by 1/cos' })
    expect(wide.thermalWm2sr).toBeGreaterThan(0.5 * radiance(100))
  })
  test('never more than the source’s own radiance; never darker in a narrower field', () => {
    const bound = { blueWm2sr: 0.004 * radiance(100), thermalWm2sr: 0.7 * radiance(100) }
    const rays = disc(100)
    for (const d of [200, 700, 5000, 100_000]) {
      const { fields } = readEye(rays, at(d), 0, bound, 0.03)
      for (const [k, f] of fields.entries()) {
        expect(f.thermalWm2sr).toBeLessThanOrEqual(bound.thermalWm2sr)
        expect(f.blueWm2sr).toBeLessThanOrEqual(bound.blueWm2sr)
        if (k > 0) expect(f.thermalWm2sr).toBeLessThanOrEqual(fields[k - 1]!.thermalWm2sr)
      }
    }
  })
})

describe('limits', () => {
  const even = (blue: number, thermal: number): FieldRadiance[] =>
    FIELDS_RAD.map((fieldRad) => ({ fieldRad, blueWm2sr: blue, thermalWm2sr: thermal }))
  test('blue light: 10⁶ J/m²sr', () => {
    expectWithin(blueSeconds(even(1e7, 0))!, 0.1, { abs: 1e-9, because: 'rounding' })
    expectWithin(blueSeconds(even(2e4, 0))!, 50, { abs: 1e-9, because: 'rounding' })
    expectWithin(blueSeconds(even(200, 0))!, 5000, { abs: 1e-9, because: 'rounding' })
    expect(blueSeconds(even(99, 0))).toBeNull()
  })
  test('retinal heat of a source of 100 mrad, row 4.51: 707,107 W/m²sr to 0.25 s, 281,171 to 10 s', () => {
    expectWithin(thermalSeconds(even(0, 707_107 * 1.001))!, 0.25, { abs: 0.002, because: 'printed digits' })
    expectWithin(thermalSeconds(even(0, 281_171 * 1.001))!, 10, { abs: 0.1, because: 'printed digits, fourth power' })
    expect(thermalSeconds(even(0, 281_171 * 0.999))).toBeNull()
  })
  test('more light never allows a longer exposure', () => {
    let [b, t] = [Infinity, Infinity]
    for (let l = 10; l < 1e9; l *= 1.31) {
      const fields = even(l, l)
      const [nb, nt] = [blueSeconds(fields) ?? Infinity, thermalSeconds(fields) ?? Infinity]
      expect(nb).toBeLessThanOrEqual(b)
      expect(nt).toBeLessThanOrEqual(t)
      ;[b, t] = [nb, nt]
    }
  })
  test('keep away: past the last distance at which the limit comes too soon', () => {
    const reading = (distanceMm: number, seconds: number | null) =>
      ({ distanceMm, blueSeconds: seconds, thermalSeconds: null }) as never
    const limit = (r: { blueSeconds: number | null }) => r.blueSeconds ?? Infinity
    expect(keepAwayMm([reading(200, 1), reading(400, 30), reading(800, null)], limit, 10)).toBe(400)
    expect(keepAwayMm([reading(200, 50), reading(400, 70)], limit, 10)).toBe(0)
    expect(keepAwayMm([reading(200, 1), reading(400, 2.5)], limit, 10)).toBe(800)
  })
})

describe('the emitters’ own radiance', () => {
  test('a Lambertian watt from a square metre: 1/π; a narrower profile is brighter', () => {
    expectWithin(peakPerWatt({ kind: 'cosine', fwhmDeg: 120 }), 1 / Math.PI, { rel: 1e-4, because: 'quadrature' })
    expect(peakPerWatt({ kind: 'gaussian', fwhmDeg: 20 })).toBeGreaterThan(5)
    const flat = { kind: 'table' as const, thetaDeg: [0, 90], intensity: [1, 1] }
    expectWithin(peakPerWatt(flat), 1 / (2 * Math.PI) / Math.cos((80 * Math.PI) / 180), {
      rel: 0.01,
      because: 'to 80°',
    })
  })
  test('the brightest emitter decides, in proportion to its watts', () => {
    const lamp = stileLamp()
    const one = sourceRadiance(lamp, new Float64Array(7).fill(1))
    const uneven = sourceRadiance(lamp, Float64Array.of(1, 1, 1, 3, 1, 1, 1))
    expectWithin(uneven.blueWm2sr, 3 * one.blueWm2sr, { rel: 1e-12, because: 'rounding' })
    expectWithin(one.thermalWm2sr, (1 / Math.PI / 1.96e-6) * 1, { rel: 4, because: 'R is 1 to 10' })
  })
})
