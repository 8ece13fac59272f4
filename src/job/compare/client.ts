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

/** So many at once are worth it. */
export const readersAtOnce = (): number => Math.max(1, Math.min(MOST_COLUMNS, navigator.hardwareConcurrency || 2))

export const openColumnReader = (onTrouble: (trouble: Trouble) => void): ColumnReader =>
  restartingReader(openWorker, NAME, onTrouble)
