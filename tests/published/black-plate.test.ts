// Balance of a lit plate with its losses, by hand. Rows 4.28 and 4.29 of the check values: Stefan-Boltzmann constant of CODATA 2018; a
// black surface that takes in q and loses σ(T⁴ − T₀⁴) + 15 (T − T₀), T₀ 20 °C (derived).
import { expect, test } from 'vitest'
import { absorbedBySheet, lostKWm2, steadyTemperatureC } from '../../src/hazard/balance.ts'
import { expectWithin } from '../kit/expect.ts'

const black = { ambientC: 20, sides: 1, emissivity: 1, filmWm2K: 15 } as const

test.each([
  [5, 196.83],
  [10, 301.72],
  [16, 388.8],
  [30, 523.71],
])('%i kW/m² on a black plate: %f °C', (takenKWm2, celsius) => {
  expectWithin(steadyTemperatureC({ ...black, takenKWm2 }), celsius, { abs: 0.006, because: 'printed digits' })
})

test.each([
  [300, 459.3],
  [350, 850.911],
  [400, 1451.616],
  [1000, 56_703.7],
])('σT⁴ at %i K: %f W/m²', (kelvin, wattsM2) => {
  const toSpace = lostKWm2(kelvin - 273.15, { ambientC: -273.15, emissivity: 1, filmWm2K: 0 })
  expectWithin(1000 * toSpace, wattsM2, { rel: 1e-5, because: 'printed digits' })
})

test('a grey plate of emissivity 0.5 that loses heat on both sides, by hand: 100 °C in air of 20 °C, 5 W/m²K', () => {
  // 2 · (0.5 · 5.670374e-8 · (373.15⁴ − 293.15⁴) + 5 · 80) = 2 · (340.326 + 400) W/m²
  const byHand = 2 * (0.5 * 5.670374419e-8 * (373.15 ** 4 - 293.15 ** 4) + 400)
  const plate = { ambientC: 20, sides: 2, emissivity: 0.5, filmWm2K: 5 } as const
  expectWithin(byHand, 1480.7, { abs: 0.1, because: 'worked with pencil to four digits' })
  expectWithin(steadyTemperatureC({ ...plate, takenKWm2: byHand / 1000 }), 100, {
    abs: 1e-4,
    because: 'the root’s tolerance',
  })
})

test('nothing taken in: the air’s temperature; more taken in is never cooler', () => {
  expect(steadyTemperatureC({ ...black, takenKWm2: 0 })).toBe(20)
  let last = 20
  for (let q = 0.01; q < 1000; q *= 1.7) {
    const now = steadyTemperatureC({ takenKWm2: q, ambientC: 20 })
    expect(now).toBeGreaterThan(last)
    last = now
  }
})

test('3 mm of acrylic straight through: the other sample of row 2.6 passes 0.98449', () => {
  // 5.21 per metre over 3 mm; an index without bound makes every way through the straight one.
  expectWithin(1 - absorbedBySheet(5.21e-3, 3, 1e6), 0.98449, { abs: 1e-5, because: 'printed digits' })
  expect(absorbedBySheet(5.21e-3, 3, 1.49)).toBeGreaterThan(1 - 0.98449)
})
