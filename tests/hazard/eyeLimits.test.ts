import { describe, expect, test } from 'vitest'
import {
  blueSeconds,
  FIELDS_RAD,
  type FieldRadiance,
  GLASSES,
  greatestHeat,
  radianceWithin,
  thermalSeconds,
  throughGlasses,
} from '../../src/hazard/eyeLimits.ts'
import { expectWithin } from '../kit/expect.ts'

const NO_BOUND = { blueWm2sr: 1e15, thermalWm2sr: 1e15 }
const fieldsOf = (blue: (rad: number) => number, thermal = blue): FieldRadiance[] =>
  FIELDS_RAD.map((fieldRad) => ({
    ...{ fieldRad, blueWm2sr: blue(fieldRad), thermalWm2sr: thermal(fieldRad), by: 'rays' as const },
  }))
const even = (blue: number, thermal: number) =>
  fieldsOf(
    () => blue,
    () => thermal,
  )
/** A source smaller than every field: its radiance in a field falls with the field's area. */
const point = (at100mrad: number) => fieldsOf((rad) => at100mrad * (0.1 / rad) ** 2)
const rounding = (abs: number) => ({ abs, because: 'rounding' })

describe('blue light', () => {
  test('an even source: 10⁶ J/m²sr (row 4.50)', () => {
    expectWithin(blueSeconds(even(1e7, 0), NO_BOUND)!, 0.1, rounding(1e-9))
    expectWithin(blueSeconds(even(2e6, 0), NO_BOUND)!, 0.5, rounding(1e-9))
    expectWithin(blueSeconds(even(2e4, 0), NO_BOUND)!, 50, rounding(1e-9))
    expectWithin(blueSeconds(even(200, 0), NO_BOUND)!, 5000, rounding(1e-9))
    // The field of 100 mrad holds from 8264 s to 10,000 s.
    expectWithin(blueSeconds(even(110, 0), NO_BOUND)!, 1e6 / 110, rounding(1e-9))
    expectWithin(blueSeconds(even(100.5, 0), NO_BOUND)!, 1e6 / 100.5, rounding(1e-9))
    expect(blueSeconds(even(100, 0), NO_BOUND)).toBeNull()
    expect(blueSeconds(even(99, 0), NO_BOUND)).toBeNull()
  })
  test('a small source: irradiance of 100 J/m² to 100 s, 1 W/m² beyond (IEC 62471:2006, small source; memory): as one field', () => {
    // 11 mrad hold 9.503e-5 sr: E_B = 2 W/m² is 21,045 W/m²sr there, a limit of 47.5 s; the standard's rounded 100 J/m² gives 50 s.
    const ofIrradiance = (wm2: number) => point(wm2 / ((Math.PI / 4) * 0.01))
    expectWithin(blueSeconds(ofIrradiance(2), NO_BOUND)!, 47.517, { rel: 2e-3, because: 'the printed digits' })
    // Beyond 100 s the field grows with √t: what is within the limit then stays so.
    expect(blueSeconds(ofIrradiance(0.96), NO_BOUND)).toBeGreaterThan(90)
    expect(blueSeconds(ofIrradiance(0.78), NO_BOUND)).toBeNull()
  })
  test('between 0.25 and 10 s the field grows from 1.7 to 11 mrad: an image of 4 mrad', () => {
    // L over 4 mrad counts until 0.25 (4/1.7)² = 1.38 s; 9e5 W/m²sr would take 1.11 s.
    const image = fieldsOf((rad) => 9e5 * Math.min(1, (0.004 / rad) ** 2))
    const source = { ...NO_BOUND, blueWm2sr: 9e5 }
    expectWithin(blueSeconds(image, source)!, 1e6 / 9e5, { rel: 0.001, because: 'a step of the field' })
  })
})

