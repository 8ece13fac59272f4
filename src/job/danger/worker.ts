/// <reference lib="webworker" />
// The danger sheet's own worker: it traces and reads, so that the page never waits.
import { expose } from 'comlink'
import { makePool } from '../../engine/workers/pool.ts'
import { browserTraceWorker } from '../../engine/workers/workerBrowser.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { type DangerOptions, traceDanger } from './danger.ts'
import { told } from './rejudge.ts'
import type { DangerReading, DangerStage } from './result.ts'
import { sameTrace } from './sameTrace.ts'

const SEED = 1
/** Few rays first, so that there are distances to keep within seconds; their ± is wider, which is the hot side. */
const ROUGH: DangerOptions = { seed: SEED, maxRays: 1 << 17, sunRays: 1 << 13, tiltsDeg: [0, 5, 15, 30, 60] }
const WHOLE: DangerOptions = { seed: SEED, maxRays: 1_000_000 }

const threads = Math.max(1, Math.min(16, navigator.hardwareConcurrency || 2))
const pool = makePool(
  Array.from({ length: threads }, () => browserTraceWorker()),
  threads,
)
/** A timer's turn: a newer order comes in before this one goes on. */
const nextTurn = () => new Promise<void>((next) => setTimeout(next, 0))

let turn = 0
let kept: { lamp: Lamp; reading: DangerReading } | null = null

const desk = {
  async read(
    lamp: Lamp,
    onStage: (stage: DangerStage, share: number) => void,
    onRough: (reading: DangerReading) => void,
  ): Promise<DangerReading | null> {
    const mine = ++turn
    pool.clear()
    if (kept && sameTrace(lamp, kept.lamp)) return told(kept.reading, lamp)
    const stopped = () => mine !== turn
    const readWith = (options: DangerOptions) =>
      traceDanger(pool, lamp, options, { stopped, ready: nextTurn }, (stage, share) => {
        if (!stopped()) onStage(stage, share)
      })
    const rough = await readWith(ROUGH)
    if (!rough || stopped()) return null
    onRough(rough)
    const reading = await readWith(WHOLE)
    if (!reading || stopped()) return null
    kept = { lamp, reading }
    return reading
  },
  stop() {
    turn++
    pool.clear()
  },
}

export type DangerDeskWorker = typeof desk
expose(desk)
