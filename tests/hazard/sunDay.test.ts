import { describe, expect, test } from 'vitest'
import { steadyTemperatureC } from '../../src/hazard/balance.ts'
import { upperKWm2 } from '../../src/hazard/discs.ts'
import { clearSkyWm2, julianDay, sunAt, sunDeclinationDeg, toLampFrame } from '../../src/hazard/solar.ts'
import { readSunDay, type SunDay, USUAL_SUN } from '../../src/hazard/sunDay.ts'
import type { SunMapPoint } from '../../src/hazard/sunMap.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { ignitionMaterial, ignitionSeconds } from '../../src/library/ignition.ts'
import { expectWithin } from '../kit/expect.ts'
import { oneEmitter } from '../kit/traceHere.ts'

describe('a day', () => {
  const lamp = gannetHead()
  /** 100 kW/m² on the axis, none from 10° on. */
  const map: SunMapPoint[] = [0, 5, 10, 60].flatMap((tiltDeg) =>
    (tiltDeg === 0 ? [0] : [0, 90, 180, 270]).map((azimuthDeg) => ({
      ...{ kWm2: Math.max(0, 100 - 10 * tiltDeg), se: 0, xMm: -tiltDeg, yMm: 0, zMm: 0, discMm: 10 },
      ...{ tiltDeg, azimuthDeg, lands: 'board' as const, board: 'B1', flat: null },
    })),
  )
  test('lens at the noon sun: the whole of the map’s worst at noon, scaled by the clear sky', () => {
    const place = { ...USUAL_SUN, latitudeDeg: 23.4, lensUpDeg: 89.96 }
    const day = readSunDay(lamp, map, 1000, place)
    expectWithin(day.worst!.hour, 12, { abs: 0.01, because: 'a step of five minutes' })
    // The stronger neighbour of the angle: the axis itself.
    expectWithin(day.worst!.kWm2, 0.1 * clearSkyWm2(day.worst!.upDeg), { rel: 1e-9, because: 'scaled' })
    expect(day.plasticSeconds).not.toBeNull()
    // Within 5° of the axis for 20 minutes each side, within 10° for 40 (15° an hour; near overhead a little more by cos δ).
    expectWithin(day.hoursOverPlastic, (2 * 10) / 15 / Math.cos((23.4 * Math.PI) / 180), { abs: 0.2, because: 'steps' })
  })
  test('flat strength: the lamp’s own sun all day; facing the ground: nothing', () => {
    const flat = readSunDay(lamp, map, 1000, { ...USUAL_SUN, latitudeDeg: 23.4, lensUpDeg: 90, strength: 'flat' })
    expectWithin(flat.worst!.kWm2, 100, { abs: 1e-9, because: 'as traced' })
    const down = readSunDay(lamp, map, 1000, { ...USUAL_SUN, lensUpDeg: -90 })
    expect(down.worst).toBeNull()
    expect(down.plasticSeconds).toBeNull()
  })
  test('between traced angles the stronger neighbour holds', () => {
    const day = readSunDay(lamp, map, 1000, { ...USUAL_SUN, strength: 'flat', latitudeDeg: 23.4 })
    for (const m of day.moments) {
      const stronger = map.filter((p) => p.tiltDeg <= m.tiltDeg).reduce((a, b) => (b.tiltDeg > a.tiltDeg ? b : a))
      expect(m.kWm2).toBeGreaterThanOrEqual(m.tiltDeg < 90 ? upperKWm2(stronger) : 0)
    }
  })
  test('a polar night has no moment', () => {
    expect(readSunDay(lamp, map, 1000, { ...USUAL_SUN, latitudeDeg: 80, month: 12 }).moments).toEqual([])
  })
})

const point = (tiltDeg: number, azimuthDeg: number, kWm2: number, over: Partial<SunMapPoint> = {}): SunMapPoint => ({
  ...{ kWm2, se: 0, xMm: 0, yMm: 0, zMm: 0, discMm: 10, tiltDeg, azimuthDeg, lands: 'board', board: 'B1', flat: null },
  ...over,
})
/** So that scaling by the sun is exact. */
const WM2 = 1024
const plastic = ignitionMaterial('abs')
const wood = ignitionMaterial('wood-long')

