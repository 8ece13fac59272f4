// A worker thread of Node that evaluates the lamps of a search.
import { threadSide } from '../../engine/workers/selfNode.ts'
import { serveEvaluations } from './service.ts'

serveEvaluations(threadSide())
