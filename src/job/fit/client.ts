// The page's side of a fit: workers of its own, started with the first fit and closed with the panel.
import type { CallReply, CallRequest } from '../../engine/workers/calls.ts'
import { browserPort } from '../../engine/workers/port.ts'
import type { Readings } from '../../lamp/readings.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { makeNewest } from '../../num/scheduler.ts'
import type { Trouble } from '../service/restarting.ts'
import { type FittedReadings, fitAll } from './fitAll.ts'
import type { FitOptions } from './fitting.ts'
import { makePlan, type PlannedFigures, type PlanOptions, type PlanOutcome } from './plan.ts'
import type { Predictor } from './predict.ts'
import { restartingPredictor } from './service.ts'

export interface FitClient {
  /** Whatever was being fitted before is cancelled. Resolves with null when this one is. */
  fit(
    lamp: Lamp,
    readings: Readings,
    options: FitOptions,
    onProgress: (done: number, all: number) => void,
  ): Promise<FittedReadings | null>
  /** What to measure: lux are traced by one of the workers. */
  plan(lamp: Lamp, sheet: PlannedFigures, options: PlanOptions): Promise<PlanOutcome>
  stop(): void
  dispose(): void
}

const workerCount = (): number => Math.max(1, Math.min(8, navigator.hardwareConcurrency || 2))

export function openFitClient(
  onTrouble: (trouble: Trouble) => void = () => {},
  open: (onTrouble: (trouble: Trouble) => void) => Predictor = browserPredictor,
  threads = workerCount(),
): FitClient {
  const predictors = Array.from({ length: threads }, () => open(onTrouble))
  const newest = makeNewest()
  return {
    async fit(lamp, readings, options, onProgress) {
      const signal = newest.start()
      try {
        return await fitAll(predictors, lamp, readings, options, onProgress, signal)
      } catch (error) {
        if (signal.aborted) return null
        throw error
      }
    },
    async plan(lamp, sheet, options) {
      const [first] = predictors
      if (!first) throw new Error('fit: no worker')
      return makePlan(first.predict, lamp, sheet, options)
    },
    stop: newest.cancel,
    dispose() {
      newest.cancel()
      for (const predictor of predictors) predictor.close()
    },
  }
}

const NAME = 'A worker of the fit'
const openWorker = () =>
  browserPort<CallRequest, CallReply>(new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' }), NAME)
const browserPredictor = (onTrouble: (trouble: Trouble) => void): Predictor =>
  restartingPredictor(openWorker, NAME, onTrouble)
