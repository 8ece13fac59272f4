// A worker thread of Node that traces the cells of a sweep.
import { threadSide } from '../../engine/workers/selfNode.ts'
import { serveCells } from './serveCells.ts'

serveCells(threadSide())
