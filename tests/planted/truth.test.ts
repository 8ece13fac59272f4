// The search for the true maximum and its measurement, where both are known.
import { describe, expect, test } from 'vitest'
import { expectWithin } from '../kit/expect.ts'
import { idealLens, lampOf, type Spot } from './document.ts'
import { makeTracer, type Tracer } from './tracer.ts'
import { findTruth, measureAt, type Planted } from './truth.ts'

const DISC_MM2 = Math.PI * 25
const place = (over: Partial<Planted> = {}): Planted => ({
  at: [0, 0, 100],
  along: [0, 0, 1],
  acrossMm: 20,
  depthMm: 40,
  ...over,
})

/** Parallel light in Gaussian spots, 1 W each: (x, y, standard deviation). No lamp is needed. */
const spots = (all: readonly (readonly [number, number, number])[]): Tracer => ({
  watts: Float64Array.from(all, () => 1),
  trace(part, u, watts, _random, sink) {
    const [x, y, sigma] = all[part]!
    const r = sigma * Math.sqrt(-2 * Math.log(1 - u[0]!))
    sink.piece(x + r * Math.cos(2 * Math.PI * u[1]!), y + r * Math.sin(2 * Math.PI * u[1]!), 0, 0, 0, 1, 1000, watts)
  },
})

/** Watts of the spots within the disc about (x, y), by the midpoint rule. */
function inDisc(all: readonly (readonly [number, number, number])[], x: number, y: number): number {
  const [n, h] = [100, 10 / 100]
  let sum = 0
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) {
      const [p, q] = [(i + 0.5) * h - 5, (j + 0.5) * h - 5]
      if (p * p + q * q > 25) continue
      for (const [cx, cy, s] of all)
        sum += (Math.exp(-((x + p - cx) ** 2 + (y + q - cy) ** 2) / (2 * s * s)) / (2 * Math.PI * s * s)) * h * h
    }
  return sum
}

describe('two touching Gaussian spots', () => {
  test.each([5, 8])('%f mm apart: the hottest disc by quadrature (derived)', (apart) => {
    const all = [
      [-apart / 2, 0, 1.5],
      [apart / 2, 0, 1.5],
    ] as const
    let best = 0
    for (let x = 0; x <= apart / 2 + 0.1; x += 0.25) best = Math.max(best, inDisc(all, x, 0))
    const truth = findTruth(spots(all), [place()], { discMm: 10, seed: 2, pilotRays: 20_000 })!
    const expected = (best / DISC_MM2) * 1000
    expect(truth.se).toBeLessThan(0.009 * truth.kWm2)
    // A place found with other rays may lie a little off the top, never above it.
    expect(truth.kWm2).toBeLessThan(expected + 4 * truth.se)
    expect(truth.kWm2).toBeGreaterThan(0.985 * expected - 3 * truth.se)
  })
  test('the top is found from the side, too', () => {
    const truth = findTruth(spots([[12, -9, 2]]), [place()], { discMm: 10, seed: 5, pilotRays: 20_000 })!
    expectWithin(Math.hypot(truth.at[0] - 12, truth.at[1] + 9), 0, { abs: 0.6, because: 'its top is flat' })
    expectWithin(truth.along[2], 1, { abs: 1e-12, because: 'parallel light' })
  })
  test('nothing where no light comes', () => {
    expect(findTruth(spots([[0, 0, 1]]), [place({ at: [200, 0, 100] })], { discMm: 10, seed: 1 })).toBeNull()
  })
  test('places that do not count are left out', () => {
    const allowed = (x: number) => x > 6
    const truth = findTruth(spots([[0, 0, 3]]), [place()], { discMm: 10, seed: 1, pilotRays: 20_000, allowed })!
    expect(truth.at[0]).toBeGreaterThan(6)
    expect(truth.at[0]).toBeLessThan(6.5)
  })
})

test('a ring of beams meets at the focal plane: as many times one Gaussian beam through the disc (derived, by quadrature)', () => {
  const [count, f, fwhmDeg] = [9, 250, 3]
  const ring = Array.from({ length: count }, (_, i): Spot => {
    const a = (2 * Math.PI * i) / count
    return { xMm: 60 * Math.cos(a), yMm: 60 * Math.sin(a) }
  })
  const collimator = { exitDiameterMm: 12, heightMm: 10, fwhmDeg, shape: 'gaussian' as const }
  const profile = { kind: 'cosine' as const, fwhmDeg: 120 }
  const kinds = [{ source: { shape: 'disc' as const, diameterMm: 2 }, profile, watts: 5, heightMm: 1, collimator }]
  const lamp = lampOf({ name: 'Ring', kinds, spots: ring, lens: idealLens(80, f, 200), faceSizeMm: 160 })
  // A direction θ goes to f tan θ; watts within θ₀ of I ∝ exp(−4 ln2 (θ/FWHM)²) over solid angle.
  const within = (to: number) => {
    const [n, width] = [20_000, (fwhmDeg * Math.PI) / 180]
    let sum = 0
    for (let i = 0; i < n; i++) {
      const t = ((i + 0.5) * to) / n
      sum += Math.exp(-4 * Math.LN2 * (t / width) ** 2) * Math.sin(t) * (to / n)
    }
    return sum
  }
  const watts = (count * 5 * within(Math.atan(5 / f))) / within(0.5)
  const tracer = makeTracer(lamp, { light: 'lamp' })
  const truth = measureAt(tracer, [0, 0, 80 + f], [0, 0, 1], { discMm: 10, seed: 1, pilotRays: 20_000 })!
  expectWithin(truth.kWm2, (watts / DISC_MM2) * 1000, { sigmas: 4, se: truth.se })
  const found = findTruth(tracer, [place({ at: [3, -2, 80 + 0.9 * f], depthMm: 80 })], { discMm: 10, seed: 2 })!
  expect(found.kWm2).toBeGreaterThan(truth.kWm2 - 4 * Math.hypot(truth.se, found.se))
})
