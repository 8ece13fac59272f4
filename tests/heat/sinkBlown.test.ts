// Sinks with moved air, put together by hand; sinks by their data sheet; the table over temperature.
import { describe, expect, test } from 'vitest'
import { airAt, rayleigh } from '../../src/heat/air.ts'
import { fanSpeedMS } from '../../src/heat/blower.ts'
import {
  blownCylinder,
  blownFins,
  blownPlate,
  channel,
  finsUp,
  hotSideUp,
  joinedFilm,
  levelCylinder,
  verticalPlate,
} from '../../src/heat/convection.ts'
import { finEfficiency, pinEfficiency } from '../../src/heat/fins.ts'
import { makeSink } from '../../src/heat/sink.ts'
import type { Cooling } from '../../src/lamp/schema.ts'
import { expectWithin } from '../kit/expect.ts'
import { AMBIENT_C, coolingOf, expectSink, filmAir, KELVIN, radiatedWK, square } from '../kit/handSink.ts'

const rounding = { rel: 1e-12, because: 'rounding' }
const ra = (lengthM: number) => rayleigh(filmAir(), lengthM, KELVIN)
const film = (nusselt: number, lengthM: number) => (nusselt * filmAir().conductivityWmK) / lengthM
const reynolds = (speedMS: number, lengthM: number) => (speedMS * lengthM) / filmAir().kinematic
const upright = (lengthM: number) => film(verticalPlate(ra(lengthM), filmAir().prandtl), lengthM)
const facingUp = () => film(hotSideUp(ra(0.05)), 0.05)
const along = (speedMS: number) => film(blownPlate(reynolds(speedMS, 0.2), filmAir().prandtl), 0.2)

const fins = { kind: 'fins' as const, count: 10, heightMm: 40, thicknessMm: 2, spacingMm: 12 }
const pins = { kind: 'pins' as const, count: 300, heightMm: 40, diameterMm: 4, spacingMm: 5 }
const moved = (speedMS: number): Cooling['air'] => ({ kind: 'moved', speedMS })
const fan = (flowM3h: number, pascal: number): Cooling['air'] => ({
  kind: 'fan',
  curve: [
    { flowM3h: 0, pascal: 200 },
    { flowM3h, pascal },
  ],
})

describe('moved and still air joined: exponent 3 upright, 3.5 level, 4 about pins', () => {
  test('a bare back, beam level and down, 1.5 m/s along 0.2 m', () => {
    const bare = (still: number, n: number) => ({
      base: 0.04 * joinedFilm(along(1.5), still, n) + radiatedWK(0.04, 0.04),
      ...{ fin: 0, eta: 0 },
    })
    expectSink(coolingOf({ kind: 'none' }, { air: moved(1.5) }), bare(upright(0.2), 3))
    expectSink(coolingOf({ kind: 'none' }, { air: moved(1.5), aim: 'down' }), bare(facingUp(), 3.5))
  })
  test('fins: their film on the back between them as well', () => {
    // Re* = U s/ν · s/L; areas as in still air: 0.164 m², roots 0.004 m².
    const byHand = (between: number, plate: number, n: number) => {
      const blown = film(blownFins((reynolds(0.8, 0.012) * 0.012) / 0.2, filmAir().prandtl), 0.012)
      const fin = 0.164 * joinedFilm(blown, between, n) + radiatedWK(0.072, 0.2)
      const base = joinedFilm(blown, Math.min(plate, between), n) * 0.036
      return { base, fin, eta: finEfficiency(fin / 0.164, 160, 0.002, 0.04) }
    }
    const level = film(channel((ra(0.012) * 0.012) / 0.2), 0.012)
    const down = film(finsUp(ra(0.012)), 0.012)
    expectSink(coolingOf(fins, { air: moved(0.8) }), byHand(level, upright(0.2), 3))
    expectSink(coolingOf(fins, { air: moved(0.8), aim: 'down' }), byHand(down, facingUp(), 3.5))
  })
  test('pins: air across each, along the back', () => {
    const [area, roots] = [0.0492 * Math.PI, 0.0012 * Math.PI]
    const byHand = (own: number, plate: number, n: number) => {
      const across = film(blownCylinder(reynolds(0.8, 0.004), filmAir().prandtl), 0.004)
      const fin = area * joinedFilm(across, own, 4) + radiatedWK(0.072, 0.04 - roots + area)
      const base = joinedFilm(along(0.8), Math.min(plate, own), n) * (0.04 - roots)
      return { base, fin, eta: pinEfficiency(fin / area, 160, 0.004, 0.04) }
    }
    const cylinder = film(levelCylinder(ra(0.004), filmAir().prandtl), 0.004)
    const level = Math.min(cylinder, film(channel((ra(0.005) * 0.005) / 0.2), 0.005))
    const down = Math.min(upright(0.04), film(finsUp(ra(0.005)), 0.005))
    expectSink(coolingOf(pins, { air: moved(0.8) }), byHand(level, upright(0.2), 3))
    expectSink(coolingOf(pins, { air: moved(0.8), aim: 'down' }), byHand(down, facingUp(), 3.5))
  })
})

