// One cause fitted: traced over what a workshop gets wrong, then, where it may be the one, with more rays about its best value.
import type { Cause } from './cause.ts'
import { withCause } from './causes.ts'
import { type DarkPart, darkParts, isDarkKey } from './dark.ts'
import { type BestValue, emulator, minimise, type Ratios, sliced, smoothEmulator, type Traced } from './emulate.ts'
import type { Changed, Fitting } from './fitting.ts'
import type { FittedCause } from './result.ts'

export interface CauseFit {
  cause: Cause
  at: (value: number) => Ratios
  from: number
  to: number
  best: BestValue
}

export async function fitCause(fitting: Fitting, cause: Cause): Promise<CauseFit> {
  const traced = await Promise.all(cause.tried.map((value) => traceCause(fitting, cause, value, false)))
  const values = traced.map((t) => t.value)
  return bestOf(fitting, cause, emulator(traced), Math.min(...values), Math.max(...values))
}

const NODES = 5
/** Beyond the interval of the first fit, in halves of it. */
const BESIDE = 0.5

/** Once more, with more rays, over the interval that the first fit has left and half of it to either side. */
export async function fitCloser(fitting: Fitting, fit: CauseFit): Promise<CauseFit> {
  const { cause, best } = fit
  if (cause.scales) return fit
  if (isDarkKey(cause.key)) {
    const [on, off] = await Promise.all([0, 1].map((value) => traceCause(fitting, cause, value, true)))
    return on && off ? bestOf(fitting, cause, emulator([on, off]), 0, 1) : fit
  }
  const half = Math.max(best.high - best.low, 0.1 * (fit.to - fit.from)) * BESIDE
  const [from, to] = [Math.max(fit.from, best.low - half), Math.min(fit.to, best.high + half)]
  const values = Array.from({ length: NODES }, (_, i) => from + ((to - from) * i) / (NODES - 1))
  const traced = await Promise.all(values.map((value) => traceCause(fitting, cause, value, true)))
  const drawn = cause.drawn >= from && cause.drawn <= to ? [await traceCause(fitting, cause, cause.drawn, true)] : []
  return bestOf(fitting, cause, smoothEmulator([...traced, ...drawn]), from, to)
}

async function traceCause(fitting: Fitting, cause: Cause, value: number, fine: boolean): Promise<Traced> {
  const { none } = fitting
  if (cause.scales) return { value, ...none, ratios: none.ratios.map(() => value) }
  if (value === cause.drawn) return { value, ...none }
  const changed = changedBy(fitting, [[cause, value]])
  return { value, ...(changed ? await fitting.trace(changed, fine) : none) }
}

/** The lamp with causes at values; null: there is no such lamp. Scales leave it as it is. */
export function changedBy(
  { lamp: drawn }: Fitting,
  causes: readonly (readonly [Pick<Cause, 'key' | 'board' | 'string'>, number])[],
): Changed | null {
  let [lamp, wall] = [drawn, 1]
  const dark: DarkPart[] = []
  for (const [cause, value] of causes) {
    if (cause.key === 'flux' || cause.key === 'meter') continue
    if (isDarkKey(cause.key)) dark.push(...(value > 0 ? darkParts(drawn, cause) : []))
    else if (cause.key === 'wall') wall = value
    else {
      const made = withCause(lamp, cause, value)
      if (!made.ok) return null
      lamp = made.lamp
    }
  }
  return { lamp, dark, wall }
}

async function bestOf(
  fitting: Fitting,
  cause: Cause,
  at: (value: number) => Ratios,
  from: number,
  to: number,
): Promise<CauseFit> {
  const chi2Of = (value: number) => fitting.agree(at(value)).chi2
  if (!isDarkKey(cause.key)) return { cause, at, from, to, best: await fitting.run(minimise(sliced(chi2Of), from, to)) }
  const best = { value: 1, chi2: chi2Of(1), low: 1, high: 1, openLow: false, openHigh: false }
  return { cause, at, from: 1, to: 1, best }
}

export const fittedCause = ({ cause }: CauseFit, best: BestValue): FittedCause => ({
  key: cause.key,
  unit: cause.unit,
  ...(cause.board !== undefined && { board: cause.board }),
  ...(cause.string !== undefined && { string: cause.string }),
  drawn: cause.drawn,
  value: best.value,
  low: best.low,
  high: best.high,
  openLow: best.openLow,
  openHigh: best.openHigh,
})