/** At the pole in June, lens up: the sun goes round at 66.6° off the axis, at azimuth 450° − 15° an hour. */
const POLE = { ...USUAL_SUN, latitudeDeg: 90, strength: 'flat' } as const
/** Overhead at noon. */
const DECLINATION = sunDeclinationDeg(julianDay(2026, 6, 21))
const OVERHEAD = { ...USUAL_SUN, latitudeDeg: DECLINATION, strength: 'flat' } as const
const at = (day: SunDay, hour: number) => day.moments.find((m) => Math.abs(m.hour - hour) < 1e-9)!

describe('the moments of a day', () => {
  test('every minute, once, where the sun never sets; 12 hours at the equator', () => {
    const { moments, declinationDeg } = readSunDay(gannetHead(), [], WM2, POLE)
    expect(moments.map((m) => m.hour)).toEqual(Array.from({ length: 1440 }, (_, k) => k / 60))
    expect(declinationDeg).toBe(DECLINATION)
    for (const m of moments) expectWithin(m.upDeg, declinationDeg, { abs: 1e-9, because: 'rounding' })
    const equator = readSunDay(gannetHead(), [], WM2, { ...POLE, latitudeDeg: 0 }).moments
    expectWithin(equator[0]!.hour, 6, { abs: 1 / 60, because: 'a step' })
    expect(Math.abs(equator.length - 720)).toBeLessThanOrEqual(1)
  })
  test('each with the sun’s place, as the lamp sees it, and its strength', () => {
    const place = { ...USUAL_SUN, latitudeDeg: 35, month: 3, day: 5, heightM: 2000, lensUpDeg: 40, lensTowardsDeg: 200 }
    const day = readSunDay(gannetHead(), [], WM2, place)
    expect(day.place).toBe(place)
    expect(day.declinationDeg).toBe(sunDeclinationDeg(julianDay(2026, 3, 5)))
    const sun = sunAt(35, day.declinationDeg, 10)
    expect(at(day, 10)).toEqual({
      ...{ hour: 10, ...sun, ...toLampFrame({ upDeg: 40, towardsDeg: 200 }, sun) },
      ...{ sunWm2: clearSkyWm2(sun.upDeg, 2000), kWm2: 0, lands: null, board: null, xMm: 0, yMm: 0, zMm: 0 },
    })
    expect(at(readSunDay(gannetHead(), [], WM2, { ...place, strength: 'flat' }), 10).sunWm2).toBe(WM2)
  })
  test('the spot of the map there, upper end, scaled by the sun', () => {
    const map = [point(0, 0, 8, { se: 2, lands: 'wall', board: 'B7', xMm: 1, yMm: 2, zMm: 3 })]
    const day = readSunDay(gannetHead(), map, 500, { ...OVERHEAD, strength: 'clear-sky' })
    expect(at(day, 12)).toMatchObject({ lands: 'wall', board: 'B7', xMm: 1, yMm: 2, zMm: 3 })
    expectWithin(at(day, 12).kWm2, ((8 + 2 * 2.131) * clearSkyWm2(90)) / 500, { rel: 1e-9, because: 'rounding' })
  })
})