describe('blue light where the field grows', () => {
  test('from 100 s on the field is 1.1 √t mrad: a point of L 1/rad² has its limit by 100 s, or in the widest field', () => {
    // Over 11 mrad L t = 10⁶ at 99 s; wider fields dilute it as fast as time adds up.
    const at11 = (seconds: number) => point((1e6 / seconds) * (0.011 / 0.1) ** 2)
    expectWithin(blueSeconds(at11(99), NO_BOUND)!, 99, { rel: 1e-9, because: 'rounding' })
    // 101 s over 11 mrad are 101 (100/11)² = 8347 s over 100 mrad; 120 s would be 9917 s, 122 s beyond 10,000 s.
    expectWithin(blueSeconds(at11(101), NO_BOUND)!, 8347.107, { abs: 1e-3, because: 'printed digits' })
    expectWithin(blueSeconds(at11(120), NO_BOUND)!, 9917.355, { abs: 1e-3, because: 'printed digits' })
    expect(blueSeconds(at11(122), NO_BOUND)).toBeNull()
  })
  test('without fields read the source alone bounds it', () => {
    expect(blueSeconds([], { blueWm2sr: 1e7, thermalWm2sr: 0 })).toBe(0.1)
    expect(blueSeconds([], { blueWm2sr: 0, thermalWm2sr: 0 })).toBeNull()
  })
  test('an even disc of 35 mrad, 1,000 W/m²sr: 1000 s while the field is 34.8 mrad', () => {
    const disc = (l: number) => fieldsOf((rad) => l * Math.min(1, (0.035 / rad) ** 2))
    const of = (l: number) => blueSeconds(disc(l), { blueWm2sr: l, thermalWm2sr: 0 })
    expectWithin(of(1000)!, 1000, { rel: 1e-9, because: 'rounding' })
    // 10⁶/900 = 1111 s, when the field is 36.7 mrad already and dilutes it as fast as time adds up; over 100 mrad 110.25 W/m²sr are left.
    expectWithin(of(900)!, 1e6 / 110.25, { rel: 1e-9, because: 'rounding' })
    expect(of(800)).toBeNull()
  })
})

describe('retinal heat', () => {
  test('a source of 100 mrad, row 4.51: 707,107 W/m²sr to 0.25 s, 281,171 to 10 s', () => {
    expectWithin(thermalSeconds(even(0, 707_107 * 1.001), NO_BOUND)!, 0.25, { abs: 0.002, because: 'printed digits' })
    expectWithin(thermalSeconds(even(0, 500_000), NO_BOUND)!, 1, { rel: 1e-9, because: 'rounding' })
    expectWithin(thermalSeconds(even(0, 281_171 * 1.001), NO_BOUND)!, 10, { abs: 0.1, because: 'fourth power' })
    expect(thermalSeconds(even(0, 281_171 * 0.999), NO_BOUND)).toBeNull()
  })
  test('a source of 11 mrad, row 4.51: 4.545e6 at 1 s, 2.556e6 at 10 s', () => {
    const image = (l: number) => fieldsOf((rad) => l * Math.min(1, (0.011 / rad) ** 2))
    expectWithin(thermalSeconds(image(4.545e6), { ...NO_BOUND, thermalWm2sr: 4.545e6 })!, 1, {
      rel: 0.025,
      because: 'half a per cent of the ladder, to the fourth power',
    })
    expectWithin(thermalSeconds(image(2.57e6), { ...NO_BOUND, thermalWm2sr: 2.57e6 })!, 9.79, {
      rel: 0.025,
      because: 'a step of the ladder, to the fourth power',
    })
    expect(thermalSeconds(image(2.53e6), { ...NO_BOUND, thermalWm2sr: 2.53e6 })).toBeNull()
    // Between two steps the hot side: never later than by the formula.
    expect(thermalSeconds(image(4.545e6), { ...NO_BOUND, thermalWm2sr: 4.545e6 })).toBeLessThanOrEqual(1)
  })
  test('a point: 50,000/(1.7 mrad t^¼) to 0.25 s, and never under 10 µs', () => {
    const l = 50_000 / 0.0017 / 0.1 ** 0.25
    const fields = fieldsOf((rad) => l * (0.0017 / rad) ** 2)
    expectWithin(thermalSeconds(fields, { ...NO_BOUND, thermalWm2sr: l })!, 0.1, {
      rel: 0.025,
      because: 'a step of the ladder',
    })
    expect(thermalSeconds(even(0, 1e12), NO_BOUND)).toBe(1e-5)
    expect(thermalSeconds([], { blueWm2sr: 0, thermalWm2sr: 0 })).toBeNull()
  })
  test('a point that takes 1 s over 1.7 mrad: the eye has moved on by 0.25 s, and wider fields dilute it', () => {
    const l = 50_000 / 0.0017
    const fields = fieldsOf((rad) => l * (0.0017 / rad) ** 2)
    expect(thermalSeconds(fields, { ...NO_BOUND, thermalWm2sr: l })).toBeNull()
  })
  test('the greatest L α: of an even source at 100 mrad; of a point over the least angle asked for', () => {
    expectWithin(greatestHeat(even(0, 30), NO_BOUND, 0.011), 3, rounding(1e-12))
    expect(greatestHeat([], { blueWm2sr: 9, thermalWm2sr: 0 }, 0.0017)).toBe(0)
    const fields = fieldsOf(
      () => 0,
      (rad) => 100 * (0.0017 / rad) ** 2,
    )
    const source = { ...NO_BOUND, thermalWm2sr: 100 }
    // L of the step before: a ladder of 400 steps to 11 mrad.
    const step = (0.011 / 0.0017) ** (1 / 400)
    expectWithin(greatestHeat(fields, source, 0.011), 100 * (0.0017 / 0.011) ** 2 * step ** 2 * 0.011, rounding(1e-12))
    expectWithin(greatestHeat(fields, source, 0.0017), 100 * 0.0017 * step, rounding(1e-12))
  })
})

