import { describe, expect, test } from 'vitest'
import { solveOperatingPoint, solveWorkingPoint } from '../../src/heat/operating.ts'
import type { EmitterType, Lamp } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { spectrumEfficacy } from '../../src/library/spectra.ts'
import { expectWithin } from '../kit/expect.ts'
import { GREEN, oneEmitter } from '../kit/traceHere.ts'

const GREEN_LM_PER_W = spectrumEfficacy(GREEN)

/** 10 W in at 1 A, of which `lightW` leave as light when rated. */
const emitter = (over: Partial<EmitterType> = {}, lightW = 4): EmitterType => ({
  ...oneEmitter().emitterTypes[0]!,
  fluxLm: lightW * GREEN_LM_PER_W,
  forward: [
    { currentA: 0.5, volts: 9 },
    { currentA: 1, volts: 10 },
    { currentA: 2, volts: 12 },
  ],
  thermalResistanceKW: 5,
  ...over,
})
const board = (boardC: number) => ({ kind: 'board' as const, boardC })
const rounding = { rel: 1e-12, because: 'rounding' }

describe('JEDEC JESD51-51 (2012): the real resistance carries the heat alone, V I less the light', () => {
  test('10 W in, 40 % of it light, 5 K/W, board at 85 °C: junction at 115 °C', () => {
    const p = solveWorkingPoint(emitter(), 1, board(85))
    expectWithin(p.junctionC, 115, rounding)
    expectWithin(p.heatW, 6, rounding)
    expectWithin(p.inputW, 10, rounding)
  })
  test('no light: all 10 W are heat, 135 °C', () => {
    expectWithin(solveWorkingPoint(emitter({}, 1e-12), 1, board(85)).junctionC, 135, {
      rel: 1e-9,
      because: '1e-12 W of light',
    })
  })
  test('flux that falls with temperature: T = 85 + 5 (10 − 4 f(T)), f from 1 at 85 °C to 0.8 at 185 °C', () => {
    const p = solveWorkingPoint(
      emitter({
        fluxByJunction: [
          { junctionC: 85, factor: 1 },
          { junctionC: 185, factor: 0.8 },
        ],
      }),
      1,
      board(85),
    )
    // T − 85 = 50 − 20 (1 − 0.002 (T − 85)), so 0.96 (T − 85) = 30.
    expectWithin(p.junctionC, 85 + 30 / 0.96, { rel: 1e-12, because: 'the loop has settled' })
    expectWithin(p.fluxLm, 4 * GREEN_LM_PER_W * (1 - 0.002 * (30 / 0.96)), {
      rel: 1e-12,
      because: 'the loop has settled',
    })
    expect(p.clamped).toEqual([])
  })
})

test('rated: the junction is as stated, the flux is the rated one', () => {
  const p = solveWorkingPoint(emitter({ fluxByJunction: [{ junctionC: 25, factor: 1.1 }] }), 1, { kind: 'rated' })
  expect(p.junctionC).toBe(85)
  expectWithin(p.fluxLm, 4 * GREEN_LM_PER_W, rounding)
})

test('no current: no light, no heat, the board’s temperature', () => {
  expect(solveWorkingPoint(emitter(), 0, board(40))).toEqual({
    fluxLm: 0,
    junctionC: 40,
    volts: 0,
    inputW: 0,
    heatW: 0,
    clamped: [],
  })
})

test('more current: more light, more volts, more heat; a hotter board: less light', () => {
  const type = gannetHead().emitterTypes[0]!
  const top = type.forward[type.forward.length - 1]!.currentA
  let before = solveWorkingPoint(type, 0.02 * top, board(60))
  for (let i = 2; i <= 50; i++) {
    const p = solveWorkingPoint(type, 0.02 * i * top, board(60))
    // Below the table's first current its voltage holds, and warming alone lowers it.
    if (0.02 * (i - 1) * top >= type.forward[0]!.currentA) expect(p.volts).toBeGreaterThanOrEqual(before.volts)
    expect(p.fluxLm).toBeGreaterThan(before.fluxLm)
    expect(p.heatW).toBeGreaterThan(before.heatW)
    before = p
  }
  let last = Number.POSITIVE_INFINITY
  for (let c = 25; c <= 100; c += 5) {
    const { fluxLm } = solveWorkingPoint(type, type.ratedCurrentA, board(c))
    expect(fluxLm).toBeLessThanOrEqual(last)
    last = fluxLm
  }
})

test('a table is met exactly at its own points', () => {
  const type = emitter({
    fluxByCurrent: [
      { currentA: 0.5, factor: 0.55 },
      { currentA: 1, factor: 1 },
      { currentA: 2, factor: 1.7 },
    ],
  })
  for (const { currentA, factor } of type.fluxByCurrent) {
    const p = solveWorkingPoint(type, currentA, { kind: 'rated' })
    expectWithin(p.fluxLm, factor * type.fluxLm, rounding)
    expectWithin(p.volts, type.forward.find((r) => r.currentA === currentA)!.volts, rounding)
    expect(p.clamped).toEqual([])
  }
})

describe('outside a table the end value holds, and that is reported', () => {
  test('current, in the forward table alone', () => {
    const p = solveWorkingPoint(emitter(), 3, { kind: 'rated' })
    expect(p.volts).toBe(12)
    expect(p.clamped).toEqual(['current of 3 A is outside its table (0.5 to 2)'])
  })
  test('current, in both tables: reported once when they end alike', () => {
    const fluxByCurrent = [
      { currentA: 0.5, factor: 0.5 },
      { currentA: 2, factor: 1.8 },
    ]
    const p = solveWorkingPoint(emitter({ fluxByCurrent }), 0.1, { kind: 'rated' })
    expectWithin(p.fluxLm, 0.5 * 4 * GREEN_LM_PER_W, rounding)
    expect(p.clamped).toEqual(['current of 0.1 A is outside its table (0.5 to 2)'])
  })
  test('junction temperature', () => {
    const fluxByJunction = [
      { junctionC: 25, factor: 1.1 },
      { junctionC: 100, factor: 0.95 },
    ]
    const p = solveWorkingPoint(emitter({ fluxByJunction }), 1, board(90))
    expect(p.clamped).toHaveLength(1)
    expect(p.clamped[0]).toMatch(/^junction at 1\d\d °C is outside its table \(25 to 100\)$/)
    expectWithin(p.fluxLm, 0.95 * 4 * GREEN_LM_PER_W, rounding)
  })
})

test('a whole lamp: every emitter in the order of its boards', () => {
  const lamp: Lamp = gannetHead()
  lamp.boards[0]!.currentA = 1
  const { fluxLm, points } = solveOperatingPoint(lamp)
  const sites = lamp.boardTypes[0]!.sites.length
  expect(fluxLm).toHaveLength(sites * lamp.boards.length)
  expect(points).toHaveLength(fluxLm.length)
  const type = lamp.emitterTypes[0]!
  expectWithin(fluxLm[0]!, solveWorkingPoint(type, 1, lamp.heat).fluxLm, rounding)
  expectWithin(fluxLm[sites]!, solveWorkingPoint(type, 2, lamp.heat).fluxLm, rounding)
})
