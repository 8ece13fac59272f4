// All that readings say of a lamp: its light by retracing, heat and power by running its modes again.
import { makeNextTask } from '../../engine/workers/nextTask.ts'
import type { Readings } from '../../lamp/readings.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { makeScheduler } from '../../num/scheduler.ts'
import type { FitOptions } from './fitting.ts'
import { fitPoints } from './points.ts'
import type { Predictor } from './predict.ts'
import { makeQueue } from './queue.ts'
import type { RunningFit } from './result.ts'
import { type FitOutcome, runFit } from './run.ts'
import { fitRunning } from './runningFit.ts'

export interface FittedReadings {
  /** Null: no set gives lux at two places, and what runs is all there is. */
  light: FitOutcome | null
  /** Temperatures, voltages and currents; empty: too few were read. */
  running: RunningFit[]
}

const nextTask = makeNextTask()

/** Rejects when a worker dies, and with the signal's reason once it is aborted. */
export async function fitAll(
  predictors: readonly Predictor[],
  lamp: Lamp,
  readings: Readings,
  options: FitOptions,
  onProgress: (done: number, all: number) => void = () => {},
  signal?: AbortSignal,
): Promise<FittedReadings> {
  const queue = makeQueue(predictors, onProgress, signal)
  const scheduler = makeScheduler(signal, { nextTask })
  // Each changed lamp is validated and sent to a worker: without the readings, which may be thousands of rows.
  const { readings: _, ...bare } = lamp
  const running = await fitRunning((order) => queue((p) => p.run(order)), bare, readings, scheduler)
  const isLit = fitPoints(readings).points.length >= 2
  if (!isLit && running.length > 0) return { light: null, running }
  return { light: await runFit(queue, bare, readings, options, scheduler), running }
}
