/// <reference lib="webworker" />
// A browser's worker that reads a run over built lamps.
import { selfSide } from '../../engine/workers/selfBrowser.ts'
import { serveSpreads } from './service.ts'

serveSpreads(selfSide())
