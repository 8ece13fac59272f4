/// <reference lib="webworker" />
import { serveCalls } from '../../engine/workers/calls.ts'
import { makePool } from '../../engine/workers/pool.ts'
import { selfSide } from '../../engine/workers/selfBrowser.ts'
import { browserTraceWorker } from '../../engine/workers/workerBrowser.ts'
import { makeRayService, type RayCalls } from './service.ts'

const threads = Math.max(1, Math.min(16, navigator.hardwareConcurrency || 2))
const pool = makePool(
  Array.from({ length: threads }, () => browserTraceWorker()),
  threads,
)
serveCalls<RayCalls>(selfSide(), makeRayService(pool))
