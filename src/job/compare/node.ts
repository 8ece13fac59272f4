// Comparisons on Node: a worker thread for each lamp, or this thread.
import { Worker } from 'node:worker_threads'
import { threadPort } from '../../engine/workers/port.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { CellOptions } from '../sweep/cell.ts'
import type { Column, ColumnSoFar } from './result.ts'
import { type ColumnReader, runCompare } from './run.ts'
import { inlineReader, threadReader } from './service.ts'

export async function compareInNode(
  lamps: readonly Lamp[],
  { threads, ...options }: CellOptions & { threads: number },
  onPart?: (index: number, part: ColumnSoFar) => void,
): Promise<Column[]> {
  const count = Math.min(threads, lamps.length)
  const readers: ColumnReader[] = count > 0 ? Array.from({ length: count }, openThread) : [inlineReader]
  try {
    return await runCompare(readers, lamps, options, onPart)
  } finally {
    for (const reader of readers) reader.close()
  }
}

const NAME = 'A worker of the comparison'
const openThread = (): ColumnReader =>
  threadReader(threadPort(new Worker(new URL('./columnWorker.node.mjs', import.meta.url)) as never, NAME), NAME)
