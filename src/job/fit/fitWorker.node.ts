// A worker thread of Node that predicts lux for a fit.
import { threadSide } from '../../engine/workers/selfNode.ts'
import { servePredictions } from './service.ts'

servePredictions(threadSide())
