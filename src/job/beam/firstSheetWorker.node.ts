// A worker thread of Node that reads first sheets.
import { threadSide } from '../../engine/workers/selfNode.ts'
import { serveFirstSheets } from './firstSheet.ts'

serveFirstSheets(threadSide())
