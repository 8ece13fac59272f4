import { describe, expect, test } from 'vitest'
import { dirtTemperatureC, lostKWm2 } from '../../src/library/heatBalance.ts'
import { downThree, leastKWm2, secondsToReach } from '../../src/library/ignition.ts'
import { arealHeatOf, DISCS_MM, discOfSolid, inertiaOf, SOLIDS, spreadMm } from '../../src/library/solids.ts'
import { expectWithin } from '../kit/expect.ts'

/** K₁(x) = ∫ e^(−x cosh t) cosh t dt from 0 on, NIST Digital Library 10.32.9: by the trapezoidal rule. */
function besselK1(x: number): number {
  const step = 1e-3
  let sum = 0.5 * Math.exp(-x)
  for (let t = step; t < 12; t += step) sum += Math.exp(-x * Math.cosh(t)) * Math.cosh(t)
  return sum * step
}

/**
 * Middle of a disc of radius a, lit by 1, on a wide sheet of spreading length L that loses 1 for each kelvin:
 * 1 − (a/L) K₁(a/L). The fin equation in the plane, textbook.
 */
const middleOf = (a: number, spread: number): number => 1 - (a / spread) * besselK1(a / spread)

describe('properties of solids', () => {
  test('K₁(1) = 0.6019072302 (NIST Digital Library, table 10.75)', () => {
    expectWithin(besselK1(1), 0.6019072302, { abs: 1e-6, because: 'step' })
  })
  test('kρc and ρcd by hand', () => {
    // Paper: 0.05e-3 · 800 · 1.34, and 80 g/m² · 1.34 kJ/kgK.
    expectWithin(inertiaOf(SOLIDS.paper), 0.0536, { abs: 1e-9, because: 'with pencil' })
    expectWithin(arealHeatOf(SOLIDS.paper), 0.1072, { abs: 1e-9, because: 'with pencil' })
    expectWithin(arealHeatOf(SOLIDS.abs), 1.365, { abs: 1e-9, because: 'with pencil' })
    expectWithin(arealHeatOf(SOLIDS.steelSheet), 2.8888, { abs: 1e-9, because: 'with pencil' })
  })
  test('every one has a source that says what is from memory', () => {
    for (const [id, s] of Object.entries(SOLIDS)) {
      expect(s.source, id).toMatch(/memory/)
      for (const x of [s.conductivityWmK, s.densityKgM3, s.heatKJkgK, s.thicknessMm]) expect(x, id).toBeGreaterThan(0)
    }
  })
})

describe('the disc that counts', () => {
  test('spreading length by hand: paper 0.52 mm, ABS 3.8 mm, thick wood k/h', () => {
    // Paper at 230 °C loses 3944 W/m² over 210 K: √(0.05 · 1e-4/18.78).
    expectWithin(spreadMm(SOLIDS.paper, 230), 0.516, { abs: 0.001, because: 'with pencil' })
    // ABS at 76 °C: 661.5 W/m² over 56 K: √(0.17 · 1e-3/11.81).
    expectWithin(spreadMm(SOLIDS.abs, 76), 3.79, { abs: 0.01, because: 'with pencil' })
    // Wood at 250 °C: 4596 W/m² over 230 K; 0.11/19.98 is less than √(0.11 · 0.01/19.98).
    expectWithin(spreadMm(SOLIDS.softwood, 250), 5.505, { abs: 0.01, because: 'with pencil' })
  })
  test.each([
    ['paper', 230, 1],
    ['cotton', 250, 1],
    ['leaf', 300, 1],
    ['polyethylene', 105, 1],
    ['pvc', 70, 3.5],
    ['abs', 76, 7],
    ['softwood', 90, 10],
    ['steelSheet', 80, 10],
  ] as const)('%s: %s °C, %f mm', (id, toC, disc) => {
    expect(discOfSolid(SOLIDS[id], toC)).toBe(disc)
    expect(DISCS_MM as readonly number[]).toContain(disc)
  })
  test('taken as wide, the mean over the disc is never cooler than the spot really is, from a quarter of the length on', () => {
    for (const [id, toC] of [
      ['paper', 230],
      ['cotton', 250],
      ['leaf', 300],
      ['synthetic', 160],
      ['polyethylene', 105],
      ['pvc', 70],
      ['abs', 76],
      ['steelSheet', 80],
    ] as const) {
      const spread = spreadMm(SOLIDS[id], toC)
      const half = discOfSolid(SOLIDS[id], toC) / 2
      for (let a = spread / 4; a < 10 * spread; a *= 1.1) {
        const judged = Math.min(1, (a / half) ** 2)
        expect(judged / middleOf(a, spread), `${id}, radius ${a} mm`).toBeGreaterThan(0.97)
      }
    }
  })
})

describe('least irradiance', () => {
  test('the lower of a published one and what the balance needs', () => {
    expect(leastKWm2(7, 230, 20)).toBe(3.94)
    expect(leastKWm2(3, 230, 20)).toBe(3)
    expect(leastKWm2(null, 76, 20)).toBe(0.661)
    expect(leastKWm2(7, 230, 231)).toBe(0)
  })
  test('three digits, never rounded up', () => {
    expect([3.9449, 3.94, 12.999, 0.66159].map(downThree)).toEqual([3.94, 3.94, 12.9, 0.661])
    expect(lostKWm2(90, { ambientC: 20 })).toBeGreaterThan(0.86)
  })
  test('dirt takes in all: the balance the other way round', () => {
    for (const c of [50, 157, 224, 600])
      expectWithin(dirtTemperatureC(lostKWm2(c, { ambientC: 20 }), 20), c, { abs: 1e-5, because: 'root' })
  })
})

describe('seconds to reach a temperature', () => {
  const paper = { inertia: 0.0536, arealHeatKJm2K: 0.1072 }
  test('the sooner of thick and thin: thin in weak light, thick in strong', () => {
    // Thin: 0.1072 · 210/q. Thick: (π/4) · 0.0536 · (210/q)². They meet at 82.5 kW/m².
    expectWithin(secondsToReach(paper, 230, 20, 20), 1.1256, { abs: 1e-4, because: 'with pencil' })
    expectWithin(secondsToReach(paper, 230, 200, 20), 0.046412, { abs: 1e-5, because: 'with pencil' })
    expectWithin(secondsToReach({ ...paper, arealHeatKJm2K: null }, 230, 20, 20), 4.6412, {
      abs: 1e-3,
      because: 'with pencil',
    })
  })
  test('at once where it is that warm', () => {
    expect(secondsToReach(paper, 230, 0, 230)).toBe(0)
    expect(secondsToReach(paper, 230, 5, 300)).toBe(0)
  })
})
