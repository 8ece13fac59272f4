// Ignition and skin against published figures. They scatter by tens of per cent in life; here the arithmetic is held.
import { describe, expect, test } from 'vitest'
import { criticalAt, IGNITION, ignitionMaterial, ignitionSeconds } from '../../src/library/ignition.ts'
import { burnSeconds, painSeconds, SKIN, STOLL_CHIANTA, STOLL_GREENE } from '../../src/library/skin.ts'
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
])('the row of %s', (id, ignitionC, inertia, publishedKWm2) => {
  expect(ignitionMaterial(id)).toMatchObject({ ignitionC, inertia, publishedKWm2 })
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
  expect(ignitionMaterial('wood-long')).toMatchObject({ publishedKWm2: 4.3, criticalKWm2: 4.3 })
  expect(ignitionMaterial('wood').publishedKWm2).toBe(12.5)
})

test('critical flux and ignition temperature agree through the heat a black surface loses, σ(T⁴ − T₀⁴) + 15 (T − T₀)', () => {
  // Derived; published pairs agree within a factor of two, which catches a slipped digit.
  const [sigma, t0] = [5.670374419e-8, 293.15]
  for (const m of IGNITION) {
    const t = m.ignitionC + 273.15
    const loss = (sigma * (t ** 4 - t0 ** 4) + 15 * (t - t0)) / 1000
    expect(m.publishedKWm2 / loss, m.id).toBeGreaterThan(0.5)
    expect(m.publishedKWm2 / loss, m.id).toBeLessThan(2)
  }
})

describe('where still air holds the surface at its ignition temperature below the published flux, the lower decides', () => {
  // By hand: 0.9 · 5.670374e-8 · (T⁴ − 293.15⁴) + 5 · (T − 293.15), rounded down to three digits.
  test.each([
    ['paper', 3.94],
    ['cotton', 4.59],
    ['dry-grass', 6.53],
    ['abs', 6.53],
    ['wood', 6.53],
    ['wood-long', 4.3],
  ])('%s: %f kW/m²', (id, kWm2) => {
    const m = ignitionMaterial(id)
    expect(m.criticalKWm2).toBe(kWm2)
    expect(criticalAt(m, 20)).toBe(kWm2)
    expect(ignitionSeconds(m, kWm2)).toBeGreaterThan(0)
    expect(ignitionSeconds(m, 0.999 * kWm2)).toBeNull()
  })
  test('warmer air needs less; in air as hot as that nothing is needed', () => {
    const paper = ignitionMaterial('paper')
    // 0.9 · 5.670374e-8 · (503.15⁴ − 313.15⁴) + 5 · 190 = 3730 W/m².
    expect(criticalAt(paper, 40)).toBe(3.72)
    expect(criticalAt(paper, 230)).toBe(0)
    expect(ignitionSeconds(paper, 0, 230)).toBe(0)
  })
  test('the row says so', () => {
    expect(ignitionMaterial('paper').source).toMatch(/reaches 230 °C from 3\.94 kW\/m² on/)
    expect(ignitionMaterial('wood-long').source).not.toMatch(/heat balance/)
  })
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
  ])('at %i kW/m² the handbook’s pain after %i s and burn after %i s are never waited for', (q, pain, burn) => {
    if (q <= 4) expect(painSeconds(q)).toBeCloseTo(pain, 9)
    else expect(painSeconds(q)!).toBeLessThanOrEqual(pain)
    expect(SKIN.painSeconds[SKIN.kWm2.indexOf(q as 1)]).toBe(pain)
    expect(SKIN.burnSeconds[SKIN.kWm2.indexOf(q as 1)]).toBe(burn)
    expect(burnSeconds(q)!).toBeLessThanOrEqual(burn)
  })
  // Stoll and Greene, J. Appl. Physiol. 14 (1959) 373: 0.1 to 0.4 cal/cm²s, values from memory.
  test.each([
    [4.2, 13.5, 33.8],
    [6.3, 7.8, 20.8],
    [8.4, 5.5, 13.4],
    [12.6, 2.9, 7.8],
    [16.8, 2.2, 5.6],
  ])('at %f kW/m² pain after %f s, and a blister never later than after %f s', (q, pain, blister) => {
    expect(painSeconds(q)).toBeCloseTo(pain, 9)
    expect(STOLL_GREENE.blisterSeconds[STOLL_GREENE.kWm2.indexOf(q as 4.2)]).toBe(blister)
    expect(burnSeconds(q)!).toBeLessThanOrEqual(blister)
  })
  // Stoll and Chianta (1969), table of ASTM F1939, F955 (second-hand): seconds, kW/m².
  test.each([
    [1, 50],
    [2, 31],
    [3, 23],
    [5, 16],
    [10, 9.8],
    [20, 6],
    [30, 4.5],
  ])('burn after %i s at %f kW/m² is never waited for', (seconds, q) => {
    expect(STOLL_CHIANTA.burnSeconds[STOLL_CHIANTA.kWm2.indexOf(q as 50)]).toBe(seconds)
    expect(burnSeconds(q)!).toBeLessThanOrEqual(seconds)
  })
  test('the two tables of Stoll agree within a tenth on blisters where both have one', () => {
    for (const [q, blister] of [
      [6.3, 20.8],
      [8.4, 13.4],
    ] as const) {
      const i = STOLL_CHIANTA.kWm2.findIndex((k) => k >= q)
      expect(blister).toBeGreaterThan(0.9 * STOLL_CHIANTA.burnSeconds[i]!)
      expect(blister).toBeLessThan(1.2 * STOLL_CHIANTA.burnSeconds[i - 1]!)
    }
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
