// From an edit to the whole sheet, settled: the beam to ± 1 % on its axis, hot spots and risks, the sun, the comparisons; and heat and power, which the
// page runs in a thread beside. Seconds of wall time on so many worker threads, with the milestones on the way.
import { existsSync, readFileSync } from 'node:fs'
import { availableParallelism } from 'node:os'
import { makeNextTask } from '../../src/engine/workers/nextTask.ts'
import { makePool } from '../../src/engine/workers/pool.ts'
import { nodeTraceWorker } from '../../src/engine/workers/workerNode.ts'
import { nodeFrontThread } from '../../src/job/beam/frontThreadNode.ts'
import { makeReaderThread } from '../../src/job/beam/readerThread.ts'
import type { Sheet } from '../../src/job/beam/sheet.ts'
import { makeSunThread } from '../../src/job/beam/sunThread.ts'
import { nodeSunThread } from '../../src/job/beam/sunThreadNode.ts'
import { traceLamp } from '../../src/job/beam/trace.ts'
import { runPower } from '../../src/job/power/run.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { DEMOS } from '../../src/library/demos.ts'
import { makeScheduler } from '../../src/num/scheduler.ts'
import { listAfter, numberAfter } from './arguments.ts'

const LAMPS = ['gannet-head', 'stile-lamp', 'bench-check']
const TIMES = 5
/** Traces before, uncounted: what is compiled, is compiled. */
const WARM_UP = 2

interface Settled {
  firstMs: number
  sunMs: number
  variantsMs: number
  settledMs: number
  heatMs: number
  rays: number
  processorMs: number
  /** Of the thread that orders the rays and reads the sheet. */
  ownMs: number
}

/** Linux counts each thread's time on a processor, in ns; elsewhere 0. The first thread has the process's own number. */
const OWN_TIMES = `/proc/self/task/${process.pid}/schedstat`
const ownMs = (): number => (existsSync(OWN_TIMES) ? Number(readFileSync(OWN_TIMES, 'utf8').split(' ')[0]) / 1e6 : 0)

/** Medians; one row for each lamp. `--threads N` (all of the machine's), `--lamps a,b`, `--times N`. */
export async function* settledSheets(args: string[]) {
  const threads = numberAfter(args, '--threads', availableParallelism())
  const nextTask = makeNextTask()
  const pool = makePool(Array.from({ length: threads }, () => nodeTraceWorker()))
  // As the page has it: started by the first lamp.
  const sunThread = makeSunThread(nodeSunThread, threads)
  const frontThread = makeReaderThread(nodeFrontThread, threads)
  try {
    for (const name of listAfter(args, '--lamps', LAMPS)) {
      const make = DEMOS[name as keyof typeof DEMOS]
      if (!make) throw new Error(`There is no example named ${name}.`)
      const runs: Settled[] = []
      for (let i = 0; i < WARM_UP + numberAfter(args, '--times', TIMES); i++) {
        const run = await settle(make(), i)
        if (i >= WARM_UP) runs.push(run)
      }
      yield rowOf(name, threads, runs)
    }
  } finally {
    sunThread.close()
    frontThread.close()
    pool.close()
  }

  async function settle(lamp: Lamp, seed: number): Promise<Settled> {
    const began = performance.now()
    const usage = process.cpuUsage()
    const own = ownMs()
    const seen = { firstMs: 0, sunMs: 0, variantsMs: 0 }
    const take = (sheet: Sheet) => {
      const now = performance.now() - began
      seen.firstMs ||= now
      if (sheet.absent.sunInside === undefined) seen.sunMs ||= now
      if (sheet.variants.length > 0) seen.variantsMs = Math.max(seen.variantsMs, now)
    }
    const options = { seed: seed + 1, maxRays: 200_000_000, maxSeconds: 180, precision: 0.01, background: true }
    const scheduler = makeScheduler(undefined, { nextTask })
    const sheet = await traceLamp(pool, lamp, options, take, { scheduler, sunThread, frontThread })
    const settledMs = performance.now() - began
    const { user, system } = process.cpuUsage(usage)
    const ownAfter = ownMs()
    const heatFrom = performance.now()
    runPower(lamp)
    const heatMs = performance.now() - heatFrom
    return {
      ...seen,
      settledMs,
      heatMs,
      rays: sheet?.rays ?? 0,
      processorMs: (user + system) / 1000,
      ownMs: ownAfter - own,
    }
  }
}

function rowOf(lamp: string, threads: number, runs: readonly Settled[]) {
  const middle = (of: (run: Settled) => number) => Math.round(runs.map(of).sort((a, b) => a - b)[runs.length >> 1] ?? 0)
  return {
    lamp,
    threads,
    'first sheet, ms': middle((r) => r.firstMs),
    'sun, ms': middle((r) => r.sunMs),
    'settled, ms': middle((r) => r.settledMs),
    'heat, ms': middle((r) => r.heatMs),
    'processor, ms': middle((r) => r.processorMs),
    'of its thread, ms': middle((r) => r.ownMs),
    rays: middle((r) => r.rays),
  }
}
