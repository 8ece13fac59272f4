// References: Taylor's series written out by factorials; Math.atan2.
import { describe, expect, test } from 'vitest'
import { RAY_SIZE, TX, TY } from '../../../src/optics/records.ts'
import { quarterTurn, shareOfTurn, turnOf } from '../../../src/optics/turn.ts'
import { expectWithin } from '../../kit/expect.ts'

const ray = new Float64Array(RAY_SIZE)

/** Σ (−1)ᵏ x^(2k + odd) / (2k + odd)!, six terms. */
function taylor(x: number, odd: 0 | 1): number {
  let sum = 0
  for (let k = 5; k >= 0; k--) {
    let factorial = 1
    for (let i = 2; i <= 2 * k + odd; i++) factorial *= i
    sum += ((k % 2 ? -1 : 1) * x ** (2 * k + odd)) / factorial
  }
  return sum
}

test('a quarter of a turn: six terms of the series', () => {
  for (const x of [-Math.PI / 4, -0.6, -0.1, 0, 1e-9, 0.3, 0.7, Math.PI / 4, 1.4]) {
    quarterTurn(ray, x)
    expectWithin(ray[TX]!, taylor(x, 0), { abs: 4e-16, because: 'rounding' })
    expectWithin(ray[TY]!, taylor(x, 1), { abs: 4e-16, because: 'rounding' })
  }
})

test('turns, all quarters, at their edges too', () => {
  for (let i = 0; i <= 64; i++) {
    const u = i / 64
    turnOf(ray, u)
    expectWithin(ray[TX]!, Math.cos(2 * Math.PI * u), { abs: 4e-10, because: 'next term of the series' })
    expectWithin(ray[TY]!, Math.sin(2 * Math.PI * u), { abs: 4e-10, because: 'next term of the series' })
  }
  turnOf(ray, 0.25)
  expect([ray[TX], ray[TY]]).toEqual([0, 1])
  turnOf(ray, 0.75)
  expect([Math.abs(ray[TX]!), ray[TY]]).toEqual([0, -1])
})

describe('share of a turn', () => {
  const off = { abs: 2e-6 / (2 * Math.PI), because: 'the polynomial is good to 2e-6 rad' }
  test('round the circle', () => {
    for (let i = 1; i < 96; i++) {
      const phi = (2 * Math.PI * i) / 96
      expectWithin(shareOfTurn(3 * Math.cos(phi), 3 * Math.sin(phi)), i / 96, off)
    }
  })
  test('the axes, exactly where they are bins’ edges', () => {
    expect(shareOfTurn(2, 0)).toBe(0)
    expect(shareOfTurn(0, 2)).toBe(0.25)
    expect(shareOfTurn(-2, 0)).toBe(0.5)
    expect(shareOfTurn(0, -2)).toBe(0.75)
    expect(shareOfTurn(0, 0)).toBe(0)
  })
  test('below +x it stays under 1', () => {
    expect(shareOfTurn(1, -1e-300)).toBeLessThanOrEqual(1)
    // y/x underflows to 0: a whole turn is no turn.
    expect(shareOfTurn(1e300, -1e-300)).toBe(0)
    expectWithin(shareOfTurn(1, -1e-4), 1 - 1e-4 / (2 * Math.PI), off)
  })
  test('the polynomial at its diagonal, from both sides', () => {
    for (const [x, y, share] of [
      [1, 1, 0.125],
      [-1, 1, 0.375],
      [-1, -1, 0.625],
      [1, -1, 0.875],
    ] as const)
      expectWithin(shareOfTurn(x, y), share, off)
  })
})
