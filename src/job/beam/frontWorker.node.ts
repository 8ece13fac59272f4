// A worker thread of Node that searches in front of the lamp.
import { threadSide } from '../../engine/workers/selfNode.ts'
import { serveFront } from './frontThread.ts'

serveFront(threadSide())
