/// <reference lib="webworker" />
// The tracing service's own worker: it compiles and keeps the tracing and reading workers busy, so that the page never waits.
import { type Graphics, openGraphics } from '../../engine/choice.ts'
import { openDevice } from '../../engine/gpu/device.ts'
import { serveCalls } from '../../engine/workers/calls.ts'
import { makePool } from '../../engine/workers/pool.ts'
import { selfSide } from '../../engine/workers/selfBrowser.ts'
import { browserTraceWorker } from '../../engine/workers/workerBrowser.ts'
import { browserFrontThread } from '../beam/frontThreadBrowser.ts'
import { makeReaderThread } from '../beam/readerThread.ts'
import { browserReadingWorker } from '../beam/readingWorkerBrowser.ts'
import { makeSunThread } from '../beam/sunThread.ts'
import { browserSunThread } from '../beam/sunThreadBrowser.ts'
import { makeTracingService, readersFor, type TracingCalls } from './service.ts'

const threads = Math.max(1, Math.min(16, navigator.hardwareConcurrency || 2))
let readers = readersFor(threads)
const pool = makePool(
  Array.from({ length: threads }, () => browserTraceWorker()),
  threads,
)
let graphics: Graphics | undefined

const service = makeTracingService(
  pool,
  () => Array.from({ length: readers }, () => browserReadingWorker()),
  () => graphics,
  {
    sunThread: makeSunThread(browserSunThread, threads),
    frontThread: makeReaderThread(browserFrontThread, threads),
  },
)

serveCalls<TracingCalls>(selfSide(), {
  engine({ choice, loseAfter, readingThreads = readers }) {
    readers = readingThreads
    graphics = openGraphics(choice, () => openDevice(navigator.gpu), { loseAfter })
  },
  trace: ({ lamp, options }, { emit }) =>
    service.trace(
      lamp,
      options,
      (sheet) => emit({ kind: 'sheet', sheet }),
      () => emit({ kind: 'handedOver' }),
    ),
  pause: () => service.pause(),
  resume: () => service.resume(),
})
