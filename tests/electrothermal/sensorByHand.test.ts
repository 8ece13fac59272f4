// A protection whose sensor lags behind, on a plate of four cells in closed form: 11 W, 0.5 W/K to the air, 967.68 J/K.
import { describe, expect, test } from 'vitest'
import { runMode } from '../../src/electrothermal/transient.ts'
import { expectWithin } from '../kit/expect.ts'
import { coarse, fewCells, lumped, ON } from '../kit/fewCells.ts'

const TAU_S = 967.68 / 0.5
const STEPS = { abs: 0.02, because: 'steps of a fifth of the time gone by, second order' }
const warming = (tS: number) => 20 + 22 * (1 - Math.exp(-tS / TAU_S))

describe('a sensor that lags behind', () => {
  const lagS = 300
  // The plate is 22 K (1 − e^(−t/τ)) over the air; a first-order sensor behind it, from the same start (any textbook on control).
  const reads = (tS: number) =>
    20 + 22 * (1 - (TAU_S * Math.exp(-tS / TAU_S) - lagS * Math.exp(-tS / lagS)) / (TAU_S - lagS))
  test('reads the plate’s warming through its own time constant', () => {
    const { moments } = runMode(lumped(fewCells(), 0.5, { sensor: { cell: null, lagS } }), ON)
    for (const { tS, watchedC } of moments)
      expectWithin(watchedC, reads(tS), { abs: 0.05, because: 'straight lines between steps of a fifth' })
  })
  test('a cut-out of 30 °C opens when the sensor has them, and the plate is hotter by then', () => {
    const over = { sensor: { cell: null, lagS }, protection: { cutOut: { openC: 30 } } }
    const r = runMode(lumped(fewCells(), 0.5, over), ON)
    const openS = r.protection.switched[0]!.atS
    expectWithin(reads(openS), 30, { abs: 0.05, because: 'as before' })
    const at = r.moments.find((m) => m.tS >= openS)!
    expectWithin(at.plateMeanC, warming(openS), STEPS)
    expect(at.plateMeanC).toBeGreaterThan(31.5)
    // The sensor goes on rising for a while: opening and closing follow the sensor, not the plate.
    const closing = runMode(lumped(fewCells(), 0.5, { ...over, protection: { cutOut: { openC: 30, closeC: 29 } } }), ON)
    expect(closing.limit.kind).toBe('cycles')
    const plate = closing.moments.filter((m) => m.tS > openS).map((m) => m.plateMeanC)
    expect(Math.max(...plate) - Math.min(...plate)).toBeGreaterThan(2)
  })
  test('it sits at its own place: the nearest cell of four, and the steady state is read there', () => {
    const cellOf = (xMm: number, yMm: number) =>
      coarse(fewCells({ power: { protection: { sensor: { xMm, yMm, lagS: 7 } } } })).sensor
    const { plate } = coarse(fewCells())
    const cell = (x: number, y: number) => plate.cellAt[y * plate.columns + x]
    expect([cellOf(-90, -90), cellOf(90, -1), cellOf(-1, 60)].map((s) => s.cell)).toEqual([
      ...[cell(0, 0), cell(1, 0), cell(0, 1)],
    ])
    expect([cellOf(0, 0).lagS, coarse(fewCells()).sensor]).toEqual([7, { cell: null, lagS: 0 }])
    // Heat in the left half only: the right half is cooler, and a cut-out there opens later.
    const half = { boardMm: [100, 200], boards: [{ xMm: -50 }] } as const
    const opens = (xMm: number) => {
      const protection = { cutOut: { openC: 32 }, sensor: { xMm, yMm: 0, lagS: 0 } }
      return runMode(coarse(fewCells({ ...half, power: { protection } })), ON).protection.switched[0]!.atS
    }
    expect(opens(50)).toBeGreaterThan(opens(-50) + 10)
  })
})
