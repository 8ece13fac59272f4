// Handbook figures that small faults put in by hand got past: each as printed or remembered, the end of its range that makes a lamp hotter or a harm
// sooner. Limits by light by pencil: 0.9 σ (T⁴ − T₀⁴) + 5 W/m²K (T − T₀) in air of 20 °C, three digits, rounded down.
import { describe, expect, test } from 'vitest'
import type { Pack } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { EMISSIVITY, METALS } from '../../src/library/metals.ts'
import {
  BOARD_PLASTIC_LIMIT,
  LINING_LIMITS,
  MATERIALS,
  OPTIC_LIMIT,
  secondsToHarm,
  shareOf,
  thresholds,
} from '../../src/library/thresholds.ts'
import { boardThermalOf, powerOf } from '../../src/library/typicalPower.ts'
import { makeSource } from '../../src/power/supply.ts'
import { expectWithin } from '../kit/expect.ts'

const PENCIL = { rel: 0.003, because: 'with pencil' }

describe('metals', () => {
  // 6061: tables 167, a fit at 293 K 154; 6063-T6 200, T5 209; 1050 222 to 230; copper 388 to 401 W/mK.
  test.each([
    ['aluminium-6061', 154, 160.5],
    ['aluminium-6063', 190, 200],
    ['aluminium-1050', 210, 222],
    ['copper', 370, 388],
  ] as const)('%s conducts no better than the low end of what is printed', (metal, from, to) => {
    expect(METALS[metal].conductivityWmK).toBeGreaterThanOrEqual(from)
    expect(METALS[metal].conductivityWmK).toBeLessThanOrEqual(to)
  })
  test('heat capacities: aluminium 0.90, copper 0.385 J/gK (CRC Handbook: memory)', () => {
    for (const metal of ['aluminium-6061', 'aluminium-6063', 'aluminium-1050'] as const)
      expectWithin(METALS[metal].heatJkgK, 900, { rel: 0.01, because: 'alloys differ by a per cent' })
    expectWithin(METALS.copper.heatJkgK, 385, { rel: 0.005, because: 'as printed' })
  })
  test('what they radiate is no more than the low end: bare sheet 0.09, anodised 0.77 to 0.85, paint 0.9 to 0.96', () => {
    const { bare, anodised, painted } = EMISSIVITY
    expect([bare.value, anodised.value, painted.value]).toEqual([0.09, 0.77, 0.9])
  })
})

describe('what light does harm at', () => {
  test('from so many kW/m² on', () => {
    const least = Object.fromEntries(thresholds(undefined).map(({ id, kWm2 }) => [id, kWm2]))
    expect(least).toEqual({
      // Published: skin 1, wood 4.3 (Babrauskas), car paint 1 kW/m².
      ...{ skin: 1, timber: 4.3, 'car-paint': 1 },
      // 300, 230, 250 °C.
      ...{ 'dry-grass': 6.53, paper: 3.94, 'dark-cloth': 4.59 },
      // 90, 76, 70, 160, 105 °C.
      ...{ 'lit-surface': 0.86, 'black-plastic': 0.661, pvc: 0.58, 'synthetic-cloth': 2.11, polyethylene: 1.09 },
    })
  })
  test('skin is judged over the 3.5 mm of its limits (IEC 60825-1, ICNIRP: memory)', () => {
    expect(MATERIALS.skin.discMm).toBe(3.5)
  })
  // Thin: ρcd ΔT/q; thick: π/4 kρc (ΔT/q)²; the sooner counts. From 20 °C.
  test.each([
    // 1 mm of ABS, 1.365 kJ/m²K, 56 K.
    ['black-plastic', 1, 76.4],
    // 0.1 mm of paper, 0.1072 kJ/m²K, 210 K.
    ['paper', 10, 2.251],
    // Cotton, kρc 0.0208, 230 K: so strong a light doesn't wait for its back.
    ['dark-cloth', 100, 0.0864],
    // Softwood, kρc 0.0585, 230 K.
    ['timber', 10, 24.3],
    // A bag of 0.05 mm, 0.0874 kJ/m²K, 85 K.
    ['polyethylene', 5, 1.486],
    // A sleeve of 0.5 mm, 0.585 kJ/m²K, 50 K.
    ['pvc', 1, 29.25],
  ] as const)('%s at %f kW/m²: %f s', (id, kWm2, seconds) => {
    const row = thresholds(undefined).find((t) => t.id === id)!
    expectWithin(secondsToHarm(row, kWm2, 20)!, seconds, PENCIL)
  })
  test('a limit of nothing, in air that does the harm by itself, is reached', () => expect(shareOf(0, 0)).toBe(1))
  test('linings, small optics, plastic beside boards: the low end of each (memory)', () => {
    expect(LINING_LIMITS.map((l) => l.limitC)).toEqual([60, 80, 120])
    expect([OPTIC_LIMIT.limitC, BOARD_PLASTIC_LIMIT.limitC]).toEqual([70, 70])
  })
})

describe('what is taken where a document says nothing', () => {
  const lamp = gannetHead()
  test('a board: 100 µm at 2 W/mK under a body of 3.5 mm, 4.08 K/W; paste of 0.3 K·cm²/W (memory)', () => {
    const { thermal: _, ...type } = lamp.boardTypes[0]!
    const { value } = boardThermalOf(type, { ...lamp.emitterTypes[0]!, bodyMm: 3.5 })
    expectWithin(value.padKW, 4.082, PENCIL)
    expect(value.jointKcm2W).toBe(0.3)
  })
  test('drivers lose 8 %, and the supply is no pack', () => {
    const { power: _, ...bare } = lamp
    const { drivers, supply } = powerOf(bare).value
    expect([drivers[0]!.efficiency, supply.kind]).toEqual([0.92, 'fixed'])
  })
  test('full cells: lithium ion 4.2 V, iron phosphate 3.6 V, nickel–metal hydride 1.42 V, lead 2.13 V (memory)', () => {
    const volts = (chemistry: Pack['chemistry']) =>
      makeSource({ ...(lamp.power!.supply as Pack), chemistry, series: 1 }).openV(1)
    expect((['li-ion', 'lifepo4', 'nimh', 'lead-acid'] as const).map(volts)).toEqual([4.2, 3.6, 1.42, 2.13])
  })
})
