// Predictions between traced values of a cause, and the value that fits best. Own code: the packages for minimisation know neither the interval that a
// profile likelihood gives nor a function that grows more exact where it is asked.
import { linear, monotoneCubic } from '../../num/interpolate.ts'
import type { TimeSliced } from '../../num/scheduler.ts'

/** Of each point the ratio to the lamp as drawn, and how noisy that is, as a share of it. */
export interface Ratios {
  ratios: readonly number[]
  noise: readonly number[]
}

/** The same at a value of a cause. */
export interface Traced extends Ratios {
  value: number
}

/** Ratios of all points at a value: between traced values their logarithms by a monotone cubic (Fritsch & Carlson 1980); noise by straight lines. */
export function emulator(traced: readonly Traced[]): (value: number) => Ratios {
  const sorted = [...traced].sort((a, b) => a.value - b.value)
  const values = sorted.map((t) => t.value)
  const points = sorted[0]?.ratios ?? []
  const curves = points.map((_, i) =>
    monotoneCubic(
      values,
      sorted.map((t) => Math.log(Math.max(LEAST_RATIO, t.ratios[i] ?? 1))),
    ),
  )
  const noises = points.map((_, i) => sorted.map((t) => t.noise[i] ?? 0))
  return (value) => ({
    ratios: curves.map((curve) => Math.exp(curve(value))),
    noise: noises.map((noise) => linear(values, noise, value)),
  })
}

/**
 * The same from many-ray traces that lie close: of each point's logarithm the parabola of least squares over all of them, weighted by their noise.
 * Noise by straight lines: with common random numbers the traces err alike, so that it doesn't average out over them.
 */
export function smoothEmulator(traced: readonly Traced[]): (value: number) => Ratios {
  const values = traced.map((t) => t.value)
  const [low, high] = [Math.min(...values), Math.max(...values)]
  const unit = (value: number) => (high > low ? (2 * (value - low)) / (high - low) - 1 : 0)
  const points = traced[0]?.ratios ?? []
  const curves = points.map((_, i) => {
    const rows = traced.map((t) => ({
      x: unit(t.value),
      y: Math.log(Math.max(LEAST_RATIO, t.ratios[i] ?? 1)),
      u: Math.max(t.noise[i] ?? 0, LEAST_NOISE),
    }))
    return parabola(rows)
  })
  const sorted = [...traced].sort((a, b) => a.value - b.value)
  const noises = points.map((_, i) => sorted.map((t) => t.noise[i] ?? 0))
  const at = sorted.map((t) => t.value)
  return (value) => ({
    ratios: curves.map((curve) => Math.exp(curve(unit(value)))),
    noise: noises.map((noise) => linear(at, noise, value)),
  })
}

/** Of a trace without any, so that no weight is infinite. */
const LEAST_NOISE = 1e-3

/** Two changes together, to first order. */
export const together = (a: Ratios, b: Ratios): Ratios => ({
  ratios: a.ratios.map((r, i) => r * (b.ratios[i] ?? 1)),
  noise: a.noise.map((n, i) => Math.hypot(n, b.noise[i] ?? 0)),
})

/** Darker than this is as dark. */
const LEAST_RATIO = 1e-6

export interface BestValue {
  value: number
  chi2: number
  /** Ends of the interval at 95 %, and whether it reaches beyond what was tried. */
  low: number
  high: number
  openLow: boolean
  openHigh: boolean
}

/** Rise of χ² at the ends of an interval at 95 % for one number: chi-squared of one degree of freedom (standard table: 3.841). */
const RISE_95 = 3.841

interface MinimiseOptions {
  /** Of the scan. */
  steps?: number
  /** The least, where it is known. */
  least?: { value: number; chi2: number }
  /** The least alone: the interval is left as wide as what was scanned. */
  only?: boolean
}

/** A function that itself may take long. */
export type SlicedFunction = (value: number) => TimeSliced<number>

/** A function that yields before each of its values. */
export const sliced = (of: (value: number) => number): SlicedFunction =>
  function* (value) {
    yield
    return of(value)
  }

