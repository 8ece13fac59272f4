/// <reference lib="webworker" />
// A browser's worker that makes lamps from a wish.
import { selfSide } from '../../engine/workers/selfBrowser.ts'
import { serveProposals } from './service.ts'

serveProposals(selfSide())
