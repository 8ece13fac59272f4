// A worker thread of Node that makes lamps from a wish.
import { threadSide } from '../../engine/workers/selfNode.ts'
import { serveProposals } from './service.ts'

serveProposals(threadSide())