describe('the speed', () => {
  const speed = (sink: Cooling['sink'], air: Cooling['air'], face: Parameters<typeof makeSink>[1] = square) =>
    makeSink(coolingOf(sink, { air }), face, AMBIENT_C).speedMS
  test('still air has none, moved air its own', () => {
    expect(speed(fins, { kind: 'still' })).toBe(null)
    expect(speed(fins, moved(3))).toBe(3)
  })
  test('a fan on fins: against channels as long as the fins, here 0.2 or 0.15 m, in the room’s air', () => {
    const air = fan(60, 0)
    if (air.kind !== 'fan') throw new Error('a fan')
    expectWithin(speed(fins, air) ?? 0, fanSpeedMS(air, fins, 0.2, AMBIENT_C), rounding)
    const shorter = { ...fins, lengthMm: 150 }
    expectWithin(speed(shorter, air) ?? 0, fanSpeedMS(air, shorter, 0.15, AMBIENT_C), rounding)
    // Chords of 80, 100 and 80 mm.
    const three = { ...fins, count: 3, spacingMm: 28 }
    const round = { shape: 'round' as const, sizeMm: 100 }
    expectWithin(speed(three, air, round) ?? 0, fanSpeedMS(air, three, 0.26 / 3, AMBIENT_C), rounding)
  })
  test('on pins half of its free flow through their height × the face’s width: 72 m³/h are 1.25 m/s', () => {
    // 72/3600/2 m³/s over 0.04 · 0.2 m².
    expectWithin(speed(pins, fan(72, 0)) ?? 0, 1.25, rounding)
  })
  test('along a bare back 80 mm high: 0.625 m/s; of a round face the full width', () => {
    expectWithin(speed({ kind: 'none' }, fan(72, 0)) ?? 0, 0.625, rounding)
    const round = { shape: 'round' as const, sizeMm: 200 }
    expectWithin(speed({ kind: 'none' }, fan(72, 0), round) ?? 0, 0.625, rounding)
  })
  test('and that speed cools', () => {
    const at = (air: Cooling['air']) => makeSink(coolingOf(pins, { air }), square, AMBIENT_C).totalWK(80)
    expectWithin(at(fan(72, 0)), at(moved(1.25)), rounding)
  })
})

