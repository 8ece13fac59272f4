// Steady states and cooling of a plate of four cells, in closed form: 11 W of heat, 0.5 W/K to the air, 967.68 J/K.
import { describe, expect, test } from 'vitest'
import type { PowerModel } from '../../src/electrothermal/model.ts'
import { coolHalfSeconds, solveSteadyState } from '../../src/electrothermal/steady.ts'
import { makeEvenTemperatures } from '../../src/heat/plateTemperatures.ts'
import type { Lamp, Mode } from '../../src/lamp/schema.ts'
import { expectWithin } from '../kit/expect.ts'
import { fewCells, lumped, ON, sourceOf, TWO_HALVES } from '../kit/fewCells.ts'

/** The search for the mean halves 380 K eighteen times: within 0.0008 K. */
const SEARCH = { abs: 0.002, because: '380 K halved eighteen times' }
const steadyOf = (lamp: Lamp, wattPerK = 0.5, over: Partial<PowerModel> = {}, share = 1, mode = ON) =>
  solveSteadyState(lumped(lamp, wattPerK, over), mode, share)

describe('steady state', () => {
  test('P R over the air: 42 °C, the junction 5.5 K more', () => {
    const s = steadyOf(fewCells())!
    expectWithin(s.plateMeanC, 42, SEARCH)
    expectWithin(s.plateMaxC, 42, SEARCH)
    expectWithin(s.junctionMaxC, 47.5, SEARCH)
    expectWithin(s.lm, 683, { rel: 1e-9, because: 'its flux at 4 A' })
    expect(s).toMatchObject({ boardIndex: 0, bearable: true })
  })
  test('half of the current: 5.5 W', () => {
    const s = steadyOf(fewCells(), 0.5, {}, 0.5)!
    expectWithin(s.plateMeanC, 31, SEARCH)
    expectWithin(s.lm, 341.5, { rel: 1e-9, because: 'flux in proportion' })
  })
  test('bearable up to the junctions’ limit', () => {
    const bearable = (maxJunctionC: number) => steadyOf(fewCells({ emitter: { maxJunctionC } }))!.bearable
    expect([bearable(47.45), bearable(47.55)]).toEqual([false, true])
  })
  test('none over 400 °C: 11 W at 28.95 mW/K are 380 K', () => {
    expect(steadyOf(fewCells(), 0.0289)).toBeNull()
    expectWithin(steadyOf(fewCells(), 0.029)!.plateMeanC, 20 + 11 / 0.029, {
      abs: 0.01,
      because: 'the search, times 1',
    })
  })
  test('voltage that falls by 0.5 %/K: 11 W − 0.06 W/K · x = 0.5 W/K · x', () => {
    const forwardByJunction = [
      { junctionC: 20, factor: 1 },
      { junctionC: 120, factor: 0.5 },
    ]
    const s = steadyOf(fewCells({ emitter: { thermalResistanceKW: 0, forwardByJunction } }))!
    expectWithin(s.plateMeanC, 20 + 11 / 0.56, { abs: 0.02, because: 'junctions settle within 0.2 K, times 0.06/0.56' })
  })
  test('one warm half: 11 W over 0.25 W/K of its own and 3.2 W/K to the other half', () => {
    const lamp = fewCells({ ...TWO_HALVES, boards: [{ xMm: -50, currentA: 0 }, { xMm: 50 }] })
    const s = steadyOf(lamp)!
    // L + R = 44 K, (0.25 + 6.4)(R − L) = 11 W.
    const half = 11 / 6.65 / 2
    expectWithin(s.plateMeanC, 42, SEARCH)
    expectWithin(s.plateMaxC, 42 + half, SEARCH)
    expectWithin(s.junctionMaxC, 47.5 + half, SEARCH)
    expect(s.boardIndex).toBe(1)
    const left = fewCells({ ...TWO_HALVES, boards: [{ xMm: -50 }, { xMm: 50, currentA: 0 }] })
    expect(steadyOf(left)!.boardIndex).toBe(0)
    expectWithin(steadyOf(left)!.junctionMaxC, 47.5 + half, SEARCH)
  })
  test('its voltage is that of its own half: h = 11 W − 0.06 W/K · x, x = h (2 + 1/13.3) K/W', () => {
    const forwardByJunction = [
      { junctionC: 20, factor: 1 },
      { junctionC: 120, factor: 0.5 },
    ]
    const boards = [{ xMm: -50, currentA: 0 }, { xMm: 50 }]
    const s = steadyOf(fewCells({ ...TWO_HALVES, boards, emitter: { thermalResistanceKW: 0, forwardByJunction } }))!
    const h = 11 / (1 + 0.06 * (2 + 1 / 13.3))
    expectWithin(s.plateMeanC, 20 + 2 * h, { abs: 0.02, because: 'junctions settle within 0.2 K, times 0.06/0.56' })
    expectWithin(s.junctionMaxC, 20 + h * (2 + 1 / 13.3), { abs: 0.02, because: 'as before' })
  })
  test('the front over a board counts into its hottest place', () => {
    const model = lumped(fewCells())
    const hotter = { ...model, rise: { ...model.rise, faceKW: [Float64Array.of(0, 0, 0.3, 0)] } }
    expectWithin(solveSteadyState(hotter, ON, 1)!.plateMaxC, 42 + 3.3, SEARCH)
    const rise = { ...model.rise, hotKW: Float64Array.of(0.2), meanKW: Float64Array.of(0.1) }
    const s = solveSteadyState({ ...model, rise }, ON, 1)!
    expectWithin(s.plateMaxC, 42 + 2.2, SEARCH)
    expectWithin(s.junctionMaxC, 42 + 2.2 + 5.5, SEARCH)
    expectWithin(s.plateMeanC, 42, SEARCH)
  })
  test('at the charge of the start; none where the supply is overloaded', () => {
    const half = sourceOf({ openV: (q) => (q === 0.5 ? 12 : 1), charged: 0.5 })
    expectWithin(steadyOf(fewCells(), 0.5, { source: half })!.lm, 683, { rel: 1e-9, because: '12 V at that charge' })
    // 10 Ω give no more than 3.6 W at 6 V, under which the driver lets go.
    expect(steadyOf(fewCells(), 0.5, { source: sourceOf({ ohm: 10 }) })).toBeNull()
  })
  test('nothing wanted: the air’s temperature', () => {
    const off: Mode = { ...ON, share: 0 }
    const s = steadyOf(fewCells(), 0.5, {}, 1, off)!
    expectWithin(s.plateMeanC, 20, SEARCH)
    expect(s.lm).toBe(0)
  })
})

