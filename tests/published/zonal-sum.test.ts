// The zonal flux sum: zone constants 2π (cos θ₁ − cos θ₂) (common to all handbooks; printed .095 .283 … : memory), and what coarse zones cost.
// Values derived.
import { describe, expect, test } from 'vitest'
import { weightInside, zoneSr } from '../../src/beam/profile.ts'
import { expectWithin } from '../kit/expect.ts'

const RAD = Math.PI / 180
const printed = (abs: number) => ({ abs, because: 'printed digits' })

test('zone constants of 10° (row 1.60)', () => {
  const table = [0.095456, 0.283467, 0.462865, 0.628199, 0.774446, 0.897161, 0.992617, 1.057912, 1.091064]
  for (const [i, z] of table.entries()) expectWithin(zoneSr(10 * i * RAD, 10 * (i + 1) * RAD), z, printed(5.1e-7))
  expectWithin(zoneSr(0, Math.PI / 2), 2 * Math.PI, { ulps: 4 })
  expectWithin(zoneSr(0, Math.PI), 4 * Math.PI, { ulps: 4 })
  // Small zones keep their digits: half angle 0.25°, 2π(1 − cos).
  const small = 0.25 * RAD
  expectWithin(zoneSr(0, small), Math.PI * small ** 2 * (1 - small ** 2 / 12), { rel: 1e-11, because: 'series to θ⁴' })
})

const sum = (m: number, step: number, mid: boolean) => {
  let total = 0
  for (let t = 0; t < 90 - 1e-9; t += step) {
    const [a, b] = [t * RAD, (t + step) * RAD]
    const intensity = mid ? Math.cos((a + b) / 2) ** m : (Math.cos(a) ** m + Math.max(0, Math.cos(b)) ** m) / 2
    total += zoneSr(a, b) * intensity
  }
  return total / ((2 * Math.PI) / (m + 1))
}

describe('coarse zones: what the sum is off by', () => {
  test.each([
    [1, 1.0000381],
    [2.5, 1.000238],
    [5, 1.0009527],
    [10, 1.0038198],
    [15, 1.008629],
  ])('Lambertian, mid-zone, step %d° (rows 1.61, 1.62)', (step, ratio) => {
    expectWithin(sum(1, step, true), ratio, printed(6e-8))
  })
  test.each([1, 2.5, 5, 10, 15])(
    'Lambertian, mean of zone edges, step %d°: exact at any step, a trap (row 1.63)',
    (step) => {
      expectWithin(sum(1, step, false), 1, { abs: 1e-12, because: 'telescopes' })
    },
  )
  test.each([
    [1, 1.000051, 1.000203],
    [2.5, 1.000318, 1.001269],
    [5, 1.001273, 1.00507],
    [10, 1.005144, 1.020199],
  ])('cos⁴, step %d°: mid-zone, edge mean (rows 1.70, 1.71)', (step, mid, edge) => {
    expectWithin(sum(4, step, true), mid, printed(6e-7))
    expectWithin(sum(4, step, false), edge, printed(6e-7))
  })
  test.each([
    [1, 1.000254, 1.001015],
    [2.5, 1.001592, 1.006339],
    [5, 1.006436, 1.025272],
    [10, 1.026922, 1.099638],
  ])('cos²⁰, step %d° (row 1.72)', (step, mid, edge) => {
    expectWithin(sum(20, step, true), mid, printed(6e-7))
    expectWithin(sum(20, step, false), edge, printed(6e-7))
  })
})

test('our own bins: no mid-zone intensity is taken, lumens are counted; inside a bin they spread by solid angle', () => {
  const edges = Float64Array.from([0, 10, 20, 30, 90, 180], (t) => t * RAD)
  const lambertian = Float64Array.from([0, 1, 2, 3, 4], (i) => {
    const s = (t: number) => Math.sin(Math.min(t, Math.PI / 2)) ** 2
    return s(edges[i + 1]!) - s(edges[i]!)
  })
  expectWithin(weightInside(lambertian, 0, edges, 20 * RAD), 0.1169778, printed(6e-8))
  expectWithin(weightInside(lambertian, 0, edges, Math.PI), 1, { ulps: 8 })
  const between = weightInside(lambertian, 0, edges, 15 * RAD)
  expect(between).toBeGreaterThan(0.0301537)
  expectWithin(between, Math.sin(15 * RAD) ** 2, { rel: 0.02, because: 'even over one zone of 10°' })
})
