// Two boards dark at once. Light adds up, so that the ratios of two dark boards follow from those of each: all pairs are tried without tracing.
import type { TimeSliced } from '../../num/scheduler.ts'
import { type CauseFit, changedBy, fittedCause } from './causeFit.ts'
import type { BestValue, Ratios } from './emulate.ts'
import type { Fitting } from './fitting.ts'
import type { Explanation } from './result.ts'

type Pair = Pick<Explanation, 'causes' | 'chi2'>

/** Pairs that are traced with more rays, and kept. */
const KEPT = 3

/** The best pairs of dark boards, and how many were tried. */
export async function fitDarkPairs(
  fitting: Fitting,
  fits: readonly CauseFit[],
): Promise<{ pairs: Pair[]; tried: number }> {
  const boards = fits.filter((fit) => fit.cause.key === 'dark').map((fit) => ({ fit, alone: fit.at(1) }))
  const all = boards.flatMap((a, i) => boards.slice(i + 1).map((b) => [a, b] as const))
  const found = await fitting.run(rated(fitting, all))
  found.sort((p, q) => p.chi2 - q.chi2)
  const pairs = await Promise.all(found.slice(0, KEPT).map(({ a, b, chi2 }) => closer(fitting, a, b, chi2)))
  return { pairs, tried: found.length }
}

interface Alone {
  fit: CauseFit
  alone: Ratios
}

function* rated(
  fitting: Fitting,
  all: readonly (readonly [Alone, Alone])[],
): TimeSliced<{ a: CauseFit; b: CauseFit; chi2: number }[]> {
  const found: { a: CauseFit; b: CauseFit; chi2: number }[] = []
  for (const [a, b] of all) {
    found.push({ a: a.fit, b: b.fit, chi2: fitting.agree(bothDark(a.alone, b.alone)).chi2 })
    yield
  }
  return found
}

/** All light less that of either: r_a + r_b − 1, exact but for noise. */
const bothDark = (a: Ratios, b: Ratios): Ratios => {
  const ratios = a.ratios.map((r, i) => Math.max(0, r + (b.ratios[i] ?? 1) - 1))
  const noise = ratios.map((r, i) => {
    const own = Math.hypot((a.noise[i] ?? 0) * (a.ratios[i] ?? 1), (b.noise[i] ?? 0) * (b.ratios[i] ?? 1))
    return r > 0 ? own / r : 0
  })
  return { ratios, noise }
}

async function closer(fitting: Fitting, a: CauseFit, b: CauseFit, roughly: number): Promise<Pair> {
  const changed = changedBy(fitting, [
    [a.cause, 1],
    [b.cause, 1],
  ])
  const chi2 = changed ? fitting.agree(await fitting.trace(changed, true)).chi2 : roughly
  const dark: BestValue = { value: 1, chi2, low: 1, high: 1, openLow: false, openHigh: false }
  return { causes: [fittedCause(a, dark), fittedCause(b, dark)], chi2 }
}
