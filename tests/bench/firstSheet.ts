// From an edit to the first rough sheet and on to ±1 % on the axis, milliseconds, on Node's worker threads: the way the page goes, less
// the page itself. The first lamp is traced until it settles, as the page does with the lamp it opens; the rest are edits of it, each cut
// short by the next. The engine that runs this code compiles it better the longer it runs, so early and later edits stand apart.
import { availableParallelism } from 'node:os'
import { makePool } from '../../src/engine/workers/pool.ts'
import { nodeTraceWorker } from '../../src/engine/workers/workerNode.ts'
import { traceLamp } from '../../src/job/beam/trace.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { makeScheduler } from '../../src/num/scheduler.ts'

export interface FirstSheet {
  threads: number
  /** Medians: of the first five edits, and of the last twenty. */
  firstFiveMs: number
  laterMs: number
  settledMs: number
}

const EDITS = 40
const SETTLED = 3

export async function firstSheet(): Promise<FirstSheet> {
  const threads = availableParallelism()
  const pool = makePool(Array.from({ length: threads }, () => nodeTraceWorker()))
  const first: number[] = []
  const settled: number[] = []
  let edit = 0
  const trace = async (toTheEnd: boolean): Promise<[number, number]> => {
    const lamp = gannetHead()
    if (lamp.lens) lamp.lens = { ...lamp.lens, zMm: 1050 + 0.5 * edit++ }
    const from = performance.now()
    let seen = 0
    const options = { seed: 1, maxRays: 50_000_000, precision: 0.01, background: false }
    const enough = new AbortController()
    const take = () => {
      seen ||= performance.now() - from
      if (!toTheEnd) enough.abort()
    }
    await traceLamp(pool, lamp, options, take, { scheduler: makeScheduler(enough.signal) })
    return [seen, performance.now() - from]
  }
  await trace(true)
  for (let i = 0; i < EDITS; i++) {
    first.push((await trace(false))[0])
    pool.clear()
    await new Promise((rest) => setTimeout(rest, 100)) // the workers end what they had begun
  }
  for (let i = 0; i < SETTLED; i++) settled.push((await trace(true))[1])
  pool.close()
  const median = (xs: number[]) => [...xs].sort((a, b) => a - b)[xs.length >> 1]!
  return {
    threads,
    firstFiveMs: median(first.slice(0, 5)),
    laterMs: median(first.slice(-20)),
    settledMs: median(settled),
  }
}
