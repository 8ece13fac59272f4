import { describe, expect, test } from 'vitest'
import {
  airMass,
  clearSkyWm2,
  hotSunWm2,
  julianDay,
  sunAt,
  sunDeclinationDeg,
  sunLongitude,
  toLampFrame,
  VERY_CLEAR_WM2,
} from '../../src/hazard/solar.ts'
import { expectWithin } from '../kit/expect.ts'

const RAD = Math.PI / 180
const rounding = { abs: 1e-9, because: 'rounding' }

describe('the calendar', () => {
  test('every day of 400 years has the number that the clock of the language counts: 1970 January 1, 0 h UT is 2440587.5 (memory)', () => {
    const from = Date.UTC(1850, 0, 1, 12)
    for (let day = 0; day < 146_097; day += 5) {
      const at = new Date(from + day * 86_400_000)
      const jd = at.getTime() / 86_400_000 + 2_440_587.5
      if (julianDay(at.getUTCFullYear(), at.getUTCMonth() + 1, at.getUTCDate()) !== jd)
        throw new Error(at.toISOString())
    }
  })
  test('either side of the leap day, and of a year that has none for its century (Meeus, chapter 7: 1600 January 1.0 is 2305447.5)', () => {
    expect(julianDay(1600, 1, 1)).toBe(2_305_448)
    expect(julianDay(2024, 3, 1) - julianDay(2024, 2, 28)).toBe(2)
    expect(julianDay(1900, 3, 1) - julianDay(1900, 2, 28)).toBe(1)
    expect(julianDay(2000, 3, 1) - julianDay(2000, 2, 28)).toBe(2)
  })
})

describe('the sun’s longitude a thousand years off', () => {
  // Meeus (25.2) to (25.4), (22.2), (25.8) as printed, power by power, worked apart from the program: so far off every term counts.
  test.each([
    [10, 287.797578409, 23.307885254, -22.131646252],
    [-10, 273.035256588, 23.5711058, -23.536042501],
  ])('%i centuries from 2000', (centuries, longitude, obliquity, declination) => {
    const jd = 2_451_545 + 36_525 * centuries
    const digits = { abs: 2e-9, because: 'printed digits' }
    expectWithin(sunLongitude(jd).apparent, longitude, digits)
    expectWithin(sunLongitude(jd).obliquity, obliquity, digits)
    expectWithin(sunDeclinationDeg(jd), declination, digits)
  })
})

describe('height and azimuth', () => {
  test('Meeus, example 13.b (memory): hour angle 64.352133°, declination −6.719892°, latitude 38.921389°: 15.1249° up, 68.0337° west of south', () => {
    const { upDeg, towardsDeg } = sunAt(38.921389, -6.719892, 12 + 64.352133 / 15)
    expectWithin(upDeg, 15.1249, { abs: 6e-5, because: 'printed digits' })
    expectWithin(towardsDeg, 180 + 68.0337, { abs: 6e-5, because: 'printed digits' })
  })
  test('as far before noon: as high, mirrored at the meridian', () => {
    const [am, pm] = [sunAt(38.921389, -6.719892, 9), sunAt(38.921389, -6.719892, 15)]
    expectWithin(am.upDeg, pm.upDeg, rounding)
    expectWithin(am.towardsDeg + pm.towardsDeg, 360, rounding)
    expect(am.towardsDeg).toBeLessThan(180)
  })
  test('straight overhead and straight underneath, where rounding takes the sine past 1', () => {
    for (const lat of [8, 12, 58, 82]) {
      expect(sunAt(lat, lat, 12).upDeg).toBe(90)
      expect(sunAt(lat, -lat, 0).upDeg).toBe(-90)
    }
  })
})

describe('strength', () => {
  test('air mass at 30°: 1/(0.5 + 0.50572 · 36.07995^−1.6364) = 1.9943 (Kasten and Young, table: 1.9939, memory)', () => {
    expectWithin(airMass(30), 1.9943, { abs: 5e-5, because: 'by hand' })
  })
  test('at 2.7 km, sun overhead, 0.378 of the air’s loss is gone: 1353 (0.622 · 0.70006 + 0.378) = 1100.6 W/m²', () => {
    expectWithin(clearSkyWm2(90, 2700), 1100.57, { abs: 0.02, because: 'by hand' })
    expectWithin(VERY_CLEAR_WM2, 1100.57, { abs: 1, because: 'rounded' })
  })
  test('so high that no air is left, and higher: the solar constant of the formula, 1353 W/m²', () => {
    expect(clearSkyWm2(30, 1000 / 0.14)).toBe(1353)
    expect(clearSkyWm2(30, 10_000)).toBe(1353)
  })
  test('at the horizon nothing, a hair above it something; not a number is night', () => {
    expect([clearSkyWm2(0), clearSkyWm2(-1), clearSkyWm2(Number.NaN)]).toEqual([0, 0, 0])
    expect(clearSkyWm2(0.01)).toBeGreaterThan(10)
  })
  test('traced with at least a very clear day; none where the lamp has no sun', () => {
    expect([0, -5, 1, 900, 1100, 1361].map(hotSunWm2)).toEqual([0, 0, 1100, 1100, 1100, 1361])
  })
})

describe('in the lamp’s frame, by spherical trigonometry', () => {
  test.each([
    [30, 120, 50, 75],
    [-20, 300, 10, 190],
    [75, 10, 5, 350],
    [0, 90, -30, 90],
    [60, 200, 25, 20],
  ])('lens %i° up towards %i°, sun %i° up towards %i°', (e, a, h, b) => {
    const { tiltDeg, azimuthDeg } = toLampFrame({ upDeg: e, towardsDeg: a }, { upDeg: h, towardsDeg: b })
    const [sin, cos] = [(x: number) => Math.sin(x * RAD), (x: number) => Math.cos(x * RAD)]
    // Angle between two directions: law of cosines.
    expectWithin(cos(tiltDeg), sin(e) * sin(h) + cos(e) * cos(h) * cos(b - a), rounding)
    // To the right (east, looking south) and up on the sphere about the axis.
    const right = -cos(h) * sin(b - a)
    const up = sin(h) * cos(e) - cos(h) * sin(e) * cos(b - a)
    expectWithin(sin(tiltDeg) * cos(azimuthDeg), right, rounding)
    expectWithin(sin(tiltDeg) * sin(azimuthDeg), up, rounding)
    expect(azimuthDeg).toBeGreaterThanOrEqual(0)
    expect(azimuthDeg).toBeLessThan(360)
  })
})
