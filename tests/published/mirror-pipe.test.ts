// A mirrored tube: P. D. Swift, G. B. Smith, Solar Energy Materials and Solar Cells 36 (1995) 159–168 (title and pages from memory).
// T = (4/π) ∫₀¹ s²/√(1−s²) R^⌊q/s⌋ [1 − (1−R)(q/s − ⌊q/s⌋)] ds, q = p tanθ, p = length/diameter.
import { describe, expect, test } from 'vitest'
import type { Profile } from '../../src/lamp/schema.ts'
import { findRunFaults } from '../../src/run/validate.ts'
import { amount } from '../kit/amount.ts'
import { expectWithin } from '../kit/expect.ts'
import {
  atAngle,
  deliveredShare,
  exitsOf,
  LAMBERTIAN,
  oneEmitter,
  traceHere,
  tube,
  wallHits,
} from '../kit/traceHere.ts'

/** Light that fills the mouth of a tube of diameter 20. */
const pipe = (p: number, reflectance: number, profile: Profile, seed = 1, rays = amount(1 << 15, 1 << 18)) =>
  traceHere(
    oneEmitter({ source: { shape: 'disc', diameterMm: 20 }, tunnel: tube(10, 20 * p, { reflectance }), profile }),
    { rays, seed },
  )

const GRID: [number, number, [number, number, number], number][] = [
  [0.85, 1, [0.966361, 0.891066, 0.787305], 0.77338],
  [0.85, 5, [0.836757, 0.56404, 0.314583], 0.38563],
  [0.95, 1, [0.988779, 0.963406, 0.925904], 0.91245],
  [0.95, 2, [0.977585, 0.928101, 0.857942], 0.84149],
  [0.98, 1, [0.995511, 0.985325, 0.969945], 0.96264],
  [0.98, 5, [0.977652, 0.928968, 0.859733], 0.84333],
]

describe.each(GRID)('reflectance %f, length %i diameters', (reflectance, p, collimated, lambertian) => {
  test.each([10, 30, 50].map((deg, i) => [deg, collimated[i]!]))('light at %i°: %f', (deg, share) => {
    const got = deliveredShare(pipe(p, reflectance, atAngle(deg)))
    expectWithin(got.value, share, {
      abs: 3.5 * got.se + 2e-6,
      because: '3.5 standard errors; the quadrature is good to 1e-6',
    })
  })
  test(`Lambertian light: ${lambertian}`, () => {
    const got = deliveredShare(pipe(p, reflectance, LAMBERTIAN))
    expectWithin(got.value, lambertian, {
      abs: 3.5 * got.se + 3e-5,
      because: '3.5 standard errors; the quadrature is good to 2e-5',
    })
  })
})

describe('mean number of wall hits, (4/π) p tanθ (derived)', () => {
  test.each([
    [1, 30, 0.735105],
    [2, 50, 3.034776],
    [5, 10, 1.122532],
    [5, 50, 7.586939],
  ])('length %i diameters, %i°: %f', (p, deg, hits) => {
    const got = wallHits(pipe(p, 1, atAngle(deg)))
    expectWithin(got.value, hits, { sigmas: 3.5, se: got.se })
  })
  test.each([
    [1, 2],
    [2, 4],
    [5, 10],
  ])('Lambertian, length %i diameters: 2p = %i', (p, hits) => {
    const got = wallHits(pipe(p, 1, LAMBERTIAN))
    // P(more than n hits) → 2 p²/n² (the integral above, at grazing light): the bounce limit of 250 cuts Σ 2p²/n² off the tail.
    expectWithin(got.value, hits, {
      abs: 4 * got.se + (2 * p * p) / 250,
      because: 'four standard errors and the tail beyond 250 bounces',
    })
  })
})

test('low loss, Lambertian, reflectance 0.999, 2 diameters: 0.9960457 (derived)', () => {
  const run = pipe(2, 0.999, LAMBERTIAN)
  const got = deliveredShare(run)
  expectWithin(got.value, 0.9960457, {
    abs: 4 * got.se + 5e-5,
    because: 'four standard errors and the tail beyond 250 bounces',
  })
})

describe('Lambertian light cut at a cone, reflectance 0.95 (derived)', () => {
  test.each([
    [1, 20, 0.98496],
    [1, 30, 0.97699],
    [1, 60, 0.94883],
    [2, 20, 0.97],
    [2, 30, 0.95438],
    [2, 60, 0.90124],
  ])('length %i diameters, half angle %i°: %f', (p, cone, share) => {
    const thetaDeg = Array.from({ length: 2 * cone + 1 }, (_, i) => i / 2)
    const profile: Profile = { kind: 'table', thetaDeg, intensity: thetaDeg.map((t) => Math.cos((t * Math.PI) / 180)) }
    const got = deliveredShare(pipe(p, 0.95, profile))
    expectWithin(got.value, share, { abs: 3.5 * got.se + 2e-5, because: '3.5 standard errors and the printed digits' })
  })
})

test('a straight tube keeps each ray’s angle to the axis exactly', () => {
  for (const sides of [0, 6] as const) {
    const lamp = oneEmitter({
      source: { shape: 'disc', diameterMm: 20 },
      tunnel: tube(10, 100, { reflectance: 1, sides }),
      profile: atAngle(50),
    })
    const run = traceHere(lamp, { rays: 1 << 13 })
    const exits = exitsOf(run)
    expect(exits.length).toBe(1 << 13)
    for (const { dz } of exits) {
      const theta = (Math.acos(dz) * 180) / Math.PI
      expectWithin(theta, 50, { abs: 0.01 + 1e-5, because: 'the band emitted; records are single precision' })
    }
    expect(findRunFaults(run)).toEqual([])
  }
})
