// Tables of an invented emitter, straight lines, so that each figure is worked out by hand.
import { describe, expect, test } from 'vitest'
import { makeEmitterTables } from '../../src/heat/emitterTables.ts'
import type { EmitterType } from '../../src/lamp/schema.ts'
import { spectrumEfficacy } from '../../src/library/spectra.ts'
import { expectWithin } from '../kit/expect.ts'
import { GREEN, oneEmitter } from '../kit/traceHere.ts'

const rounding = { rel: 1e-12, because: 'rounding' }
const halved = { rel: 1e-9, because: 'fifty halvings' }

/** 9 V at 0.5 A, 10 V at 1 A, 12 V at 2 A: 2 Ω all the way. 400 lm at 0.5 A, rated. */
const tables = (over: Partial<EmitterType> = {}) =>
  makeEmitterTables({
    ...oneEmitter({ fluxLm: 400 }).emitterTypes[0]!,
    ratedCurrentA: 0.5,
    forward: [
      { currentA: 0.5, volts: 9 },
      { currentA: 1, volts: 10 },
      { currentA: 2, volts: 12 },
    ],
    maxCurrentA: 2,
    ...over,
  })
const falling = [
  { junctionC: 25, factor: 1.2 },
  { junctionC: 100, factor: 0.9 },
]

describe('volts and flux', () => {
  test('between the rows by a straight line; under them the end value, over them 2 Ω more', () => {
    const t = tables()
    expectWithin(t.volts(1.25, 85), 10.5, rounding)
    expect(t.volts(0.1, 85)).toBe(9)
    expectWithin(t.volts(5, 85), 18, rounding)
  })
  test('voltage by junction: 0.4 of the way from 1.2 to 0.9 is 1.08', () => {
    expectWithin(tables({ forwardByJunction: falling }).volts(1, 55), 10.8, rounding)
  })
  test('without tables: flux in proportion to current, the same at each temperature', () => {
    const t = tables()
    expectWithin(t.fluxLm(1.5, 20), 1200, rounding)
    expect(t.fluxLm(1.5, 140)).toBe(t.fluxLm(1.5, 20))
    expect(t.volts(1, 140)).toBe(t.volts(1, 20))
    expect(tables({ forward: [] }).volts(1, 85)).toBe(0)
  })
  test('flux with both tables: 400 · 1.6 · 1.08', () => {
    const fluxByCurrent = [
      { currentA: 0.5, factor: 1 },
      { currentA: 1.5, factor: 2.2 },
    ]
    expectWithin(tables({ fluxByCurrent, fluxByJunction: falling }).fluxLm(1, 55), 400 * 1.6 * 1.08, rounding)
  })
  test('a table of one row is a constant', () => {
    const one = tables({
      forward: [{ currentA: 1, volts: 3 }],
      fluxByCurrent: [{ currentA: 0.5, factor: 0.7 }],
      fluxByJunction: [{ junctionC: 85, factor: 0.5 }],
    })
    expect(one.volts(0.2, 85)).toBe(3)
    expectWithin(one.fluxLm(2, 140), 400 * 0.7 * 0.5, rounding)
  })
  test('no current: neither volts nor light, though the tables’ end values hold', () => {
    const t = tables({ fluxByCurrent: [{ currentA: 0.5, factor: 1 }] })
    expect(t.volts(0, 85)).toBe(0)
    expect(t.fluxLm(0, 85)).toBe(0)
    expect(t.fluxLm(1e-6, 85)).toBe(400)
  })
  test('over its last current the voltage rises on: 2 Ω, 12 V at 2 A, 14 V at 3 A; from one row, or level ones, it can’t', () => {
    expectWithin(tables().volts(3, 85), 14, rounding)
    expectWithin(tables({ forwardByJunction: falling }).volts(3, 100), 0.9 * 14, rounding)
    expect(tables({ forward: [{ currentA: 1, volts: 3 }] }).volts(2, 85)).toBe(3)
    const level = [9, 10, 10].map((volts, i) => ({ currentA: i + 1, volts }))
    expect(tables({ forward: level }).volts(5, 85)).toBe(10)
  })
  test('its type and the lumens of a watt of its light', () => {
    const t = tables()
    expect(t.type.ratedCurrentA).toBe(0.5)
    expect(t.lmPerW).toBe(spectrumEfficacy(GREEN))
  })
})

