/// <reference lib="webworker" />
// A browser's worker that evaluates the lamps of a search.
import { selfSide } from '../../engine/workers/selfBrowser.ts'
import { serveEvaluations } from './service.ts'

serveEvaluations(selfSide())
