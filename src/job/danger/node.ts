// The danger sheet on Node: worker threads, or this thread.

import { inlineWorker, makePool } from '../../engine/workers/pool.ts'
import { nodeTraceWorker } from '../../engine/workers/workerNode.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { DangerReading, DangerStage } from './result.ts'
import { type DangerOptions, traceDanger } from './run.ts'

export interface NodeDangerOptions extends DangerOptions {
  /** Worker threads; 0: this thread. */
  threads: number
}

export async function dangerInNode(
  lamp: Lamp,
  options: NodeDangerOptions,
  onStage?: (stage: DangerStage, share: number) => void,
): Promise<DangerReading> {
  const workers =
    options.threads > 0 ? Array.from({ length: options.threads }, () => nodeTraceWorker()) : [inlineWorker()]
  const pool = makePool(workers, Math.max(1, options.threads))
  try {
    const reading = await traceDanger(pool, lamp, options, undefined, onStage)
    if (!reading) throw new Error('job: the danger sheet ended without a reading')
    return reading
  } finally {
    pool.close()
  }
}
