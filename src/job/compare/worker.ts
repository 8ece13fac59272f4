/// <reference lib="webworker" />
// A browser's worker that traces the lamps of a comparison.
import { selfSide } from '../../engine/workers/selfBrowser.ts'
import { serveColumns } from './service.ts'

serveColumns(selfSide())
