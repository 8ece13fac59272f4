// A worker thread of Node that traces the lamps of a comparison.
import { threadSide } from '../../engine/workers/selfNode.ts'
import { serveColumns } from './service.ts'

serveColumns(threadSide())