describe('both', () => {
  test('more light never allows a longer exposure', () => {
    let [b, t] = [Infinity, Infinity]
    for (let l = 10; l < 1e9; l *= 1.07) {
      const fields = fieldsOf((rad) => l * (0.02 / rad) ** 0.7)
      const [nb, nt] = [blueSeconds(fields, NO_BOUND) ?? Infinity, thermalSeconds(fields, NO_BOUND) ?? Infinity]
      expect(nb).toBeLessThanOrEqual(b)
      expect(nt).toBeLessThanOrEqual(t)
      ;[b, t] = [nb, nt]
    }
    expect(b).toBeLessThan(0.25)
  })
  test('radiance between two fields: no more than in the narrower, no more power than in the wider, never over the source', () => {
    const fields = fieldsOf((rad) => (rad < 0.005 ? 1000 : rad < 0.02 ? 500 : 100))
    const within = (rad: number, source = 1e9) =>
      radianceWithin(fields, { blueWm2sr: source, thermalWm2sr: 1 }, rad, 'blueWm2sr')
    expect(within(0.011)).toBe(500)
    expect(within(0.012)).toBe(500)
    expectWithin(within(0.03), 100 * (0.035 / 0.03) ** 2, rounding(1e-9))
    expect(within(0.00085)).toBe(4000)
    expect(within(0.00085, 3000)).toBe(3000)
    expect(within(0.2)).toBe(100)
  })
  test('field glasses: a field shows a seventh of its angle, at the same radiance', () => {
    const far = throughGlasses(point(10), { blueWm2sr: 1e9, thermalWm2sr: 1e9 })
    // A point: 7 × 7 times the light in the same field, until the source's own radiance stops it.
    expectWithin(far.at(-1)!.blueWm2sr, 490, rounding(1e-9))
    expectWithin(
      throughGlasses(even(300, 300), { blueWm2sr: 300, thermalWm2sr: 300 })[0]!.blueWm2sr,
      300,
      rounding(1e-9),
    )
    const bounded = throughGlasses(point(10), { blueWm2sr: 400, thermalWm2sr: 200 }).at(-1)!
    expect([bounded.blueWm2sr, bounded.thermalWm2sr]).toEqual([400, 200])
  })
  test('each weight through the glasses from its own; angles and the rest stay', () => {
    expect(GLASSES).toEqual({ magnification: 7, objectiveMm: 50 })
    const fields = fieldsOf(
      () => 3,
      () => 5,
    )
    expect(throughGlasses(fields, { blueWm2sr: 2, thermalWm2sr: 4 })).toEqual(
      FIELDS_RAD.map((fieldRad) => ({ fieldRad, blueWm2sr: 2, thermalWm2sr: 4, by: 'rays' })),
    )
    expect(FIELDS_RAD).toEqual([0.0017, 0.011, 0.035, 0.1])
  })
})
