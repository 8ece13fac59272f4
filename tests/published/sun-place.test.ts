// Where the sun stands and how strong it is.
import { describe, expect, test } from 'vitest'
import {
  airMass,
  clearSkyWm2,
  julianDay,
  sunAt,
  sunDeclinationDeg,
  sunLongitude,
  toLampFrame,
} from '../../src/hazard/solar.ts'
import { expectWithin } from '../kit/expect.ts'

describe('Meeus, Astronomical Algorithms (2nd ed. 1998); values from memory', () => {
  test('Julian day, example 7.a and the epoch: 1957 October 4.81 is 2436116.31; 2000 January 1.5 is 2451545', () => {
    expectWithin(julianDay(1957, 10, 4) - 0.5 + 0.81, 2_436_116.31, { abs: 1e-6, because: 'rounding' })
    expect(julianDay(2000, 1, 1)).toBe(2_451_545)
  })
  test('example 25.a, 1992 October 13 at 0 h: longitude 199.90895°, declination −7.78507°', () => {
    const jd = julianDay(1992, 10, 13) - 0.5
    expect(jd).toBe(2_448_908.5)
    expectWithin(sunLongitude(jd).apparent, 199.90895, { abs: 2e-5, because: 'printed digits' })
    expectWithin(sunLongitude(jd).obliquity, 23.43999, { abs: 2e-5, because: 'printed digits' })
    expectWithin(sunDeclinationDeg(jd), -7.78507, { abs: 2e-5, because: 'printed digits' })
  })
  test('solstices of 2024: ±23.44° within 0.01°; equinox near 0', () => {
    expectWithin(sunDeclinationDeg(julianDay(2024, 6, 21)), 23.438, { abs: 0.01, because: 'low-accuracy series' })
    expectWithin(sunDeclinationDeg(julianDay(2024, 12, 21)), -23.438, { abs: 0.01, because: 'the same' })
    expectWithin(sunDeclinationDeg(julianDay(2024, 3, 20)), 0, { abs: 0.4, because: 'within a day of the equinox' })
  })
})

describe('the sun’s place by latitude, closed forms', () => {
  test('noon height is 90 − latitude + declination, due south', () => {
    const { upDeg, towardsDeg } = sunAt(52, 23.44, 12)
    expectWithin(upDeg, 61.44, { abs: 1e-9, because: 'rounding' })
    expectWithin(towardsDeg, 180, { abs: 1e-9, because: 'rounding' })
    expectWithin(sunAt(-35, 23.44, 12).towardsDeg % 360, 0, { abs: 1e-9, because: 'rounding' })
  })
  test('sets where cos(hour angle) = −tan φ tan δ, at azimuth acos(sin δ / cos φ) past north', () => {
    const [phi, delta] = [48, 15]
    const rad = Math.PI / 180
    const hour = 12 + Math.acos(-Math.tan(phi * rad) * Math.tan(delta * rad)) / rad / 15
    const at = sunAt(phi, delta, hour)
    expectWithin(at.upDeg, 0, { abs: 1e-9, because: 'rounding' })
    expectWithin(at.towardsDeg, 360 - Math.acos(Math.sin(delta * rad) / Math.cos(phi * rad)) / rad, {
      abs: 1e-9,
      because: 'rounding',
    })
    expect(sunAt(phi, delta, 8).towardsDeg).toBeLessThan(180)
  })
  test('midnight sun at 80° north in June', () => {
    expectWithin(sunAt(80, 23.44, 0).upDeg, 13.44, { abs: 1e-9, because: 'rounding' })
  })
})

describe('strength of the direct sun', () => {
  test('Kasten and Young (1989): air mass 1 overhead, 1.5 at 41.8°, 38 at the horizon (abstract: 37.92)', () => {
    expectWithin(airMass(90), 1, { abs: 5e-4, because: 'the fit’s own offset' })
    expectWithin(airMass(41.8), 1.5, { abs: 0.005, because: 'the usual 48.2° from overhead' })
    expectWithin(airMass(0), 37.92, { abs: 0.01, because: 'printed digits' })
  })
  test('Meinel: 947 W/m² overhead at sea level, 846 at air mass 1.5 (by hand); G173’s direct column is 900', () => {
    expectWithin(clearSkyWm2(90), 947, { abs: 1, because: 'whole numbers' })
    expectWithin(clearSkyWm2(41.8), 846, { abs: 2, because: 'by hand' })
    expectWithin(clearSkyWm2(41.8), 900.139, { rel: 0.1, because: 'another sky: ASTM G173-03, row 4.70' })
  })
  test('never above the solar constant, stronger with height of sun and place, none at night', () => {
    for (let up = 5; up <= 90; up += 5) {
      expect(clearSkyWm2(up)).toBeGreaterThan(clearSkyWm2(up - 4))
      expect(clearSkyWm2(up, 3000)).toBeGreaterThan(clearSkyWm2(up, 0))
      expect(clearSkyWm2(up, 6000)).toBeLessThan(1353)
    }
    expect(clearSkyWm2(0)).toBe(0)
    expect(clearSkyWm2(-10)).toBe(0)
  })
})

describe('the sun as the lamp sees it', () => {
  test('looking straight at it, off by a known angle, and on the right side', () => {
    expectWithin(toLampFrame({ upDeg: 30, towardsDeg: 200 }, { upDeg: 30, towardsDeg: 200 }).tiltDeg, 0, {
      abs: 1e-6,
      because: 'rounding',
    })
    const higher = toLampFrame({ upDeg: 30, towardsDeg: 200 }, { upDeg: 37, towardsDeg: 200 })
    expectWithin(higher.tiltDeg, 7, { abs: 1e-9, because: 'rounding' })
    expectWithin(higher.azimuthDeg, 90, { abs: 1e-6, because: 'above the axis is +y' })
    // Seen from in front of a lamp that looks south, +x is to the east, for the viewer looks north, with east on the right.
    const east = toLampFrame({ upDeg: 0, towardsDeg: 180 }, { upDeg: 0, towardsDeg: 170 })
    expectWithin(east.tiltDeg, 10, { abs: 1e-9, because: 'rounding' })
    expectWithin(east.azimuthDeg, 0, { abs: 1e-6, because: '+x' })
  })
  test('a lamp on its back sees the zenith distance', () => {
    expectWithin(toLampFrame({ upDeg: 90, towardsDeg: 180 }, { upDeg: 61, towardsDeg: 123 }).tiltDeg, 29, {
      abs: 1e-9,
      because: 'rounding',
    })
  })
})
