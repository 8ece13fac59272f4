// From where on I/d² holds, for rays whose sums are known in closed form. Under the kernel 1 − u² a ray counts by its slope over R = c √1.5, c the
// tangent of the cone; q = r/(d R) is what its place r adds at the distance d. Parallel rays: E d²/I − 1 = −q², so 1 % at q = 0.1.
import { describe, expect, test } from 'vitest'
import { readInverseSquare } from '../../src/beam/inverseSquare.ts'
import { expectWithin } from '../kit/expect.ts'
import { exitRays, filledRun, smallShape } from '../kit/handRun.ts'

const DEG = 180 / Math.PI
const FRONT = 100
const CONE = Math.tan(0.02)
const R = CONE * Math.sqrt(1.5)
const float32 = { rel: 1e-5, because: 'single precision' }

interface Ray {
  x?: number
  y?: number
  /** Slope along x and y, in R. */
  u?: number
  v?: number
  lm?: number
  batch?: number
}
/** Rays on the front; half of the light within `halfFlux` rad: 0.07, so that the cone stays as it is, or 0.4. */
function read(rays: Ray[], halfFlux: 0.07 | 0.4 = 0.07) {
  const run = filledRun(smallShape(), (t, l) => {
    if (halfFlux === 0.07) t[l.profileLm] = 1
    else t[l.profileLm + 3] = t[l.profileLm + 4] = 1
  })
  const stored = rays.map(({ x = 0, y = 0, u = 0, v = 0, lm = 1 }) => {
    const length = Math.hypot(u * R, v * R, 1)
    return [x, y, FRONT, (u * R) / length, (v * R) / length, 1 / length, lm, 300 * lm]
  })
  run.exits = exitRays(stored, rays.length, (i) => rays[i]!.batch ?? i % 16)
  return readInverseSquare(run, FRONT)
}
const many = (n: number, ray: Ray): Ray[] => Array.from({ length: n }, () => ray)
const ring = (n: number, r: number, over: Ray = {}): Ray[] =>
  Array.from({ length: n }, (_, i) => ({
    x: r * Math.cos((2 * Math.PI * (i >> 4)) / (n / 16)),
    y: r * Math.sin((2 * Math.PI * (i >> 4)) / (n / 16)),
    ...over,
  }))

/**
 * By hand: distances from `start` inwards by quarters of an octave; between the two about ± 1 % a power of the distance, or straight in log d where it
 * would be more than the fourth.
 */
function between(start: number, deviation: (d: number) => number): number {
  let far = start
  while (Math.abs(deviation(far / 2 ** 0.25)) <= 0.01) far /= 2 ** 0.25
  const near = far / 2 ** 0.25
  return interpolate(near, far, deviation)
}
const interpolate = (near: number, far: number, deviation: (d: number) => number) => {
  const [a, b] = [Math.abs(deviation(far)), Math.abs(deviation(near))]
  const power = Math.log2(b / a) / 0.25
  return power < 4 ? far * (0.01 / a) ** (-1 / power) : far * 2 ** (-0.25 * ((0.01 - a) / (b - a)))
}

describe('parallel rays', () => {
  test('a ring of 50 mm: q = 0.1 at 20.4 m', () => {
    const { figure, absent, coneHalfDeg, note } = read(ring(160, 50))
    const start = (20 * 50) / CONE
    expectWithin(figure!.value, 500 / R / 1000, float32)
    expectWithin(figure!.value, between(start, (d) => -((50 / (d * R)) ** 2)) / 1000, float32)
    expectWithin(figure!.se, 0, { abs: 1e-4, because: 'single precision' })
    expect(absent).toBeUndefined()
    expectWithin(coneHalfDeg, 0.02 * DEG, { rel: 1e-12, because: 'rounding' })
    expect(note).toBe('On the axis, over a cone of 1.15° half angle, from the lamp’s front.')
  })
  test('each along x or y alone, and with lumens of their own', () => {
    // q² by lumens: (3 · 30² + 1 · 60²)/4 = 1575.
    const rays = [...many(160, { x: 30, lm: 3 }), ...many(160, { y: -60 })]
    const start = (20 * 60) / CONE
    expectWithin(read(rays).figure!.value, between(start, (d) => -1575 / (d * R) ** 2) / 1000, float32)
  })
  test('batches that differ: each left out in turn, between the same two distances', () => {
    const radius = (b: number) => 46 + b
    const rays = many(320, {}).map((_, i) => ({ x: radius(i % 16), batch: i % 16 }))
    const { figure } = read(rays)
    const squares = Array.from({ length: 16 }, (_, b) => radius(b) ** 2)
    const total = squares.reduce((a, b) => a + b)
    const all = (d: number) => -total / 16 / (d * R) ** 2
    const start = (20 * 61) / CONE
    let far = start
    while (-all(far / 2 ** 0.25) <= 0.01) far /= 2 ** 0.25
    const near = far / 2 ** 0.25
    expectWithin(figure!.value, interpolate(near, far, all) / 1000, float32)
    const without = squares.map((s) => interpolate(near, far, (d) => -(total - s) / 15 / (d * R) ** 2) / 1000)
    const mean = without.reduce((a, b) => a + b) / 16
    const se = Math.sqrt((15 / 16) * without.reduce((a, v) => a + (v - mean) ** 2, 0))
    expectWithin(figure!.se, se, { rel: 1e-3, because: 'single precision' })
  })
})

