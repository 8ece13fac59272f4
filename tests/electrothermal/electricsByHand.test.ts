// Currents, light and heat of boards and drivers at given temperatures, worked out by hand: Kirchhoff, and T_j = T + R · heat (JESD51-51).
import { describe, expect, test } from 'vitest'
import { makeHeatField, type OperatingState, type PowerModel, solveElectrics } from '../../src/electrothermal/model.ts'
import type { EmitterType, Mode } from '../../src/lamp/schema.ts'
import { expectWithin } from '../kit/expect.ts'
import { AIR_C, coarse, fewCells, ON, sourceOf, stateAt, TWO_HALVES } from '../kit/fewCells.ts'

const HAND = { rel: 1e-9, because: 'by hand' }
const LIGHT = { rel: 1e-5, because: '683.002 lm/W, not 683' }
const solve = (model: PowerModel, mode: Mode = ON, over: Partial<OperatingState> = {}, celsius = AIR_C) => {
  const at = stateAt(model, celsius, over)
  return { at, e: solveElectrics(model, mode, at) }
}
const rows = (c1: number, c2: number, factor: number) => [
  { junctionC: c1, factor: 1 },
  { junctionC: c2, factor },
]
/** 1 % less voltage for each 10 K over 20 °C. */
const falling = (over: Partial<EmitterType> = {}) => ({ forwardByJunction: rows(20, 120, 0.9), ...over })