describe('with a protection', () => {
  const foldBack = { startC: 30, endC: 40, leastShare: 0.2 }
  // T = 20 + 22 s and s = 1 − 0.08 (T − 30): T = 94.8/2.76.
  const T = 94.8 / 2.76

  test('the fold-back settles where T = T_a + R P s(T)', () => {
    const s = steadyOf(fewCells(), 0.5, { protection: { foldBack } })!
    expectWithin(s.plateMeanC, T, SEARCH)
    expectWithin(s.lm, 683 * ((T - 20) / 22), { rel: 2e-4, because: 'the search for the mean, times 0.08/K' })
  })
  test('a cut-out that opens at or below it leaves none; one above does', () => {
    const at = (openC: number, fold = false) =>
      steadyOf(fewCells(), 0.5, { protection: { cutOut: { openC }, ...(fold ? { foldBack } : {}) } }) !== null
    expect([at(41.99), at(42.01)]).toEqual([false, true])
    expect([at(T - 0.01, true), at(T + 0.01, true)]).toEqual([false, true])
  })
  test('a lamp that would pass 400 °C rests where the fold-back holds it; not where it leaves too much', () => {
    const to = (leastShare: number) =>
      steadyOf(fewCells(), 0.02, { protection: { foldBack: { startC: 30, endC: 50, leastShare } } })
    // 550 K · s = T − 20, s = 1 − (T − 30)/20: T = 20 + 550 · 1.5/28.5 … by T (1 + 27.5) = 20 + 1375.
    expectWithin(to(0)!.plateMeanC, 1395 / 28.5, {
      abs: 0.01,
      because: 'a share within 1e-6, times 550 K, and the search',
    })
    expect(to(0.9)).toBeNull()
  })
})

describe('cooling', () => {
  const half = (model: PowerModel, fromC: number) => coolHalfSeconds(model, makeEvenTemperatures(model.plate, fromC))

  test('R C ln 2: 967.68 J/K at 0.5 W/K, 1341.5 s', () => {
    const tau = 967.68 / 0.5
    expectWithin(half(lumped(fewCells()), 60)!, tau * Math.LN2, { rel: 0.003, because: 'straight between two moments' })
    expectWithin(half(lumped(fewCells(), 5), 60)!, (tau / 10) * Math.LN2, { rel: 0.003, because: 'as before' })
  })
  test('a rise of 5 K is cooled, a smaller one is not worth it', () => {
    expectWithin(half(lumped(fewCells()), 25)!, (967.68 / 0.5) * Math.LN2, { rel: 0.003, because: 'as before' })
    expect(half(lumped(fewCells()), 24.99)).toBeNull()
  })
  test('a loss with the square of the rise, g θ²: θ = θ₀/(1 + g θ₀ t/C), half at C/(g θ₀)', () => {
    const model = lumped(fewCells())
    const g = 0.01
    const at = (c: number) => ({ base: g * Math.max(0, c - 20), link: 0, fin: 0 })
    // Held at its start, half would be gone after ln 2 of that.
    expectWithin(half({ ...model, sink: { ...model.sink, at } }, 80)!, 967.68 / (g * 60), {
      rel: 0.06,
      because: 'the air’s part lags by a tenth at most, and by a step',
    })
  })
})
