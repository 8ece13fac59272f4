// The job on Node: worker threads, or this thread.

import { openGraphics } from '../../engine/choice.ts'
import { openNodeDevice } from '../../engine/gpu/deviceNode.ts'
import { makeNextTask } from '../../engine/workers/nextTask.ts'
import { inlineWorker, makePool } from '../../engine/workers/pool.ts'
import { nodeTraceWorker } from '../../engine/workers/workerNode.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { makeScheduler } from '../../num/scheduler.ts'
import { nodeFrontThread } from '../beam/frontThreadNode.ts'
import { makeReaderThread } from '../beam/readerThread.ts'
import type { EngineChoice, JobOptions, Sheet } from '../beam/sheet.ts'
import { makeSunThread } from '../beam/sunThread.ts'
import { nodeSunThread } from '../beam/sunThreadNode.ts'
import { traceLamp } from '../beam/trace.ts'

export interface NodeJobOptions extends JobOptions {
  /** Worker threads; 0: this thread. */
  threads: number
  /** auto: a graphics device where there is one that isn't software; gpu: any, or nothing. Default cpu. */
  engine?: EngineChoice
}

/** Trace a lamp and read the sheet. */
export async function traceInNode(
  lamp: Lamp,
  options: NodeJobOptions,
  onProgress?: (sheet: { rays: number; maxRays: number }) => void,
): Promise<Sheet> {
  const engine = options.engine ?? 'cpu'
  const graphics = openGraphics(engine, openNodeDevice)
  const workers =
    options.threads > 0 ? Array.from({ length: options.threads }, () => nodeTraceWorker()) : [inlineWorker()]
  const pool = makePool(workers, Math.max(1, options.threads))
  const sunThread = makeSunThread(nodeSunThread, options.threads)
  const frontThread = makeReaderThread(nodeFrontThread, options.threads)
  try {
    const progress = (rays: number) => onProgress?.({ rays, maxRays: options.maxRays })
    const all = { onlyLast: true, ...options, graphics, graphicsFirst: true, graphicsOnly: engine === 'gpu' }
    const sheet = await traceLamp(pool, lamp, all, () => {}, {
      onProgress: progress,
      ...{ sunThread, frontThread },
      // What the workers have traced is taken, and more is handed to them, while a reading goes on.
      scheduler: makeScheduler(undefined, { nextTask: makeNextTask() }),
    })
    if (!sheet) throw new Error('job: the trace ended without a sheet')
    return sheet
  } finally {
    sunThread.close()
    frontThread.close()
    graphics.machine()?.device.destroy()
    pool.close()
  }
}
