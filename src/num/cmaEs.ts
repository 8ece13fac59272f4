// The CMA evolution strategy: a search for the least value of a function of which nothing but values is known. Own code: packages on npm
// minimise to the end in one call, and here each generation is evaluated elsewhere, by many workers, and may be the last.
// Source of all equations and settings: N. Hansen, "The CMA Evolution Strategy: A Tutorial", 2016, arXiv:1604.00772, with weights that are
// not negative.
import { type Eigen, symmetricEigen } from './symmetricEigen.ts'

export interface Cma {
  generation: number
  lambda: number
  mean: readonly number[]
  sigma: number
  covariance: readonly (readonly number[])[]
  eigen: Eigen
  /** Evolution paths of covariance and step size. */
  pathC: readonly number[]
  pathSigma: readonly number[]
}

/** Usual number of points of a generation in n dimensions, 4 + ⌊3 ln n⌋ (table 1 of the tutorial). */
export const usualLambda = (n: number): number => 4 + Math.floor(3 * Math.log(n))

/** A search from `mean` with steps of `sigma` in every direction: the least is expected within about three of them. At least one dimension. */
export function startCma(mean: readonly number[], sigma: number, lambda = usualLambda(mean.length)): Cma {
  const covariance = mean.map((_, i) => mean.map((_, j) => (i === j ? 1 : 0)))
  const zero = mean.map(() => 0)
  return {
    generation: 0,
    lambda,
    mean: [...mean],
    sigma,
    covariance,
    eigen: symmetricEigen(covariance),
    pathC: zero,
    pathSigma: zero,
  }
}

/** Standard deviation of each coordinate of the points, in its unit. */
export const cmaSpread = ({ sigma, covariance }: Cma): number[] =>
  covariance.map((row, i) => sigma * Math.sqrt(Math.max(0, row[i] ?? 0)))

/**
 * The points of a generation. `normal` gives independent normal numbers of variance 1. `leastSpread`: of each coordinate at least this standard
 * deviation is drawn, so that one which counts in whole steps still changes (N. Hansen, "A CMA-ES for mixed-integer nonlinear optimization",
 * INRIA RR-7751, 2011, from memory).
 */
export function sampleCma(cma: Cma, normal: () => number, leastSpread: readonly number[] = []): number[][] {
  const { mean, sigma, eigen, lambda } = cma
  const widen = cmaSpread(cma).map((sd, i) => Math.max(1, (leastSpread[i] ?? 0) / Math.max(sd, 1e-300)))
  return Array.from({ length: lambda }, () => {
    const along = eigen.values.map((v) => sigma * Math.sqrt(Math.max(0, v)) * normal())
    return mean.map((m, i) => m + (widen[i] ?? 1) * dot(along, column(eigen.vectors, i)))
  })
}

/** The next generation's distribution from the points of this one, best first; all of them, or more than half. */
export function updateCma(cma: Cma, ranked: readonly (readonly number[])[]): Cma {
  const { mean: before, sigma, eigen, generation } = cma
  const n = before.length
  const set = settingsOf(n, cma.lambda)
  const best = ranked.slice(0, set.weights.length)
  const steps = best.map((x) => x.map((v, i) => (v - (before[i] ?? 0)) / sigma))
  const step = before.map((_, i) => dot(set.weights, column(steps, i)))
  const mean = before.map((m, i) => m + sigma * (step[i] ?? 0))
  // C^(−1/2) applied to the mean's step.
  const along = eigen.vectors.map((b, k) => dot(b, step) / Math.sqrt(Math.max(eigen.values[k] ?? 1, 1e-300)))
  const whitened = before.map((_, i) => dot(along, column(eigen.vectors, i)))
  const keepS = Math.sqrt(set.cs * (2 - set.cs) * set.muEff)
  const pathSigma = cma.pathSigma.map((p, i) => (1 - set.cs) * p + keepS * (whitened[i] ?? 0))
  const length = Math.hypot(...pathSigma)
  const grown = Math.sqrt(1 - (1 - set.cs) ** (2 * (generation + 1)))
  const h = length / grown < (1.4 + 2 / (n + 1)) * set.chi ? 1 : 0
  const keepC = h * Math.sqrt(set.cc * (2 - set.cc) * set.muEff)
  const pathC = cma.pathC.map((p, i) => (1 - set.cc) * p + keepC * (step[i] ?? 0))
  const stays = 1 - set.c1 - set.cmu + (1 - h) * set.c1 * set.cc * (2 - set.cc)
  const covariance = cma.covariance.map((row, i) =>
    row.map((c, j) => {
      const rankMu = dot(
        set.weights,
        steps.map((y) => (y[i] ?? 0) * (y[j] ?? 0)),
      )
      return stays * c + set.c1 * (pathC[i] ?? 0) * (pathC[j] ?? 0) + set.cmu * rankMu
    }),
  )
  return {
    generation: generation + 1,
    lambda: cma.lambda,
    mean,
    // A factor of e in one generation is more than any landscape asks for.
    sigma: sigma * Math.exp(Math.min(1, (set.cs / set.ds) * (length / set.chi - 1))),
    covariance,
    eigen: symmetricEigen(covariance),
    pathC,
    pathSigma,
  }
}

/** Greatest over least axis of the distribution, squared. */
export const cmaCondition = ({ eigen: { values } }: Cma): number =>
  Math.max(...values) / Math.max(1e-300, Math.min(...values))

function settingsOf(n: number, lambda: number) {
  const raw = Array.from({ length: Math.floor(lambda / 2) }, (_, i) => Math.log((lambda + 1) / 2) - Math.log(i + 1))
  const sum = raw.reduce((a, b) => a + b, 0)
  const weights = raw.map((w) => w / sum)
  const muEff = 1 / dot(weights, weights)
  const cs = (muEff + 2) / (n + muEff + 5)
  const c1 = 2 / ((n + 1.3) ** 2 + muEff)
  return {
    weights,
    muEff,
    cs,
    ds: 1 + 2 * Math.max(0, Math.sqrt((muEff - 1) / (n + 1)) - 1) + cs,
    cc: (4 + muEff / n) / (n + 4 + (2 * muEff) / n),
    c1,
    cmu: Math.min(1 - c1, (2 * (0.25 + muEff + 1 / muEff - 2)) / ((n + 2) ** 2 + muEff)),
    /** Mean length of a normal vector. */
    chi: Math.sqrt(n) * (1 - 1 / (4 * n) + 1 / (21 * n * n)),
  }
}

const dot = (a: readonly number[], b: readonly number[]): number => a.reduce((sum, x, i) => sum + x * (b[i] ?? 0), 0)
const column = (rows: readonly (readonly number[])[], i: number): number[] => rows.map((row) => row[i] ?? 0)
