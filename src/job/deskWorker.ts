/// <reference lib="webworker" />
// The desk's own worker: it compiles, keeps the tracing workers busy and reads the runs, so that the page never waits.
import { expose } from 'comlink'
import { type Graphics, openGraphics } from '../engine/choice.ts'
import { browserHand } from '../engine/cpu/handBrowser.ts'
import { makePool } from '../engine/cpu/pool.ts'
import { openDevice } from '../engine/gpu/device.ts'
import type { Lamp } from '../lamp/schema.ts'
import type { EngineOrder, JobOptions, Sheet } from './sheet.ts'
import { traceLamp } from './trace.ts'

const threads = Math.max(1, Math.min(16, navigator.hardwareConcurrency || 2))
const pool = makePool(
  Array.from({ length: threads }, () => browserHand()),
  threads,
)

const turns = new MessageChannel()
const waitingTurns: (() => void)[] = []
turns.port1.onmessage = () => waitingTurns.shift()?.()

/** A turn of the event loop, so that a newer order comes in before this one goes on; timers would wait 4 ms each. */
const nextTurn = () =>
  new Promise<void>((next) => {
    waitingTurns.push(next)
    turns.port2.postMessage(null)
  })

let turn = 0
let paused: Promise<void> | null = null
let unpause: () => void = () => {}

let graphics: Graphics | undefined

let warm = false
/** So many first looks until the engine that runs this code has compiled it well (`npm run bench -- first`). */
const WARM_LOOKS = 16
const FIRST_LOOK_RAYS = 16_384

/**
 * Once, when the page's first lamp has settled and nothing is asked for: its first look again and again, for nobody. The hand that then
 * takes hold of a part finds its sheet almost twice as soon.
 */
async function warmUp(lamp: Lamp, options: JobOptions, stopped: () => boolean, ready: () => Promise<void>) {
  const first = { ...options, maxRays: FIRST_LOOK_RAYS, background: false }
  for (let i = 0; i < WARM_LOOKS && !stopped(); i++) await traceLamp(pool, lamp, first, () => {}, { stopped, ready })
}

const desk = {
  /** Comes first. The device is opened meanwhile; no sheet waits for it. */
  engine({ choice, loseAfter }: EngineOrder): void {
    graphics = openGraphics(choice, () => openDevice(navigator.gpu), { loseAfter })
  },
  /** Resolves when the trace has ended or another has taken its place. */
  async trace(lamp: Lamp, options: JobOptions, onSheet: (sheet: Sheet) => void): Promise<void> {
    const mine = ++turn
    pool.clear()
    desk.resume()
    graphics?.renew()
    const stopped = () => mine !== turn
    const ready = async () => {
      await nextTurn()
      while (!stopped() && paused) await paused // it may be paused again meanwhile
    }
    await traceLamp(
      pool,
      lamp,
      { ...options, graphics },
      (sheet) => {
        if (!stopped()) onSheet(sheet)
      },
      { stopped, ready },
    )
    if (!stopped() && !warm) {
      warm = true
      void warmUp(lamp, options, stopped, ready)
    }
  },
  pause() {
    if (paused) return
    paused = new Promise((done) => {
      unpause = done
    })
  },
  resume() {
    paused = null
    unpause()
  },
}

export type DeskWorker = typeof desk
expose(desk)
