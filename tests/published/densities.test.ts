// Densities of what lamps are made of, and masses of copper wire, against values of others. Those from memory say so.
import { describe, expect, test } from 'vitest'
import { wireGramsPerM } from '../../src/bill/powerParts.ts'
import { LENS_MATERIALS } from '../../src/library/materials.ts'
import { METALS } from '../../src/library/metals.ts'
import { COPPER_WIRE } from '../../src/library/wireBuild.ts'
import { gaugeAreaMm2 } from '../../src/power/wire.ts'
import { expectWithin } from '../kit/expect.ts'

const range = (value: number, from: number, to: number) => {
  expect(value).toBeGreaterThanOrEqual(from)
  expect(value).toBeLessThanOrEqual(to)
}

describe('metals, kg/m³', () => {
  // ASM Handbook, vol. 2 (1990), properties of wrought aluminium: 6061 2.70, 6063 2.69, 1050 2.705 g/cm³ (memory).
  test.each([
    ['aluminium-6061', 2700],
    ['aluminium-6063', 2690],
    ['aluminium-1050', 2705],
  ] as const)('%s', (metal, kgM3) => {
    expectWithin(METALS[metal].densityKgM3, kgM3, { rel: 0.005, because: 'alloys vary by half of a per cent' })
  })
  // CRC Handbook of Chemistry and Physics, section 4, elements: copper 8.96 g/cm³ (memory). IEC 60028 (1925), clause 2: 8.89 (memory).
  test('copper', () => {
    expect(COPPER_WIRE.densityKgM3).toBe(8960)
    range(METALS.copper.densityKgM3, 8890, 8960)
  })
  test('each has its source', () => {
    for (const metal of Object.values(METALS)) expect(metal.densitySource).not.toBe('')
  })
})

describe('lens materials, kg/m³', () => {
  // Polymer Handbook, Brandrup and Immergut, 4th ed. (1999), chapter V: PMMA 1170 to 1200, PC 1200, PS 1040 to 1065, rigid PVC 1300 to 1450; PDMS rubber
  // 1000 to 1150 (memory). Common borosilicate crowns 2.51 (memory). EN 572-1:2012, table 1: soda-lime glass 2500 (memory).
  test.each([
    ['pmma', 1170, 1200],
    ['polycarbonate', 1190, 1210],
    ['pvc', 1300, 1450],
    ['polystyrene', 1040, 1065],
    ['silicone', 1000, 1150],
    ['crown', 2500, 2520],
    ['float', 2490, 2510],
  ] as const)('%s: %i to %i', (material, from, to) => {
    range(LENS_MATERIALS[material].densityKgM3, from, to)
    expect(LENS_MATERIALS[material].sources.density).not.toBe('')
  })
})

describe('copper wire', () => {
  // NBS Handbook 100, Copper Wire Tables (1966), table of solid wires at 20 °C, pounds per 1000 feet: AWG 10 31.43, 14 12.43, 20 3.092, 30 0.3042 (memory). They hold
  // 8.89 g/cm³, ours 8.96. One pound per 1000 feet is 453.592 g / 304.8 m.
  test.each([
    [10, 31.43],
    [14, 12.43],
    [20, 3.092],
    [30, 0.3042],
  ])('AWG %i: %d lb per 1000 ft', (number, pounds) => {
    const { copperG } = wireGramsPerM({ gauge: { system: 'awg', number }, insulationC: 75 })
    expectWithin((copperG * 8.89) / 8.96, (pounds * 453.592) / 304.8, { rel: 1e-3, because: 'four digits' })
  })
  // ASTM B258-18, table 1, areas: AWG 4/0 107.2, 8 8.367, 20 0.5189 mm² by diameters rounded to 0.1 mil (memory; the formula gives 0.5176).
  test.each([
    [-3, 107.2],
    [8, 8.367],
    [20, 0.5189],
  ])('AWG %i: %d mm²', (number, mm2) => {
    expectWithin(gaugeAreaMm2({ system: 'awg', number }), mm2, { rel: 3e-3, because: 'rounded diameters' })
  })
})
