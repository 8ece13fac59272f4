// Two causes together: their ratios multiply, to first order; where the pair fits best it is traced, and what that adds is kept as a factor.
import type { TimeSliced } from '../../num/scheduler.ts'
import { type CauseFit, changedBy, fittedCause } from './causeFit.ts'
import { areAlike } from './causes.ts'
import { isDarkKey } from './dark.ts'
import { type BestValue, minimise, type Ratios, type SlicedFunction, sliced, together } from './emulate.ts'
import { type Fitting, ratio } from './fitting.ts'
import type { Explanation } from './result.ts'

type Pair = Pick<Explanation, 'causes' | 'chi2'>

const PAIRED = 4
/** Only pairs that gain so much over the best single cause are traced: less is not worth a second cause. */
const TRACED_GAIN = 3

/** Pairs that are kept, with the interval of either number beside the other. */
const KEPT = 3

/** The best pairs, and how many were tried. */
export async function fitPairs(fitting: Fitting, fits: readonly CauseFit[]): Promise<{ pairs: Pair[]; tried: number }> {
  const sorted = [...fits].sort((a, b) => a.best.chi2 - b.best.chi2)
  // Of what may be dark only the likeliest: two dark boards are tried by themselves.
  const firstDark = sorted.find((fit) => isDarkKey(fit.cause.key))
  const first = sorted.filter((fit) => !isDarkKey(fit.cause.key) || fit === firstDark).slice(0, PAIRED)
  const flux = fits.find((fit) => fit.cause.key === 'flux')
  if (flux && !first.includes(flux)) first.push(flux)
  const least = sorted[0]?.best.chi2 ?? 0
  const pairs = first
    .flatMap((a, i) => first.slice(i + 1).map((b) => [a, b] as const))
    .filter(([a, b]) => !areAlike(a.cause.key, b.cause.key))
  const fitted = await Promise.all(pairs.map(([a, b]) => fitPair(fitting, a, b, least)))
  const listed = fitted.sort((a, b) => a.chi2 - b.chi2).slice(0, KEPT)
  return { pairs: await Promise.all(listed.map((pair) => fitting.run(withIntervals(pair)))), tried: pairs.length }
}

interface FittedPair {
  a: CauseFit
  b: CauseFit
  x: BestValue
  y: BestValue
  chi2: number
  chi2Of(x: number, y: number): number
}

async function fitPair(fitting: Fitting, a: CauseFit, b: CauseFit, least: number): Promise<FittedPair> {
  const plain = (x: number, y: number) => together(a.at(x), b.at(y))
  let best = await fitting.run(bestPair(fitting, a, b, plain))
  const isScaled = a.cause.scales || b.cause.scales
  const changed =
    isScaled || best.chi2 > least - TRACED_GAIN
      ? null
      : changedBy(fitting, [
          [a.cause, best.x.value],
          [b.cause, best.y.value],
        ])
  if (changed) {
    const exact = await fitting.trace(changed, true)
    const first = plain(best.x.value, best.y.value)
    const more = exact.ratios.map((r, i) => ratio(r, first.ratios[i] ?? 0))
    const corrected = (v: number, w: number) => ({
      ratios: plain(v, w).ratios.map((r, i) => r * (more[i] ?? 1)),
      noise: exact.noise,
    })
    best = await fitting.run(bestPair(fitting, a, b, corrected))
  }
  return { a, b, ...best }
}

const TURNS = 8
const PROFILE_STEPS = 24

/** The least of both, one after the other until neither gains. */
function* bestPair(
  fitting: Fitting,
  a: CauseFit,
  b: CauseFit,
  ratiosAt: (x: number, y: number) => Ratios,
): TimeSliced<Omit<FittedPair, 'a' | 'b'>> {
  const chi2Of = (x: number, y: number) => fitting.agree(ratiosAt(x, y)).chi2
  let [x, y] = [a.best, b.best]
  for (let turn = 0; turn < TURNS; turn++) {
    const before = x.value
    const atX = x.value
    y = yield* vary(b, y, (v) => chi2Of(atX, v))
    const atY = y.value
    x = yield* vary(a, x, (v) => chi2Of(v, atY))
    if (Math.abs(x.value - before) < 1e-4 * (a.to - a.from)) break
  }
  return { x, y, chi2: chi2Of(x.value, y.value), chi2Of }
}

/** The interval of each with the other as it best fits beside it: profile likelihood. */
function* withIntervals({ a, b, x, y, chi2, chi2Of }: FittedPair): TimeSliced<Pair> {
  const profile = function* (fit: CauseFit, at: BestValue, of: SlicedFunction): TimeSliced<BestValue> {
    if (fit.from === fit.to) return at
    return yield* minimise(of, fit.from, fit.to, { steps: PROFILE_STEPS, least: { value: at.value, chi2 } })
  }
  const first = yield* profile(a, x, (v) => leastOver(b, (w) => chi2Of(v, w)))
  const second = yield* profile(b, y, (w) => leastOver(a, (v) => chi2Of(v, w)))
  return { causes: [fittedCause(a, first), fittedCause(b, second)], chi2 }
}

/** A dark board has nothing to be varied. */
function* vary(fit: CauseFit, now: BestValue, of: (v: number) => number): TimeSliced<BestValue> {
  if (fit.from === fit.to) return now
  return yield* minimise(sliced(of), fit.from, fit.to, { steps: PROFILE_STEPS, only: true })
}

function* leastOver(fit: CauseFit, of: (v: number) => number): TimeSliced<number> {
  if (fit.from === fit.to) return of(fit.from)
  return (yield* minimise(sliced(of), fit.from, fit.to, { steps: PROFILE_STEPS / 2, only: true })).chi2
}
