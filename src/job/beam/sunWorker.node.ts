// A worker thread of Node that reads directions of the sun.
import { threadSide } from '../../engine/workers/selfNode.ts'
import { serveSun } from './sunThread.ts'

serveSun(threadSide())
