// Natural and forced convection, fins and radiation against worked values.
import { describe, expect, test } from 'vitest'
import { airAt, rayleigh, STEFAN_BOLTZMANN, ZERO_C } from '../../src/heat/air.ts'
import {
  blownPlate,
  channel,
  hotSideDown,
  hotSideUp,
  levelCylinder,
  verticalPlate,
  verticalPlateLaminar,
} from '../../src/heat/convection.ts'
import { finEfficiency, pinEfficiency } from '../../src/heat/fins.ts'
import { expectWithin } from '../kit/expect.ts'

const printed = { rel: 1e-6, because: 'as printed' }

describe('Churchill and Chu 1975, upright plate (formula from memory, values derived from it apart from this program)', () => {
  test.each([
    [1e7, 0.7, 31.15625],
    [1e9, 0.7, 122.6151],
  ])('all Ra: Ra %d, Pr %d: Nu %d', (ra, pr, nu) => expectWithin(verticalPlate(ra, pr), nu, printed))
  test.each([
    [1e7, 0.7, 29.55206],
    [1e9, 0.7, 91.98146],
  ])('laminar: Ra %d, Pr %d: Nu %d', (ra, pr, nu) => expectWithin(verticalPlateLaminar(ra, pr), nu, printed))

  test('worked: 0.2 m high, 80 °C in air of 20 °C: Ra 3.084e7, h 6.04 W/m²K (air from a handbook’s table, memory)', () => {
    const [nu, alpha, k, pr] = [1.82189e-5, 2.59262e-5, 0.0280131, 0.703759]
    const table = { ...airAt(50), kinematic: nu, diffusivity: alpha, conductivityWmK: k, prandtl: pr }
    const ra = rayleigh(table, 0.2, 60)
    expectWithin(ra, 3.083876e7, printed)
    expectWithin((verticalPlate(ra, pr) * k) / 0.2, 6.0389, { rel: 2e-5, because: 'as printed' })
    expectWithin((verticalPlateLaminar(ra, pr) * k) / 0.2, 5.4575, { rel: 2e-5, because: 'as printed' })
    // With this program's own air.
    const air = airAt(50)
    expectWithin((verticalPlate(rayleigh(air, 0.2, 60), air.prandtl) * air.conductivityWmK) / 0.2, 6.0389, {
      rel: 0.015,
      because: 'a formula of air against a table of it',
    })
  })
})

describe('McAdams 1954, level plate, in the form of Incropera and DeWitt (second-hand)', () => {
  test.each([
    [1e6, 17.0763],
    [1e8, 69.6238],
  ])('hot side up, Ra %d: %d', (ra, nu) => expectWithin(hotSideUp(ra), nu, printed))
  test('hot side down, Ra 1e6: 8.53815', () => expectWithin(hotSideDown(1e6), 8.53815, printed))
})

test('Churchill and Chu 1975, level cylinder: Incropera and DeWitt, worked example 9.4 (memory): Ra 5.073e6, Pr 0.697: Nu 23.3', () => {
  expectWithin(levelCylinder(5.073e6, 0.697), 23.3, { rel: 0.01, because: 'the book rounds on the way' })
})

describe('Bar-Cohen and Rohsenow 1984, upright channel of isothermal walls', () => {
  test('wide: a lone plate, 0.59 Ra^¼; narrow: Ra/24', () => {
    // Of the spacing: Nu = 0.59 (Ra s/L)^¼ far apart; ½ Ra s/L · 1/12 when the air leaves as warm as the walls.
    expectWithin(channel(1e8), 2.873 ** -0.5 * 1e8 ** 0.25, { rel: 1e-4, because: 'the wide limit' })
    expectWithin(channel(1e-3), 1e-3 / 24, { rel: 1e-4, because: 'the narrow limit' })
  })
  test('the best spacing is 2.714 P^-¼ (their table 1)', () => {
    // h per height of a stack goes as Nu(s)/s / (s + t), t → 0; P = Ra s/L / s⁴.
    const P = 1e10
    const gain = (s: number) => channel(P * s ** 4) / s / s
    let best = 0.001
    for (let s = 0.001; s < 0.05; s += 1e-5) if (gain(s) > gain(best)) best = s
    expectWithin(best * P ** 0.25, 2.714, { abs: 0.005, because: 'printed digits and the search’s steps' })
  })
})

test('laminar plate: Incropera and DeWitt, worked example 7.1 (memory): Re 9597, Pr 0.687: Nu 57.4', () => {
  expectWithin(blownPlate(9597, 0.687), 57.4, { abs: 0.1, because: 'printed digits' })
})

describe('fin efficiency tanh(mL)/(mL) (Harper and Brown 1922; Incropera and DeWitt § 3.6)', () => {
  test('by hand: aluminium 200 W/mK, 2 mm, 38 mm (+ 1), h 10: m 7.0711, mL 0.275772, η 0.975398', () => {
    expectWithin(finEfficiency(10, 200, 0.002, 0.038), 0.975398, { rel: 1e-5, because: 'six digits by hand' })
  })
  test('pin by hand: copper 400 W/mK, 5 mm, 98.75 mm (+ 1.25), h 100: m 14.1421, mL 1.41421, η 0.628183', () => {
    expectWithin(pinEfficiency(100, 400, 0.005, 0.09875), 0.628183, { rel: 1e-5, because: 'six digits by hand' })
  })
  test('nothing given off: all of it counts', () => expect(finEfficiency(0, 200, 0.002, 0.04)).toBe(1))
})

test('radiation: ε 0.9, 350 K to 298.15 K: 362.552 W/m²', () => {
  expectWithin(0.9 * STEFAN_BOLTZMANN * (350 ** 4 - 298.15 ** 4), 362.552, { rel: 1e-5, because: 'as printed' })
  expect(ZERO_C).toBe(273.15)
})

test('air: US Standard Atmosphere 1976 at 15 °C: 1.2250 kg/m³, 1.4607e-5 m²/s, 0.025326 W/mK (memory)', () => {
  const air = airAt(15)
  expectWithin(air.densityKgM3, 1.225, { rel: 1e-4, because: 'as printed' })
  expectWithin(air.kinematic, 1.4607e-5, { rel: 1e-3, because: 'as printed' })
  expectWithin(air.conductivityWmK, 0.025326, { rel: 1e-3, because: 'as printed' })
})