describe('the largest current for a voltage', () => {
  test('2 Ω: 10.5 V drive 1.25 A; hot, at 0.9 of the voltage, 9.45 V do', () => {
    expectWithin(tables().currentA(10.5, 85), 1.25, halved)
    expectWithin(tables({ forwardByJunction: falling }).currentA(9.45, 100), 1.25, halved)
  })
  test('never more than the emitter’s largest, from its voltage on', () => {
    expect(tables().currentA(12, 85)).toBe(2)
    expect(tables().currentA(40, 85)).toBe(2)
    expect(tables({ maxCurrentA: 1.5 }).currentA(11.5, 85)).toBe(1.5)
    expectWithin(tables().currentA(11.999, 85), 1.9995, halved)
  })
  test('under the first row’s 9 V the current falls to nothing in proportion, at 0.9 · 9 V = 8.1 V', () => {
    const t = tables()
    expectWithin(t.currentA(9, 85), 0.5, rounding)
    expectWithin(t.currentA(8.55, 85), 0.25, rounding)
    expectWithin(t.currentA(8.19, 85), 0.05, rounding)
    expect(t.currentA(8.0999, 85)).toBe(0)
    expect(t.currentA(5, 85)).toBe(0)
    expect(t.currentA(0, 85)).toBe(0)
  })
  test('where the voltage stays level, its last current: 10 V from 1 to 1.5 A, 9 V from 0.5 to 1 A', () => {
    const level = [
      { currentA: 0.5, volts: 9 },
      { currentA: 1, volts: 10 },
      { currentA: 1.5, volts: 10 },
      { currentA: 2, volts: 12 },
    ]
    expectWithin(tables({ forward: level }).currentA(10, 85), 1.5, { rel: 1e-6, because: 'the curve’s level start' })
    const first = [
      { currentA: 0.5, volts: 9 },
      { currentA: 1, volts: 9 },
      { currentA: 2, volts: 12 },
    ]
    expectWithin(tables({ forward: first }).currentA(9, 85), 1, { rel: 1e-6, because: 'the curve’s level start' })
  })
  test('a table that starts at no volts: those drive its first current', () => {
    const forward = [
      { currentA: 0.5, volts: 0 },
      { currentA: 1, volts: 3 },
    ]
    expectWithin(tables({ forward }).currentA(0, 85), 0.5, halved)
  })
  test('a table that starts at no current: 2 V there, 3 V at 1 A; no volts give no current', () => {
    const forward = [
      { currentA: 0, volts: 2 },
      { currentA: 1, volts: 3 },
    ]
    const t = tables({ forward })
    expectWithin(t.currentA(2.5, 85), 0.5, halved)
    expect(t.currentA(1.9, 85)).toBe(0)
    expect(t.currentA(0, 85)).toBe(0)
  })
})

describe('outside the tables', () => {
  const t = () => tables({ fluxByJunction: falling })
  test('half a kelvin beyond an end is borne, more is said', () => {
    for (const c of [24.5, 25, 100, 100.5]) expect(t().outside(1, c)).toEqual([])
    expect(t().outside(1, 24.49)).toEqual(['junction at 24 °C is outside its table (25 to 100)'])
    expect(t().outside(1, 100.51)).toEqual(['junction at 101 °C is outside its table (25 to 100)'])
  })
  test('a thousandth of an ampere beyond an end is borne, more is said', () => {
    for (const a of [0.499, 0.5, 2, 2.001]) expect(t().outside(a, 50)).toEqual([])
    expect(t().outside(0.4567, 50)).toEqual(['current of 0.457 A is outside its table (0.5 to 2)'])
    expect(t().outside(2.0011, 50)).toEqual(['current of 2.001 A is outside its table (0.5 to 2)'])
  })
  test('both are said; nothing of an emitter without current, nor of a table that isn’t there', () => {
    expect(t().outside(3, 200)).toHaveLength(2)
    expect(t().outside(0, 200)).toEqual([])
    expect(tables().outside(1, 200)).toEqual([])
  })
})