test('the two distances are those of all batches, whatever one of them says', () => {
  // Fifteen batches at 40 mm, one at 100: (15 · 40² + 100²)/16 = 2125.
  const rays = many(320, {}).map((_, i) => ({ x: i % 16 === 1 ? 100 : 40 }))
  const start = (20 * 100) / CONE
  expectWithin(read(rays).figure!.value, between(start, (d) => -2125 / (d * R) ** 2) / 1000, float32)
})

describe('other rays', () => {
  test('converging: too bright near by', () => {
    // Slopes of 0.12 R towards the axis: (0.24 q − q²)/(1 − 0.0144), 1 % at q = 0.0526.
    const deviation = (d: number) => {
      const q = 50 / (d * R)
      return (0.24 * q - q * q) / (1 - 0.0144)
    }
    const q = 0.12 - Math.sqrt(0.0144 - 0.01 * (1 - 0.0144))
    const { figure } = read(many(160, { x: -50, u: 0.12 }))
    expectWithin(figure!.value, 50 / (q * R) / 1000, { rel: 2e-3, because: 'two powers of the distance' })
    expectWithin(figure!.value, between((20 * 50) / CONE, deviation) / 1000, float32)
  })
  test('from outside the kernel: they come in at q = 0.2', () => {
    // Beside 160 rays on the axis 16 with slopes of 1.2 R: a tenth of 1 − (1.2 − q)².
    const deviation = (d: number) => 0.1 * Math.max(0, 1 - (1.2 - 50 / (d * R)) ** 2)
    const rays = [...many(160, {}), ...many(16, { y: 50, v: -1.2 })]
    const { figure } = read(rays)
    expectWithin(figure!.value, between((20 * 50) / CONE, deviation) / 1000, float32)
    // q = 1.2 − √0.9 = 0.2513.
    expectWithin(figure!.value, 50 / (0.2513 * R) / 1000, { rel: 0.05, because: 'straight in log d, from nought' })
  })
  test('much further in: rays that start to count after octaves', () => {
    // Slopes of 3 R come in at q = 2.
    const deviation = (d: number) => 0.1 * Math.max(0, 1 - (3 - 50 / (d * R)) ** 2)
    const rays = [...many(160, {}), ...many(16, { x: 50, u: -3 })]
    expectWithin(read(rays).figure!.value, between((20 * 50) / CONE, deviation) / 1000, float32)
  })
  test('near the kernel’s edge: not right even far out', () => {
    expect(read(many(160, { x: -50, u: 0.95 })).absent).toMatch(/^No distance was found/)
  })
})

describe('near the front', () => {
  test('a point source: from the front on', () => {
    expect(read(many(160, {})).absent).toBe('I/d² holds from the lamp’s front on.')
  })
  test('nearer than a millimetre is at the front', () => {
    // q = 0.1 at 10 r/R: 4.08 mm, 0.82 mm.
    const { figure } = read(many(160, { x: 0.01 }))
    expectWithin(figure!.value, 0.1 / R / 1000, { rel: 6e-3, because: 'straight in log d' })
    expect(read(many(160, { x: 0.002 })).absent).toBe('I/d² holds from the lamp’s front on.')
    // 20 r/c is less than 1 mm.
    expect(read(many(160, { x: 0.0005 })).absent).toBe('I/d² holds from the lamp’s front on.')
  })
})

describe('too few rays', () => {
  test('under the kernel: 100 are enough, 99 are not; those beside it don’t count', () => {
    const rays = (n: number) => [...many(n, { x: 50 }), ...many(40, { x: 50, u: 1.01 })]
    expect(read(rays(99)).absent).toBe('Too few exit rays on the axis to compare illuminance with I/d².')
    expectWithin(read(rays(100)).figure!.value, 500 / R / 1000, { rel: 6e-3, because: 'straight in log d' })
  })
  test('to tell 1 % from noise: its error in the batches is a third of that', () => {
    // The rays of so many batches are at 50 mm, the others on the axis: with k of them q² k/16 and an error of q² √(k (16 − k)/15)/16.
    const of = (k: number) => read(many(320, {}).map((_, i) => (i % 16 < k ? { x: 50 } : {})))
    // At 1 to 1.4 %: k = 12 gives 0.0015 to 0.0021, k = 5 0.0038 to 0.0054, k = 1 0.01 to 0.014.
    expect(of(12).figure!.se).toBeGreaterThan(0)
    expect(of(5).figure).toBeUndefined()
    // All light in one batch: without it there is none to compare.
    expect(read(many(160, { x: 50, batch: 3 })).absent).toMatch(/^Too few exit rays on the axis to tell 1 % from noise/)
    expect(of(1).absent).toBe('Too few exit rays on the axis to tell 1 % from noise; the figure comes with more rays.')
  })
})

describe('the cone', () => {
  test('a quarter of the half-flux cone, or the axial cone if that is wider, however many rays there are', () => {
    const rounding = { rel: 1e-9, because: 'rounding' }
    for (const rays of [160, 20_000]) {
      expectWithin(read(many(rays, { x: 50 }), 0.4).coneHalfDeg, 0.1 * DEG, rounding)
      expectWithin(read(many(rays, { x: 50 })).coneHalfDeg, 0.02 * DEG, rounding)
    }
  })
  test('a lamp that lights all round: 0.3 rad at most', () => {
    const run = filledRun(smallShape(), (t, l) => {
      t[l.profileLm + 5] = 1
    })
    run.exits = exitRays(
      Array.from({ length: 160 }, () => [0, 0, FRONT, 0, 0, 1, 1, 300]),
      160,
    )
    expectWithin(readInverseSquare(run, FRONT).coneHalfDeg, 0.3 * DEG, { rel: 1e-9, because: 'rounding' })
  })
})
