// The page's side of a comparison: workers of its own, started with the first one and closed with the panel.
import type { CallReply, CallRequest } from '../../engine/workers/calls.ts'
import { browserPort } from '../../engine/workers/port.ts'
import type { Trouble } from '../service/restarting.ts'
import { MOST_COLUMNS } from './result.ts'
import type { ColumnReader } from './run.ts'
import { restartingReader } from './service.ts'

const NAME = 'A worker of the comparison'
const openWorker = () =>
  browserPort<CallRequest, CallReply>(new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' }), NAME)

export function openColumnReaders(onTrouble: (trouble: Trouble) => void): ColumnReader[] {
  const count = Math.max(1, Math.min(MOST_COLUMNS, navigator.hardwareConcurrency || 2))
  return Array.from({ length: count }, () => restartingReader(openWorker, NAME, onTrouble))
}