describe('which traced points stand about an angle', () => {
  const spots = (map: SunMapPoint[], place: typeof POLE | typeof OVERHEAD, hours: number[]) => {
    const day = readSunDay(gannetHead(), map, WM2, place)
    return hours.map((hour) => at(day, hour).kWm2)
  }
  // 5°, 20° and 40° off the axis or so: 20, 85 and 180 minutes from noon (15° cos δ an hour).
  const hours = [12 + 20 / 60, 12 + 85 / 60, 12 + 180 / 60]
  test('by tilt: the stronger of the two on either side; the nearest where there is but one', () => {
    expect(spots([point(30, 0, 1), point(0, 0, 3), point(10, 0, 2)], OVERHEAD, hours)).toEqual([3, 2, 1])
    expect(spots([point(10, 0, 2), point(30, 0, 3), point(0, 0, 1)], OVERHEAD, hours)).toEqual([2, 3, 3])
    expect(spots([point(30, 0, 5), point(10, 0, 1)], OVERHEAD, hours)).toEqual([1, 5, 5])
    expect(spots([point(30, 0, 5), point(10, 0, 1), point(20, 0, 1), point(60, 0, 1)], OVERHEAD, hours)).toEqual([
      1, 1, 5,
    ])
    expect(spots([point(30, 0, 1), point(10, 0, 5), point(20, 0, 1), point(60, 0, 1)], OVERHEAD, hours)).toEqual([
      5, 5, 1,
    ])
  })
  test('by azimuth: within a step of the azimuths traced, across 0° too', () => {
    // At 13, 19, 1 and 7 o'clock from azimuths 255°, 165°, 75° and 345°.
    const around = [13, 19, 1, 7]
    const ring = (tiltDeg: number, values: number[]) => values.map((v, k) => point(tiltDeg, 90 * k, v))
    expect(spots([...ring(60, [4, 3, 2, 1]), ...ring(70, [0, 0, 0, 0])], POLE, around)).toEqual([2, 3, 4, 4])
    expect(spots([...ring(70, [1, 2, 3, 4]), ...ring(60, [0, 0, 0, 0])], POLE, around)).toEqual([4, 3, 2, 4])
    expect(spots([...ring(70, [1, 2, 3, 4]), ...ring(60, [5, 0, 0, 0])], POLE, around)).toEqual([4, 3, 5, 5])
    // On the axis there is no azimuth.
    expect(spots([point(0, 0, 9), ...ring(80, [1, 2, 3, 4])], POLE, around)).toEqual([9, 9, 9, 9])
    // Three azimuths: 255° lies between 240° and 0°.
    expect(spots([point(60, 0, 3), point(60, 120, 2), point(60, 240, 1)], POLE, around)).toEqual([3, 2, 3, 3])
  })
  test('exactly at a traced tilt that one alone; exactly a step from an azimuth it still counts', () => {
    const { tiltDeg, azimuthDeg } = at(readSunDay(gannetHead(), [], WM2, POLE), 20)
    const tilts = [point(tiltDeg - 5, 0, 2), point(tiltDeg, 0, 1), point(tiltDeg + 5, 0, 9)]
    expect(spots(tilts, POLE, [20])).toEqual([2])
    expect(spots(tilts.slice(1), POLE, [20])).toEqual([1])
    const ring = [0, 90, 180, 270].map((off) => point(60, azimuthDeg + off, off === 90 ? 3 : 1))
    expect(ring[1]!.azimuthDeg - azimuthDeg).toBe(90)
    expect(spots(ring, POLE, [20])).toEqual([3])
  })
  test('of two as strong the first; beyond 90° none', () => {
    const two = [point(60, 0, 2, { board: 'A' }), point(70, 0, 2, { board: 'B' })]
    expect(at(readSunDay(gannetHead(), two, WM2, POLE), 6).board).toBe('A')
    const down = readSunDay(gannetHead(), two, WM2, { ...POLE, lensUpDeg: -90 })
    expect(at(down, 6)).toMatchObject({ kWm2: 0, lands: null, board: null })
    expect(down).toMatchObject({ worst: null, plasticSeconds: null, woodSeconds: null, staysSeconds: null })
    expect(down.turned).toMatchObject({ kWm2: 2, tiltDeg: 60 })
  })
})

