/// <reference lib="webworker" />
// The desk's own worker: it compiles, keeps the tracing and reading workers busy, so that the page never waits.
import { expose } from 'comlink'
import { type Graphics, openGraphics } from '../../engine/choice.ts'
import { openDevice } from '../../engine/gpu/device.ts'
import { makePool } from '../../engine/workers/pool.ts'
import { browserTraceWorker } from '../../engine/workers/workerBrowser.ts'
import { browserReadingWorker } from '../beam/readingWorkerBrowser.ts'
import type { EngineOrder } from '../beam/sheet.ts'
import { type DeskHere, makeDeskHere } from './service.ts'

const threads = Math.max(1, Math.min(16, navigator.hardwareConcurrency || 2))
/** Few processors are busy with the rays: readers beside them double the way from an edit to its sheet and give no more of them. */
const READERS_FROM = 4
let readers = threads < READERS_FROM ? 0 : Math.min(4, threads >> 1)
const pool = makePool(
  Array.from({ length: threads }, () => browserTraceWorker()),
  threads,
)
let graphics: Graphics | undefined

const { trace, pause, resume }: DeskHere = makeDeskHere(
  pool,
  () => Array.from({ length: readers }, () => browserReadingWorker()),
  () => graphics,
)

const desk = {
  /** Comes first. The device is opened meanwhile; no sheet waits for it. */
  engine({ choice, loseAfter, readingThreads = readers }: EngineOrder): void {
    readers = readingThreads
    graphics = openGraphics(choice, () => openDevice(navigator.gpu), { loseAfter })
  },
  trace,
  pause,
  resume,
}

export type DeskWorker = typeof desk
expose(desk)