describe('one board', () => {
  test('12 W in, 1 W out: 11 W of heat, the junction 5.5 K over the plate', () => {
    const { at, e } = solve(coarse(fewCells()))
    expectWithin(e.heatW[0]!, 11, LIGHT)
    expectWithin(e.heatToPlateW, 11, LIGHT)
    expectWithin(e.lm[0]!, 683, LIGHT)
    expectWithin(e.totalLm, e.lm[0]!, HAND)
    expectWithin(e.lightW, 1, LIGHT)
    expectWithin(at.junctionC[0]!, AIR_C + 0.5 * e.heatW[0]!, HAND)
    expect([e.openV, e.currentA[0]]).toEqual([12, 4])
    // The driver takes 12 W/0.9 and burns a tenth of it.
    expectWithin(e.bus.supplyA, 12 / 0.9 / 12, HAND)
    expectWithin(at.guessA, 12 / 0.9 / 12, HAND)
    expectWithin(e.driverW, 12 / 0.9 - 12, HAND)
    expect(e.wireW).toBe(0)
  })
  test('its driver on the plate: 1.33 W more into it, evenly', () => {
    const model = coarse(fewCells({ driver: { mounted: 'plate' } }))
    const { e } = solve(model)
    expectWithin(e.heatToPlateW, 11 + 12 / 0.9 - 12, LIGHT)
    expectWithin(
      makeHeatField(model, e).reduce((sum, w) => sum + w, 0),
      e.heatToPlateW,
      HAND,
    )
    expect(solve(coarse(fewCells())).e.driverToPlateW).toBe(0)
  })
  test('six emitters on two strings: 72 W in, each with 11 W of its own and the joint’s 66 W', () => {
    const lamp = fewCells({ sites: 6, strings: 2, driver: { maxOutputA: 20 } })
    const joint = { ...lamp, boardTypes: lamp.boardTypes.map((t) => ({ ...t, thermal: { padKW: 0, jointKcm2W: 20 } })) }
    const traced = { face: 0.05, optics: 0.1, wall: 0.2, traced: true }
    const at = { siteC: Float64Array.of(30), hotC: Float64Array.of(33) }
    const { at: after, e } = solve(coarse(joint, traced), ON, at)
    const light = e.lightW
    expectWithin(light, 6, LIGHT)
    expectWithin(e.currentA[0]!, 4, HAND)
    expectWithin(e.heatW[0]!, 72 - light + 0.1 * light, HAND)
    expectWithin(e.heatToPlateW, 72 - light + 0.15 * light, HAND)
    expectWithin(e.totalLm, 6 * 683, HAND)
    // 20 K·cm²/W under 400 cm²: 0.05 K/W of the whole board's heat; 0.5 K/W of one emitter's.
    expectWithin(after.junctionC[0]!, 30 + ((72 - light) / 6) * (0.5 + 0.05 * 6), HAND)
    expectWithin(e.hotJunctionC[0]!, after.junctionC[0]! + 3, HAND)
  })
  test('in pulses of a half: 4 A, half of the light and of the heat', () => {
    const { e } = solve(coarse(fewCells({ driver: { dimming: 'pulse width' } })), { ...ON, share: 0.5 })
    expectWithin(e.currentA[0]!, 4, HAND)
    expectWithin(e.totalLm, 341.5, HAND)
    expectWithin(e.heatW[0]!, 6 - e.lightW, HAND)
  })
  test('no more light than power: an emitter of 20 W of light at 12 W gives 12 W and no heat', () => {
    const { e } = solve(coarse(fewCells({ emitter: { fluxLm: 20 * 683 } })))
    expectWithin(e.lightW, 12, HAND)
    expectWithin(e.heatW[0]!, 0, { abs: 1e-12, because: 'all of it is light' })
  })
  test('light falls with the junction: x = 5 K/W · (11 W + 0.005/K · x), x = 55/0.975 K', () => {
    const emitter = { thermalResistanceKW: 5, fluxByJunction: rows(20, 120, 0.5) }
    const { at, e } = solve(coarse(fewCells({ emitter })))
    expectWithin(at.junctionC[0]! - AIR_C, 55 / 0.975, { rel: 1e-4, because: 'a gain of 0.025, three turns' })
    expectWithin(e.lightW, 1 - 0.005 * (55 / 0.975), { rel: 1e-3, because: 'as before' })
  })
  test('voltage falls with the junction: x = 5 K/W · (11 W − 12 W · 0.001/K · x), x = 55/1.06 K', () => {
    const { at, e } = solve(coarse(fewCells({ emitter: falling({ thermalResistanceKW: 5 }) })))
    expectWithin(at.junctionC[0]! - AIR_C, 55 / 1.06, {
      abs: 0.02,
      because: 'settled within 0.2 K, times a gain of 0.06',
    })
    expectWithin(e.bus.supplyA, (12 - 0.012 * (55 / 1.06)) / 0.9 / 12, { rel: 1e-3, because: 'as before' })
    expectWithin(at.guessA, e.bus.supplyA, HAND)
    // What goes in is what the driver was solved with, so that the account closes.
    const inW = e.openV * e.bus.supplyA
    expectWithin(e.heatW[0]! + e.lightW + e.driverW, inW, HAND)
  })
  test('three turns at most: with 0.5 %/K 55, 38.5 and 43.45 K over the plate', () => {
    const emitter = { thermalResistanceKW: 5, forwardByJunction: rows(20, 120, 0.5) }
    const { at } = solve(coarse(fewCells({ emitter })))
    // x = 5 K/W · (11 W − 0.06 W/K · x) from 0, 55 and 38.5 K.
    expectWithin(at.junctionC[0]! - AIR_C, 43.45, { abs: 1e-4, because: '683.002 lm/W, not 683' })
  })
  test('a junction that moves by less than 0.2 K is settled, with the voltage of before; all of them must be', () => {
    const emitter = falling({ thermalResistanceKW: 5 })
    const one = solve(coarse(fewCells({ emitter })), ON, { junctionC: Float64Array.of(AIR_C + 51.8) })
    expectWithin(one.e.bus.supplyA, (12 * (1 - 0.0518)) / 0.9 / 12, HAND)
    const junctionC = Float64Array.of(AIR_C + 51.8, AIR_C)
    const two = solve(coarse(fewCells({ ...TWO_HALVES, emitter })), ON, { junctionC })
    expectWithin(two.at.junctionC[1]! - AIR_C, 55 / 1.06, { abs: 0.02, because: 'settled within 0.2 K, times 0.06' })
  })
  test('an open voltage by the charge; a driver under its headroom gives less, one that has let go nothing', () => {
    const model = { ...coarse(fewCells()), source: sourceOf({ openV: (q) => 10 + q }) }
    expect(solve(model, ON, { charge: 0.5 }).e.openV).toBe(10.5)
    const off = solve(model, ON, { tripped: new Set([0]) }).e
    expect([off.totalLm, off.heatToPlateW, off.bus.supplyA, off.currentA[0]]).toEqual([0, 0, 0, 0])
  })
})

