// Exit rays on Node: worker threads, or this thread.
import { inlineWorker, makePool } from '../../engine/workers/pool.ts'
import { nodeTraceWorker } from '../../engine/workers/workerNode.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { type ExitOptions, type ExitTrace, traceExits } from './run.ts'

export interface NodeExitOptions extends ExitOptions {
  /** Worker threads; 0: this thread. */
  threads: number
}

/** `use` takes the blocks to their end; the threads end when it has. */
export async function exitsInNode<T>(
  lamp: Lamp,
  options: NodeExitOptions,
  use: (trace: ExitTrace) => Promise<T>,
): Promise<T> {
  const workers =
    options.threads > 0 ? Array.from({ length: options.threads }, () => nodeTraceWorker()) : [inlineWorker()]
  const pool = makePool(workers, Math.max(1, options.threads))
  try {
    return await use(traceExits(pool, lamp, options))
  } finally {
    pool.close()
  }
}
