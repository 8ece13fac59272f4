// Why the built lamp differs: each cause fitted by retracing with common random numbers, then pairs of the likeliest, then how probable each is.
import type { Readings } from '../../lamp/readings.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { makeScheduler, type Scheduler } from '../../num/scheduler.ts'
import { birgeRatio } from '../../readings/agreement.ts'
import { median } from '../../readings/slips.ts'
import { fitCause, fitCloser, fittedCause } from './causeFit.ts'
import { causesOf } from './causes.ts'
import { fitDarkPairs } from './darkPairs.ts'
import { type FitOptions, makeFitting } from './fitting.ts'
import { nearFieldCandela } from './nearField.ts'
import { nextReading } from './next.ts'
import { fitPairs } from './pairs.ts'
import { fitPoints } from './points.ts'
import { type Predictor, unpredictable } from './predict.ts'
import type { Queue } from './queue.ts'
import { rank } from './rank.ts'
import type { FitResult } from './result.ts'

export type FitOutcome = { ok: true; result: FitResult } | { ok: false; why: string }

/** Causes further off than so many units of χ² from the best are not looked at closer, and no more than so many are. */
const WORTH = 40
const CLOSER = 6

/** Rejects as the queue does. */
export async function runFit(
  queue: Queue,
  lamp: Lamp,
  readings: Readings,
  options: FitOptions,
  scheduler: Scheduler = makeScheduler(),
): Promise<FitOutcome> {
  const began = performance.now()
  const data = fitPoints(readings)
  if (data.points.length < 2)
    return { ok: false, why: 'A fit needs two readings of lux at places in front of the lamp, or more.' }
  const why = unpredictable(lamp)
  if (why) return { ok: false, why }
  let traced = 0
  const predict: Predictor['predict'] = async (order) => {
    traced++
    return queue((predictor) => predictor.predict(order))
  }
  const fitting = await makeFitting(predict, lamp, readings, data, options, scheduler)
  const seesY = data.points.some((p) => p.yMm !== 0)
  const seesAside = data.sets.some((set) => set.kind !== 'axis' && set.aimed === 'axis')
  const roughly = await Promise.all(causesOf(lamp, { seesY, seesAside }).map((cause) => fitCause(fitting, cause)))
  const sorted = roughly.sort((a, b) => a.best.chi2 - b.best.chi2)
  const least = sorted[0]?.best.chi2 ?? 0
  const likely = sorted.filter((fit) => !fit.cause.scales && fit.best.chi2 < least + WORTH).slice(0, CLOSER)
  const fits = await Promise.all(sorted.map((fit) => (likely.includes(fit) ? fitCloser(fitting, fit) : fit)))
  const asDrawn = fitting.agree(fitting.none)
  const [{ pairs, tried }, dark] = await Promise.all([fitPairs(fitting, fits), fitDarkPairs(fitting, fits)])
  const explanations = rank(
    [
      { causes: [], chi2: asDrawn.chi2 },
      ...fits.map((fit) => ({ causes: [fittedCause(fit, fit.best)], chi2: fit.best.chi2 })),
      ...pairs,
      ...dark.pairs,
    ],
    data.points.length,
    { pairs: tried, darkPairs: dark.tried },
  )
  const { drawn } = fitting
  const result: FitResult = {
    points: data.points.map((p, i) => ({
      ...p,
      predictedLx: drawn.lx[i] ?? 0,
      seLx: drawn.se[i] ?? 0,
      studentised: asDrawn.studentised[i] ?? 0,
    })),
    asDrawn: {
      chi2: asDrawn.chi2,
      birge: birgeRatio(asDrawn.chi2, data.points.length),
      medianRatio: median(data.points.map((p, i) => p.lx / Math.max(drawn.lx[i] ?? 0, 1e-9))),
    },
    explanations,
    next: await nextReading(fitting, explanations),
    candela: await nearFieldCandela(fitting),
    traced,
    seconds: (performance.now() - began) / 1000,
  }
  return { ok: true, result }
}
