/// <reference lib="webworker" />
// A browser's worker that predicts lux for a fit.
import { selfSide } from '../../engine/workers/selfBrowser.ts'
import { servePredictions } from './service.ts'

servePredictions(selfSide())
