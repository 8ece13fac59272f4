// Each correlation where its printed form is worked out apart from this program, and on both sides of each limit between two laws.
import { describe, expect, test } from 'vitest'
import { airAt, rayleigh } from '../../src/heat/air.ts'
import {
  blownCylinder,
  blownFins,
  blownPlate,
  finsUp,
  hotSideDown,
  hotSideUp,
  JOINED,
  joinedFilm,
  levelCylinder,
  verticalPlate,
  verticalPlateLaminar,
} from '../../src/heat/convection.ts'
import { finEfficiency, overhangWK, pinEfficiency } from '../../src/heat/fins.ts'
import { spreadingResistance } from '../../src/heat/spreading.ts'
import { expectWithin } from '../kit/expect.ts'

const worked = { rel: 1e-7, because: 'eight digits, from the formula worked apart from this program' }

describe('air', () => {
  test('at 0 °C: Sutherland’s viscosity 1.458e-6 T^1.5/(T + 110.4) over 101325/(287.053 T)', () => {
    const t = 273.15
    const density = 101_325 / (287.053 * t)
    const air = airAt(0)
    expectWithin(air.kinematic, (1.458e-6 * t * Math.sqrt(t)) / 383.55 / density, worked)
    expectWithin(air.densityKgM3, density, worked)
    expectWithin(air.expansion, 1 / 273.15, worked)
    expect(air.heatJkgK).toBe(1006)
  })
  test('Pr is viscosity × heat / conductivity: 0.711 at 15 °C of the standard atmosphere’s 1.7894e-5 Pa s and 0.025326 W/mK', () => {
    const air = airAt(15)
    expectWithin(air.prandtl, (1.7894e-5 * 1006) / 0.025326, { rel: 1e-3, because: 'as printed' })
    expectWithin(air.diffusivity, 0.025326 / (1.225 * 1006), { rel: 1e-3, because: 'as printed' })
  })
  test('Ra is the same for a plate that is colder than the air', () => {
    expect(rayleigh(airAt(20), 0.1, -30)).toBe(rayleigh(airAt(20), 0.1, 30))
  })
})

describe('still air', () => {
  test('Ra 1e6, Pr 7 (water): upright plate 19.976670, its laminar form 20.042886, level cylinder 17.892146', () => {
    expectWithin(verticalPlate(1e6, 7), 19.976669858, worked)
    expectWithin(verticalPlateLaminar(1e6, 7), 20.042885541, worked)
    expectWithin(levelCylinder(1e6, 7), 17.892146278, worked)
  })
  test('hot side up: 0.54 Ra^¼ under Ra 1e7, 0.15 Ra^⅓ from there on (McAdams’ ranges)', () => {
    expectWithin(hotSideUp(0.9999999e7), 30.366431, { rel: 1e-6, because: 'just under the limit' })
    expectWithin(hotSideUp(1e7), 32.31652, worked)
    expectWithin(hotSideDown(1e7), 15.183215780139426, worked)
  })
  test('fins upright on a level base: Ra 1e4 gives 2.6915792, Ra 100 gives 0.066855326', () => {
    expectWithin(finsUp(1e4), 2.6915792179395237, worked)
    expectWithin(finsUp(100), 0.0668553256321788, worked)
  })
})

describe('moved air', () => {
  test('fins: Re* 10, Pr 0.7: developed 3.5, developing 2.7364043, together 2.4023261', () => {
    expectWithin(blownFins(10, 0.7), 2.4023260673485494, worked)
    expectWithin(blownFins(0.1, 0.7), 0.03499826244305484, worked)
  })
  test('fins: no speed, no film', () => {
    expect(blownFins(0, 0.7)).toBe(0)
    expect(blownFins(-1, 0.7)).toBe(0)
  })
  test('flat plate: laminar under Re 5e5, from there (0.037 Re^0.8 − 871) Pr^⅓', () => {
    expectWithin(blownPlate(499_999.9, 0.7), 416.88767, { rel: 1e-6, because: 'just under the limit' })
    expectWithin(blownPlate(5e5, 0.7), 417.17492744019734, worked)
    expectWithin(blownPlate(1e6, 0.7), 1299.4849535257342, worked)
  })
  test('cylinder: Incropera and DeWitt, worked example 7.4 (memory): Re 6071, Pr 0.70: Nu 40.6; Re 1e4: 53.327789, in water of Pr 2 79.993990', () => {
    expectWithin(blownCylinder(6071, 0.7), 40.6, { abs: 0.05, because: 'printed digits' })
    expectWithin(blownCylinder(1e4, 0.7), 53.32778867020997, worked)
    expectWithin(blownCylinder(1e4, 2), 79.99398950686583, worked)
    expect(blownCylinder(0, 0.7)).toBe(0.3)
  })
  test('still and moved air are joined by the exponents 3 upright, 7/2 level and 4 about cylinders (Incropera and DeWitt, § 9.9)', () => {
    expect(JOINED).toEqual({ upright: 3, level: 3.5, cylinder: 4 })
    expectWithin(joinedFilm(3, 4, 2), 5, worked)
  })
})

describe('fins', () => {
  test('what stands out 50 mm, of a fin 40 mm high and 2 mm thick, 200 W/mK, film 10', () => {
    // m = √(20/0.4) = 7.0710678; alone k t H m tanh(m · 51 mm) = 0.039118726 W/K; edge (2 ln 2/π)/(k t) = 1.1031780 K/W; η 0.97289426.
    expectWithin(overhangWK(10, 200, 0.002, 0.04, 0.05), 0.03648392346673605, worked)
  })
  test('nothing stands out, nothing is added', () => {
    expect(overhangWK(10, 200, 0.002, 0.04, 0)).toBe(0)
    expect(overhangWK(10, 200, 0.002, 0.04, -0.01)).toBe(0)
  })
  test('where nothing is given off all of a pin counts, where much is 1/(mL)', () => {
    expect(pinEfficiency(0, 200, 0.002, 0.04)).toBe(1)
    // m = √(4 · 2e4 / (0.02 · 100)) = 200, L = 0.495 + 0.005 m: mL = 100.
    expectWithin(pinEfficiency(2e4, 100, 0.02, 0.495), 0.01, worked)
    // m = √(2 · 1e4 / (0.02 · 100)) = 100, L = 0.99 + 0.01 m: mL = 100.
    expectWithin(finEfficiency(1e4, 100, 0.02, 0.99), 0.01, worked)
  })
})

test('spreading: none where the source covers the plate or more', () => {
  const s = { sourceM: 0.01, plateM: 0.05, thicknessM: 0.005, conductivityWmK: 200, film: 1000 }
  expect(spreadingResistance({ ...s, sourceM: 0.05 })).toEqual({ maxKW: 0, meanKW: 0 })
  expect(spreadingResistance({ ...s, sourceM: 0.1 })).toEqual({ maxKW: 0, meanKW: 0 })
})
