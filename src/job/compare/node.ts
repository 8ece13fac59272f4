// Comparisons on Node: a worker thread for each lamp, or this thread.
import { Worker } from 'node:worker_threads'
import { threadPort } from '../../engine/workers/port.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Column } from './result.ts'
import { type ColumnReader, type CompareListener, type CompareOptions, runCompare } from './run.ts'
import { inlineReader, threadReader } from './service.ts'

export async function compareInNode(
  lamps: readonly Lamp[],
  { threads, ...options }: CompareOptions & { threads: number },
  listener?: CompareListener,
): Promise<Column[]> {
  const count = Math.min(threads, lamps.length)
  const readers: ColumnReader[] = count > 0 ? Array.from({ length: count }, openThread) : [inlineReader]
  try {
    return await runCompare(readers, lamps, options, listener)
  } finally {
    for (const reader of readers) reader.close()
  }
}

const NAME = 'A worker of the comparison'
const openThread = (): ColumnReader =>
  threadReader(threadPort(new Worker(new URL('./columnWorker.node.mjs', import.meta.url)) as never, NAME), NAME)
