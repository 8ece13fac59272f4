import { describe, expect, test } from 'vitest'
import { gaussLegendre, integrate } from '../../src/num/quadrature.ts'
import { brent } from '../../src/num/roots.ts'

describe('brent', () => {
  test.each([
    ['cos x = x', (x: number) => Math.cos(x) - x, 0, 1, 0.7390851332151607],
    ['x³ = 2', (x: number) => x ** 3 - 2, 0, 5, Math.cbrt(2)],
    ['a step', (x: number) => (x < 0.3 ? -1 : 1), 0, 1, 0.3],
    ['a triple root', (x: number) => (x - 1) ** 3, 0, 3.1, 1],
    ['a root at the end', (x: number) => x - 2, 2, 5, 2],
    ['falling', (x: number) => 1 - Math.exp(x - 4), -10, 10, 4],
  ])('%s', (_, f, a, b, root) => {
    expect(Math.abs(brent(f, a, b)! - root)).toBeLessThan(1e-5)
    expect(Math.abs(brent(f, b, a)! - root)).toBeLessThan(1e-5)
  })
  test('is sharp on a simple root, with few calls', () => {
    let calls = 0
    const counted = (t: number) => {
      calls++
      return Math.cos(t) - t
    }
    const x = brent(counted, 0, 1)!
    expect(Math.abs(x - 0.7390851332151607)).toBeLessThan(1e-12)
    expect(calls).toBeLessThan(14)
  })
  test('says null without a change of sign', () => {
    expect(brent((x) => x * x + 1, -1, 1)).toBeNull()
    expect(brent(() => Number.NaN, -1, 1)).toBeNull()
  })
})

describe('Gauss–Legendre', () => {
  test('two points: ±1/√3, weights 1; three: 0, ±√0.6, weights 5/9, 8/9 (Abramowitz and Stegun, table 25.4)', () => {
    const two = gaussLegendre(2)
    expect(two.nodes[1]).toBeCloseTo(1 / Math.sqrt(3), 15)
    expect([...two.weights].map((w) => +w.toFixed(12))).toEqual([1, 1])
    const three = gaussLegendre(3)
    expect(three.nodes[2]).toBeCloseTo(Math.sqrt(0.6), 14)
    expect(three.weights[1]).toBeCloseTo(8 / 9, 14)
    expect(three.weights[0]).toBeCloseTo(5 / 9, 14)
  })
  test.each([1, 2, 5, 16, 64])('%i points are exact to degree 2n − 1 and not beyond', (n) => {
    const rule = gaussLegendre(n)
    const power = 2 * n - 2 // even, so that the integral isn't zero by symmetry
    expect(integrate((x) => x ** power, -1, 1, rule)).toBeCloseTo(2 / (power + 1), 13)
    if (n <= 5) expect(Math.abs(integrate((x) => x ** (2 * n), -1, 1, rule) - 2 / (2 * n + 1))).toBeGreaterThan(1e-7)
  })
  test('∫ sin over half a turn is 2', () => {
    expect(integrate(Math.sin, 0, Math.PI, gaussLegendre(12))).toBeCloseTo(2, 13)
  })
})