describe('a sink by its data sheet: 0.5 K/W, 300 J/K', () => {
  const rated = { kind: 'rated' as const, resistanceKW: 0.5, heatCapacityJK: 300, flow: 'natural' as const }
  test('half of 6 mm of 160 W/mK over 0.04 m², then its resistance, at every temperature', () => {
    const sink = makeSink(coolingOf(rated), square, AMBIENT_C)
    const link = (160 * 0.04) / 0.003
    for (const c of [0, 20, 80, 500]) {
      const at = sink.at(c)
      expectWithin(at.link, link, rounding)
      expect([at.base, at.fin]).toEqual([0, 2])
      expectWithin(sink.totalWK(c), 1 / (0.5 + 1 / link), rounding)
    }
    expect([sink.finHeatJK, sink.finKg, sink.leftOut, sink.speedMS]).toEqual([300, 0, 0, null])
  })
  test('a fan of the lamp doesn’t change it', () => {
    const sink = makeSink(coolingOf(rated, { air: fan(72, 0) }), square, AMBIENT_C)
    expect(sink.speedMS).toBe(null)
    expect(sink.totalWK(80)).toBe(makeSink(coolingOf(rated), square, AMBIENT_C).totalWK(80))
  })
})

describe('over temperature', () => {
  const sink = (over: Partial<Cooling> = {}) => makeSink(coolingOf(fins, over), square, AMBIENT_C)
  test('a straight line between rows of 4 K', () => {
    for (const of of ['base', 'link', 'fin'] as const) {
      const [low, mid, high] = [80, 81, 84].map((c) => sink().at(c)[of])
      expectWithin(mid ?? 0, (low ?? 0) + ((high ?? 0) - (low ?? 0)) / 4, rounding)
      expect(high).not.toBe(low)
    }
  })
  test('at the air’s temperature and below: as at half a kelvin over it, radiation 4 σ T³', () => {
    const bare = makeSink(coolingOf({ kind: 'none' }), square, AMBIENT_C)
    expect(bare.at(10)).toEqual(bare.at(20))
    const air = airAt(20)
    const still = (verticalPlate(rayleigh(air, 0.2, 0.5), air.prandtl) * air.conductivityWmK) / 0.2
    const plain = 0.04 * (still + 0.9 * 4 * 5.670374419e-8 * 293.15 ** 3)
    expectWithin(bare.totalWK(20), plain / (1 + (plain * 0.003) / (160 * 0.04)), { rel: 1e-9, because: 'rounding' })
  })
  test('beyond 396 K over the air the last row holds; just under it is another', () => {
    expect(sink().at(900)).toEqual(sink().at(20 + 396))
    expect(sink().at(20 + 395).base).not.toBe(sink().at(20 + 396).base)
    // The last row itself, by the formulas: film at (416 + 20)/2 °C.
    const bare = makeSink(coolingOf({ kind: 'none' }), square, AMBIENT_C)
    const air = airAt(218)
    const still = (verticalPlate(rayleigh(air, 0.2, 396), air.prandtl) * air.conductivityWmK) / 0.2
    const plain = 0.04 * (still + (0.9 * 5.670374419e-8 * (689.15 ** 4 - 293.15 ** 4)) / 396)
    expectWithin(bare.totalWK(416), plain / (1 + (plain * 0.003) / (160 * 0.04)), { rel: 1e-9, because: 'rounding' })
  })
  test('each finish and metal by its own figures: painted 0.9, bare sheet 0.09; copper, 388 W/mK and 8940 kg/m³', () => {
    const bare = (over: Partial<Cooling>) => makeSink(coolingOf({ kind: 'none' }, over), square, AMBIENT_C).totalWK(80)
    const behind = (wK: number, k: number) => wK / (1 + (wK * 0.003) / (k * 0.04))
    const convected = 0.04 * upright(0.2)
    const copper = { plate: { thicknessMm: 6, metal: 'copper' as const } }
    const radiated = radiatedWK(0.04, 0.04)
    expectWithin(bare({ finish: 'bare' }), behind(convected + radiated / 10, 160), { rel: 1e-9, because: 'rounding' })
    expectWithin(bare(copper), behind(convected + radiated, 388), { rel: 1e-9, because: 'rounding' })
    expectWithin(sink(copper).finKg, 160e-6 * 8940, rounding)
    expectWithin(sink(copper).finHeatJK, 160e-6 * 8940 * 385, rounding)
  })
})
