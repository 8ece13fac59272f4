// The job on Node: worker threads, or this thread.
import { nodeHand } from '../engine/cpu/handNode.ts'
import { hereHand, makePool } from '../engine/cpu/pool.ts'
import type { Lamp } from '../lamp/schema.ts'
import type { JobOptions, Sheet } from './sheet.ts'
import { RUNNING, traceLamp } from './trace.ts'

export interface NodeJobOptions extends JobOptions {
  /** Worker threads; 0: this thread. */
  threads: number
}

/** Trace a lamp and read the sheet. */
export async function traceInNode(
  lamp: Lamp,
  options: NodeJobOptions,
  onProgress?: (sheet: { rays: number; maxRays: number }) => void,
): Promise<Sheet> {
  const hands = options.threads > 0 ? Array.from({ length: options.threads }, () => nodeHand()) : [hereHand()]
  const pool = makePool(hands, Math.max(1, options.threads))
  try {
    const progress = (rays: number) => onProgress?.({ rays, maxRays: options.maxRays })
    const sheet = await traceLamp(pool, lamp, { onlyLast: true, ...options }, () => {}, RUNNING, progress)
    if (!sheet) throw new Error('job: the trace ended without a sheet')
    return sheet
  } finally {
    pool.close()
  }
}
