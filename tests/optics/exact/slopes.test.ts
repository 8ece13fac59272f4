// The slope found by bisection: trace the meridional ray at angle θ to the flat side and inside, and ask where it meets the facet.
import { expect, test } from 'vitest'
import { slopeToSource, slopeToTarget } from '../../../src/optics/slopes.ts'
import { expectWithin } from '../../kit/expect.ts'

const rounding = { rel: 1e-12, because: 'rounding of a bisection' }

function bisect(f: (x: number) => number, low: number, high: number): number {
  for (let i = 0; i < 200; i++) {
    const mid = (low + high) / 2
    if (f(mid) < 0) low = mid
    else high = mid
  }
  return (low + high) / 2
}

test.each([
  [10, 300, 5, 1.5],
  [150, 300, 5, 1.49],
  [600, 300, 40, 1.59],
  [40, 20, 30, 1.5],
  [3000, 100, 8, 1.5],
  [50, 80, 0, 1.7],
  [4, 5, 15, 1.5],
  [4, 5, 15, 2.4],
])('to the target: r %d, f %d, t %d, n %d', (r, f, t, n) => {
  const inside = (theta: number) => Math.asin(Math.sin(theta) / n)
  const theta = bisect((x) => f * Math.tan(x) + t * Math.tan(inside(x)) - r, 0, Math.PI / 2 - 1e-9)
  // Snell at the facet for a ray that leaves along the axis: n sin(α − θ') = sin α.
  const alpha = bisect((a) => n * Math.sin(a - inside(theta)) - Math.sin(a), inside(theta), Math.PI / 2)
  expectWithin(slopeToTarget(r, f, t, n), alpha, rounding)
})

test('to the target, on the axis: no slope', () => expect(slopeToTarget(0, 300, 5, 1.5)).toBe(0))

test.each([
  [10, 300, 1.5],
  [150, 300, 1.49],
  [600, 300, 1.59],
  [40, 20, 1.8],
])('to the source: r %d, f %d, n %d', (r, f, n) => {
  // The refracted ray runs along the axis: sin(θ + β) = n sin β.
  const theta = Math.atan(r / f)
  const beta = bisect((b) => n * Math.sin(b) - Math.sin(theta + b), 0, Math.PI / 2)
  expectWithin(slopeToSource(r, f, n), beta, rounding)
})