/** Least of a function over [from, to], by a scan and golden sections, with the interval where it stays within 3.841 of the least. */
export function* minimise(
  of: SlicedFunction,
  from: number,
  to: number,
  { steps = 60, least, only = false }: MinimiseOptions = {},
): TimeSliced<BestValue> {
  const at = (i: number) => from + ((to - from) * i) / steps
  const scanned: number[] = []
  for (let i = 0; i <= steps; i++) scanned.push(yield* of(at(i)))
  let best = 0
  for (const [i, chi2] of scanned.entries()) if (chi2 < (scanned[best] ?? 0)) best = i
  const found = yield* golden(of, at(Math.max(0, best - 1)), at(Math.min(steps, best + 1)))
  const { value, chi2 } = least && least.chi2 <= found.chi2 ? least : found
  if (only) return { value, chi2, low: from, high: to, openLow: true, openHigh: true }
  const start = Math.round(((value - from) / (to - from)) * steps)
  const end = function* (way: 1 | -1): TimeSliced<[number, boolean]> {
    for (let i = start + way; i >= 0 && i <= steps; i += way) {
      if ((scanned[i] ?? 0) <= chi2 + RISE_95) continue
      const inner = way > 0 ? Math.max(value, at(i - 1)) : Math.min(value, at(i + 1))
      return [yield* crossing(of, inner, at(i), chi2 + RISE_95), false]
    }
    return [way > 0 ? to : from, true]
  }
  const [low, openLow] = yield* end(-1)
  const [high, openHigh] = yield* end(1)
  return { value, chi2, low, high, openLow, openHigh }
}

const GOLDEN = (Math.sqrt(5) - 1) / 2
/** Under a hundredth of the bracket, which is two steps of the scan. */
const GOLDEN_STEPS = 10

function* golden(of: SlicedFunction, from: number, to: number): TimeSliced<{ value: number; chi2: number }> {
  let [a, b] = [from, to]
  let [x, y] = [b - GOLDEN * (b - a), a + GOLDEN * (b - a)]
  let [fx, fy] = [yield* of(x), yield* of(y)]
  for (let i = 0; i < GOLDEN_STEPS; i++) {
    if (fx < fy) {
      ;[b, y, fy] = [y, x, fx]
      x = b - GOLDEN * (b - a)
      fx = yield* of(x)
    } else {
      ;[a, x, fx] = [x, y, fy]
      y = a + GOLDEN * (b - a)
      fy = yield* of(y)
    }
  }
  return fx < fy ? { value: x, chi2: fx } : { value: y, chi2: fy }
}

function* crossing(of: SlicedFunction, inner: number, outer: number, level: number): TimeSliced<number> {
  let [a, b] = [inner, outer]
  for (let i = 0; i < 10; i++) {
    const middle = (a + b) / 2
    if ((yield* of(middle)) > level) b = middle
    else a = middle
  }
  return (a + b) / 2
}

/** Parabola through points by weighted least squares, from its normal equations by Cramer's rule; fewer than three different x: their mean. */
function parabola(points: readonly { x: number; y: number; u: number }[]): (x: number) => number {
  const s = [0, 0, 0, 0, 0]
  const t = [0, 0, 0]
  for (const { x, y, u } of points) {
    const w = 1 / u ** 2
    for (let k = 0; k < 5; k++) s[k] = (s[k] ?? 0) + w * x ** k
    for (let k = 0; k < 3; k++) t[k] = (t[k] ?? 0) + w * y * x ** k
  }
  const [s0 = 1, s1 = 0, s2 = 0, s3 = 0, s4 = 0] = s
  const [t0 = 0, t1 = 0, t2 = 0] = t
  const det = s0 * (s2 * s4 - s3 * s3) - s1 * (s1 * s4 - s2 * s3) + s2 * (s1 * s3 - s2 * s2)
  if (!(Math.abs(det) > 1e-9 * s0 ** 3)) return () => t0 / s0
  const a = (t0 * (s2 * s4 - s3 * s3) - s1 * (t1 * s4 - t2 * s3) + s2 * (t1 * s3 - t2 * s2)) / det
  const b = (s0 * (t1 * s4 - t2 * s3) - t0 * (s1 * s4 - s2 * s3) + s2 * (s1 * t2 - s2 * t1)) / det
  const c = (s0 * (s2 * t2 - s3 * t1) - s1 * (s1 * t2 - s2 * t1) + t0 * (s1 * s3 - s2 * s2)) / det
  return (x) => a + b * x + c * x * x
}