describe('wires', () => {
  test('100 mΩ before the branching, 20 mΩ before the driver, 40 mΩ behind it: every watt is booked', () => {
    const model = coarse(fewCells())
    const [channel] = model.channels
    const wired = { ...model, mainOhm: 0.1, channels: [{ ...channel!, inOhm: 0.02, outOhm: 0.04 }] }
    const { e } = solve(wired)
    const amps = e.bus.supplyA
    // P = 4 A · (3 V + 0.16 V)/0.9 behind 0.12 Ω: 12 I − 0.12 I² = P.
    const p = (4 * 3.16) / 0.9
    expectWithin(amps, (12 - Math.sqrt(144 - 4 * 0.12 * p)) / 0.24, { rel: 1e-8, because: 'the iteration’s end' })
    expectWithin(e.wireW, amps ** 2 * 0.12 + 16 * 0.04, { rel: 1e-8, because: 'as before' })
    expectWithin(e.driverW, 0.1 * p, { rel: 1e-8, because: 'as before' })
    expectWithin(e.heatW[0]!, 12 - e.lightW, HAND)
  })
  test('two drivers: losses of both', () => {
    const model = coarse(fewCells(TWO_HALVES))
    const wired = { ...model, channels: model.channels.map((c) => ({ ...c, outOhm: 0.05 })) }
    const { e } = solve(wired)
    expectWithin(e.wireW, 2 * 16 * 0.05, HAND)
    expectWithin(e.driverW, 2 * ((4 * 3.2) / 9), HAND)
    expectWithin(e.lightW, 2, LIGHT)
    expectWithin(e.heatToPlateW, 24 - e.lightW, HAND)
    expectWithin(e.totalLm, 2 * 683, HAND)
  })
})

describe('two boards on one driver, 20 and 120 °C', () => {
  const both = (wired: 'series' | 'parallel', sites = 1, strings = 1) => {
    // Junctions stay where their plate is.
    const emitter = falling({ thermalResistanceKW: 0 })
    const driver = { maxOutputA: 50 }
    const model = coarse(fewCells({ ...TWO_HALVES, emitter, wired, sites, strings, driver }))
    const hot = () => Float64Array.of(20, 120)
    return solve(model, ON, { siteC: hot(), hotC: hot(), junctionC: hot() }).e
  }
  test('in series: 4 A through both, 12 W and 10.8 W', () => {
    const e = both('series')
    expect([...e.currentA]).toEqual([4, 4])
    expectWithin(e.heatW[0]!, 12 - e.lightW / 2, HAND)
    expectWithin(e.heatW[1]!, 10.8 - e.lightW / 2, HAND)
  })
  test('side by side: each half of 8 A, and the power in the ratio of their volts', () => {
    const e = both('parallel')
    expect([...e.currentA]).toEqual([4, 4])
    expectWithin(e.bus.supplyA, 22.8 / 0.9 / 12, HAND)
    expectWithin(e.heatW[0]!, 12 - e.lightW / 2, HAND)
    expectWithin(e.heatW[1]!, 10.8 - e.lightW / 2, HAND)
  })
  test('of two strings each: four strings share 16 A; 24 W and 21.6 W', () => {
    const e = both('parallel', 2, 2)
    expect([...e.currentA]).toEqual([4, 4])
    expectWithin(e.heatW[0]!, 24 - e.lightW / 2, HAND)
    expectWithin(e.heatW[1]!, 21.6 - e.lightW / 2, HAND)
  })
  test('side by side with one string and with two: 12 A in three of them, 12 W and 24 W', () => {
    const lamp = fewCells({ ...TWO_HALVES, wired: 'parallel', driver: { maxOutputA: 50 } })
    const [type] = lamp.boardTypes
    const site = { xMm: 0, yMm: 0 }
    const boardTypes = [type!, { ...type!, id: 'two', sites: [site, site], strings: 2 }]
    const boards = lamp.boards.map((b, i) => ({ ...b, type: boardTypes[i]!.id }))
    const { e } = solve(coarse({ ...lamp, boardTypes, boards }))
    expect([...e.currentA]).toEqual([4, 4])
    expectWithin(e.heatW[0]!, 12 - e.lightW / 3, HAND)
    expectWithin(e.heatW[1]!, 24 - (2 * e.lightW) / 3, HAND)
  })
  test('nothing wanted: nothing is shared out', () => {
    const model = coarse(fewCells({ ...TWO_HALVES, wired: 'parallel' }))
    const { e } = solve(model, { ...ON, share: 0 })
    expect([...e.heatW, ...e.lm, ...e.currentA]).toEqual([0, 0, 0, 0, 0, 0])
  })
})

test('heat enters under its board, light on the face evenly: 10 W and 4 W on the halves, 2 W in quarters', () => {
  const model = coarse(fewCells(TWO_HALVES), { face: 0.2, optics: 0, wall: 0, traced: true })
  const { e } = solve(model)
  const q = makeHeatField(model, { ...e, lightW: 10, heatW: Float64Array.of(10, 4) })
  // Cells from low y: left, right; left, right.
  for (const [i, watts] of [5.5, 2.5, 5.5, 2.5].entries()) expectWithin(q[i]!, watts, HAND)
  const dark = makeHeatField(model, { ...e, lightW: 0, heatW: Float64Array.of(0, 4) })
  for (const [i, watts] of [0, 2, 0, 2].entries()) expectWithin(dark[i]!, watts, { abs: 1e-12, because: 'by hand' })
})