describe('the worst of a day', () => {
  const even = (kWm2: number, over: Partial<SunMapPoint> = {}) => [point(66, 0, kWm2, over)]
  test('at the limit exactly for 24 hours; the first of as strong ones; seconds to ignition', () => {
    const day = readSunDay(gannetHead(), even(plastic.criticalKWm2), WM2, POLE)
    expect(day.worst).toBe(day.moments[0])
    expect(day.hoursOverPlastic).toBe(24)
    expect(day.plasticSeconds).toBe(ignitionSeconds(plastic, plastic.criticalKWm2, gannetHead().reading.ambientC))
    expect(day.woodSeconds).toBe(ignitionSeconds(wood, plastic.criticalKWm2, gannetHead().reading.ambientC))
    const charred = readSunDay(gannetHead(), even(wood.criticalKWm2), WM2, POLE)
    expect(charred.hoursOverWood).toBe(24)
    expect([charred.hoursOverPlastic, charred.plasticSeconds === null]).toEqual(
      wood.criticalKWm2 < plastic.criticalKWm2 ? [0, true] : [24, false],
    )
    expect(readSunDay(gannetHead(), even(0), WM2, POLE).worst).toBeNull()
  })
  test('the strongest moment, not the first or the last; the hours of it alone', () => {
    // Strong from 165° to 345° about azimuth 255°, each 90° either side: weak at the other hours.
    const ring = [0, 0, 0, 50].map((v, k) => point(66, 90 * k, v))
    const day = readSunDay(gannetHead(), ring, WM2, POLE)
    expectWithin(day.hoursOverPlastic, 12, { abs: 2 / 60, because: 'both edges of 180°' })
    expect(day.worst!.kWm2).toBe(50)
    expectWithin(day.worst!.hour, 6, { abs: 1 / 60, because: 'azimuth 0°, a step from 270°' })
  })
  test('the time it stays: 10 mm at 1000 mm under the lens at 15° cos 23.44° an hour: 10/(1000 · 6.6721e-5) = 149.88 s', () => {
    const lamp = gannetHead()
    const lens = lamp.lens!
    const stays = (zMm: number) => readSunDay(lamp, even(5, { zMm }), WM2, POLE).staysSeconds!
    expectWithin(stays(lens.zMm - 1000), 149.88, { abs: 0.01, because: 'printed digits' })
    // No nearer than 1 mm.
    expectWithin(stays(lens.zMm), 149_880, { abs: 10, because: 'printed digits' })
    expect(readSunDay(oneEmitter(), even(5), WM2, POLE)).toMatchObject({ staysSeconds: null, worst: { kWm2: 5 } })
  })
  test('turned to the sun: the hottest of the map, the first of two, in the day’s brightest sun', () => {
    const map = [point(5, 0, 20), point(10, 0, 30, { se: 1 }), point(15, 0, 30, { se: 1 }), point(20, 0, 31)]
    const day = readSunDay(gannetHead(), map, 500, { ...USUAL_SUN, latitudeDeg: 40 })
    const noon = clearSkyWm2(at(day, 12).upDeg)
    const kWm2 = ((30 + 2.131) * noon) / 500
    expect(day.turned!.tiltDeg).toBe(10)
    expectWithin(day.turned!.kWm2, kWm2, { rel: 1e-12, because: 'rounding' })
    expect(day.turned!.plasticSeconds).toBe(ignitionSeconds(plastic, day.turned!.kWm2, gannetHead().reading.ambientC))
    expect(day.coverC).toBe(steadyTemperatureC({ takenKWm2: noon / 1000, ambientC: gannetHead().reading.ambientC }))
  })
  test('no map, a dark map, no sun: not to be turned', () => {
    expect(readSunDay(gannetHead(), [], WM2, POLE).turned).toBeNull()
    expect(readSunDay(gannetHead(), even(0), WM2, POLE).turned).toBeNull()
    const night = readSunDay(gannetHead(), even(50), WM2, { ...POLE, month: 12 })
    expect(night).toMatchObject({ turned: null, moments: [], worst: null, hoursOverPlastic: 0 })
    expect(night.coverC).toBe(gannetHead().reading.ambientC)
  })
  test('the usual place: on its back at 45° north on June 21', () => {
    expect(USUAL_SUN).toEqual({
      ...{ latitudeDeg: 45, month: 6, day: 21, heightM: 0, lensUpDeg: 90, lensTowardsDeg: 180, strength: 'clear-sky' },
    })
  })
})
