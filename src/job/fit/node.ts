// Fits and measuring plans on Node: worker threads, or this thread.
import { Worker } from 'node:worker_threads'
import { threadPort } from '../../engine/workers/port.ts'
import type { Readings } from '../../lamp/readings.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { type FittedReadings, fitAll } from './fitAll.ts'
import type { FitOptions } from './fitting.ts'
import { inlinePredictor, type Predictor } from './predict.ts'
import { threadPredictor } from './service.ts'

export interface NodeFitOptions extends FitOptions {
  /** Worker threads; 0: this thread. */
  threads: number
}

export async function fitInNode(
  lamp: Lamp,
  readings: Readings,
  options: NodeFitOptions,
  onProgress: (done: number, all: number) => void = () => {},
): Promise<FittedReadings> {
  const predictors = options.threads > 0 ? Array.from({ length: options.threads }, openThread) : [inlinePredictor()]
  try {
    return await fitAll(predictors, lamp, readings, options, onProgress)
  } finally {
    for (const predictor of predictors) predictor.close()
  }
}

const NAME = 'A worker of the fit'
// Both kinds of worker lie beside the bundle.
const openThread = (): Predictor =>
  threadPredictor(threadPort(new Worker(new URL('./fitWorker.node.mjs', import.meta.url)) as never, NAME), NAME)
