// Working points by hand: 10 V at 1 A and 2 Ω about it, 683 lm a watt of light, 5 K/W.
import { describe, expect, test } from 'vitest'
import { solveOperatingPoint, solveWorkingPoint } from '../../src/heat/operating.ts'
import type { EmitterType } from '../../src/lamp/schema.ts'
import { spectrumEfficacy } from '../../src/library/spectra.ts'
import { expectWithin } from '../kit/expect.ts'
import { GREEN, oneEmitter } from '../kit/traceHere.ts'

const rounding = { rel: 1e-12, because: 'rounding' }
const settled = { rel: 1e-11, because: 'the loop has settled' }

/** `lightW` leave as light at the rated 0.5 A. */
const emitter = (over: Partial<EmitterType> = {}, lightW = 2): EmitterType => ({
  ...oneEmitter().emitterTypes[0]!,
  fluxLm: lightW * spectrumEfficacy(GREEN),
  ratedCurrentA: 0.5,
  forward: [
    { currentA: 0.5, volts: 9 },
    { currentA: 1, volts: 10 },
    { currentA: 2, volts: 12 },
  ],
  thermalResistanceKW: 5,
  ...over,
})
const board = (boardC: number) => ({ kind: 'board' as const, boardC })

describe('rated', () => {
  test('twice the rated current, twice the light: 10 W in, 4 W of light, 6 W of heat', () => {
    const p = solveWorkingPoint(emitter(), 1, { kind: 'rated' })
    expectWithin(p.fluxLm, 4 * spectrumEfficacy(GREEN), rounding)
    expectWithin(p.inputW, 10, rounding)
    expectWithin(p.heatW, 6, rounding)
    expectWithin(p.volts, 10, rounding)
    expect(p.junctionC).toBe(85)
  })
  test('voltage by junction holds at the rated junction: halfway from 1.2 to 0.8', () => {
    const forwardByJunction = [
      { junctionC: 45, factor: 1.2 },
      { junctionC: 125, factor: 0.8 },
    ]
    const at = (ratedJunctionC: number) =>
      solveWorkingPoint(emitter({ forwardByJunction, ratedJunctionC }), 1, { kind: 'rated' }).volts
    expectWithin(at(85), 10, rounding)
    expectWithin(at(65), 11, rounding)
  })
  test('no current: the rated junction, nothing in and nothing out', () => {
    expect(solveWorkingPoint(emitter(), 0, { kind: 'rated' })).toEqual({
      ...{ fluxLm: 0, junctionC: 85, volts: 0, inputW: 0, heatW: 0 },
      clamped: [],
    })
  })
})

describe('on a board', () => {
  test('voltage that falls with temperature: T = 60 + 5 (10 f(T) − 4), f from 1 at 60 °C to 0.8 at 160 °C', () => {
    const forwardByJunction = [
      { junctionC: 60, factor: 1 },
      { junctionC: 160, factor: 0.8 },
    ]
    const p = solveWorkingPoint(emitter({ forwardByJunction }), 1, board(60))
    // T − 60 = 50 (1 − 0.002 (T − 60)) − 20, so 1.1 (T − 60) = 30.
    expectWithin(p.junctionC, 60 + 30 / 1.1, settled)
    expectWithin(p.volts, 10 * (1 - 0.06 / 1.1), settled)
    expectWithin(p.heatW, 6 / 1.1, settled)
    expect(p.clamped).toEqual([])
  })
  test('at 2 A: 24 W in, 8 W of light, 16 W and 80 K of heat', () => {
    const p = solveWorkingPoint(emitter(), 2, board(20))
    expectWithin(p.inputW, 24, rounding)
    expectWithin(p.volts, 12, rounding)
    expectWithin(p.junctionC, 100, rounding)
  })
  test('more light than goes in leaves no heat, not less than none', () => {
    const p = solveWorkingPoint(emitter({}, 20), 1, board(60))
    expect(p.heatW).toBe(0)
    expect(p.junctionC).toBe(60)
    expect(solveWorkingPoint(emitter({}, 20), 1, { kind: 'rated' }).heatW).toBe(0)
  })
  test('a table that only the way to the answer leaves is not reported: first 75 + 5 · 6 = 105 °C, then 75 + 5 · 4', () => {
    const fluxByJunction = [
      { junctionC: 25, factor: 1.5 },
      { junctionC: 100, factor: 1.5 },
    ]
    const p = solveWorkingPoint(emitter({ fluxByJunction }), 1, board(75))
    expectWithin(p.junctionC, 95, settled)
    expect(p.clamped).toEqual([])
  })
})

describe('a table’s ends', () => {
  const ends = {
    fluxByJunction: [
      { junctionC: 95, factor: 1 },
      { junctionC: 105, factor: 1 },
    ],
  }
  test('at its first and last row nothing is reported, beyond them it is', () => {
    // No light: 10 W of heat are 50 K.
    const clamped = (boardC: number) => solveWorkingPoint(emitter(ends, 1e-30), 1, board(boardC)).clamped
    expect(clamped(45)).toEqual([])
    expect(clamped(55)).toEqual([])
    expect(clamped(44)).toEqual(['junction at 94 °C is outside its table (95 to 105)'])
    expect(clamped(56)).toEqual(['junction at 106 °C is outside its table (95 to 105)'])
  })
  test('a table of one row is a constant, and any other current is outside it', () => {
    const p = solveWorkingPoint(emitter({ forward: [{ currentA: 1, volts: 3 }] }), 2, { kind: 'rated' })
    expect(p.volts).toBe(3)
    expect(p.clamped).toEqual(['current of 2 A is outside its table (1 to 1)'])
    expect(solveWorkingPoint(emitter({ forward: [] }), 1, { kind: 'rated' }).volts).toBe(0)
  })
})

test('a lamp: flux and points of each emitter, by its type and its board’s current', () => {
  const lamp = oneEmitter({
    fluxLm: 100,
    sites: [
      { xMm: -1, yMm: 0 },
      { xMm: 1, yMm: 0 },
    ],
  })
  const [type] = lamp.boardTypes
  const [one] = lamp.boards
  if (!type || !one) throw new Error('one board, one type')
  lamp.emitterTypes.push({ ...emitter(), id: 'other' })
  lamp.boardTypes.push({ ...type, id: 'c', emitter: 'other' })
  lamp.boards.push({ ...one, id: 'B2', currentA: 2 }, { ...one, id: 'B3', type: 'c', currentA: 2 })
  lamp.heat = { kind: 'rated' }
  const { fluxLm, points } = solveOperatingPoint(lamp)
  // 100 lm at 1 A; the other 2 W of light at 0.5 A.
  const other = 8 * spectrumEfficacy(GREEN)
  const expected = [100, 100, 200, 200, other, other]
  expect(fluxLm).toHaveLength(6)
  for (const [i, lm] of expected.entries()) expectWithin(fluxLm[i] ?? 0, lm, rounding)
  expect(points.map((p) => p.volts)).toEqual([3, 3, 3, 3, 12, 12])
})
