// Ignition and skin against published figures. They scatter by tens of per cent in life; here the arithmetic is held.
import { describe, expect, test } from 'vitest'
import {
  burnSeconds,
  IGNITION,
  ignitionMaterial,
  ignitionSeconds,
  painSeconds,
  SKIN,
} from '../../src/library/ignition.ts'
import { expectWithin } from '../kit/expect.ts'

// Quintiere and Harkleroad, NBSIR 84-2943 (1984) Table 2, as in NUREG-1805 (2004) Table 6-2: °C, (kW/m²K)² s, kW/m².
test.each([
  ['pmma-thin', 278, 0.73, 9],
  ['pmma', 378, 1.02, 15],
  ['polycarbonate', 528, 1.16, 30],
  ['plywood-6', 390, 0.46, 16],
  ['plywood-13', 390, 0.54, 16],
  ['particle-board', 412, 0.93, 18],
  ['hardboard-6', 298, 1.87, 10],
  ['hardboard-3', 365, 0.88, 14],
  ['fibre-board', 355, 0.46, 14],
  ['carpet-acrylic', 300, 0.42, 10],
  ['carpet-blend', 412, 0.68, 18],
  ['carpet-wool', 465, 0.11, 23],
  ['foam-flexible', 390, 0.32, 16],
  ['foam-rigid', 435, 0.03, 20],
  ['polyester-2', 390, 0.32, 16],
  ['polyester-1', 400, 0.72, 17],
  ['polystyrene', 630, 0.38, 46],
  ['shingle', 378, 0.7, 15],
  ['insulation-foam', 445, 0.02, 21],
])('the row of %s', (id, ignitionC, inertia, criticalKWm2) => {
  expect(ignitionMaterial(id)).toMatchObject({ ignitionC, inertia, criticalKWm2 })
})

// t = (π/4) kρc ((Tig − T0)/q)², T0 = 20 °C, at 20, 35, 50, 100, 200 kW/m².
describe.each([
  ['pmma', [256.68, 83.81, 41.07, 10.27, 2.57]],
  ['polycarbonate', [null, 191.93, 94.04, 23.51, 5.88]],
  ['plywood-13', [145.15, 47.4, 23.22, 5.81, 1.45]],
  ['carpet-blend', [205.17, 66.99, 32.83, 8.21, 2.05]],
] as const)('thermally thick: %s', (id, seconds) => {
  test.each([20, 35, 50, 100, 200].map((q, i) => [q, seconds[i]!] as const))('at %i kW/m²: %f s', (q, wanted) => {
    const got = ignitionSeconds(ignitionMaterial(id), q)
    if (wanted === null) expect(got).toBeNull()
    else expectWithin(got!, wanted, { abs: 0.006, because: 'printed digits' })
  })
})

test('thermally thin: paper of 80 g/m², 1340 J/kgK, 230 °C at 20 kW/m² ignites after 1.1256 s', () => {
  expectWithin(ignitionSeconds(ignitionMaterial('paper'), 20)!, 1.1256, { abs: 5e-5, because: 'printed digits' })
})

test('wood: 4.3 kW/m² for long exposure (Babrauskas 2001), 12.5 for short (Lawson and Simms 1952)', () => {
  expect(ignitionMaterial('wood-long').criticalKWm2).toBe(4.3)
  expect(ignitionMaterial('wood').criticalKWm2).toBe(12.5)
})

test('critical flux and ignition temperature agree through the heat a black surface loses, σ(T⁴ − T₀⁴) + 15 (T − T₀)', () => {
  // Derived; published pairs agree within a factor of two, which catches a slipped digit.
  const [sigma, t0] = [5.670374419e-8, 293.15]
  for (const m of IGNITION) {
    const t = m.ignitionC + 273.15
    const loss = (sigma * (t ** 4 - t0 ** 4) + 15 * (t - t0)) / 1000
    expect(m.criticalKWm2 / loss, m.id).toBeGreaterThan(0.5)
    expect(m.criticalKWm2 / loss, m.id).toBeLessThan(2)
  }
})

describe('skin', () => {
  // Handbook of Chemical Hazard Analysis Procedures (FEMA, DOT, EPA, 1989) Table 4.2.
  test.each([
    [1, 115, 663],
    [2, 45, 187],
    [3, 27, 92],
    [4, 18, 57],
    [5, 13, 40],
    [6, 11, 30],
    [8, 7, 20],
    [10, 5, 14],
    [12, 4, 11],
  ])('at %i kW/m² pain after %i s; the table’s burn after %i s is never waited for', (q, pain, burn) => {
    expect(painSeconds(q)).toBeCloseTo(pain, 9)
    expect(SKIN.burnSeconds[SKIN.kWm2.indexOf(q as 1)]).toBe(burn)
    expect(burnSeconds(q)!).toBeLessThanOrEqual(burn)
  })
  // DESR 6055.09: t = 200 q^−1.46 s.
  test.each([
    [1, 200],
    [2, 72.7],
    [5, 19.1],
    [10, 6.9],
  ])('burn onset at %i kW/m²: %f s', (q, seconds) => {
    expectWithin(burnSeconds(q)!, seconds, { abs: 0.06, because: 'printed digits' })
  })
  test('between rows the time lies between theirs', () => {
    expect(painSeconds(2.5)!).toBeLessThan(45)
    expect(painSeconds(2.5)!).toBeGreaterThan(27)
  })
})
