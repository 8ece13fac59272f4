// From the lamp to its sheet: every edit starts the trace anew; sheets come back as they sharpen.
import type { JobOptions, Sheet } from '../../job/sheet.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Design } from '../store/design.ts'
import type { Result } from '../store/result.ts'
import { design, result } from '../store/stores.ts'

/** What traces: the desk of src/job, in workers. */
export interface Tracer {
  trace(lamp: Lamp, options: JobOptions, onSheet: (sheet: Sheet) => void, onFail: (why: string) => void): void
  pause(): void
  resume(): void
  dispose(): void
}

const MAX_RAYS = 200_000_000

export interface Tracing {
  /** Begins to follow the lamp; returns how to stop. */
  start(open: () => Tracer): () => void
  pause(): void
  resume(): void
}

type Soon = (name: string, draw: () => void) => void

const waiting = new Set<string>()

/** In the next turn of the event loop, once: not in the next frame, which the drawing of the edit itself may hold up. */
const nextTurn: Soon = (name, run) => {
  if (waiting.has(name)) return
  waiting.add(name)
  setTimeout(() => {
    waiting.delete(name)
    run()
  }, 0)
}

export function createTracing(d: Design, r: Result, soon: Soon = nextTurn): Tracing {
  let tracer: Tracer | null = null
  let traced: Lamp | null = null
  let turn = 0
  /** The trace now running has not yet given its first sheet. */
  let unseen = false

  function begin() {
    if (!tracer) return
    const lamp = d.lamp()
    traced = lamp
    unseen = true
    const mine = ++turn
    const { precision } = r.getState()
    r.setState({ trace: 'tracing', why: '' })
    tracer.trace(
      lamp,
      { seed: 1, maxRays: MAX_RAYS, precision, background: true },
      (sheet) => {
        if (mine !== turn) return // a sheet of a trace that has been replaced since
        unseen = false
        const behind = d.lamp() !== lamp
        const { trace } = r.getState()
        r.setState({
          sheet,
          stale: behind,
          trace: sheet.state === 'settled' ? 'settled' : trace === 'paused' ? trace : 'tracing',
        })
        if (behind) begin()
      },
      (why) => {
        if (mine !== turn) return
        unseen = false
        r.setState({ trace: 'failed', why })
        if (d.lamp() !== lamp) begin()
      },
    )
  }

  /**
   * While a handle is dragged, edits come faster than first sheets. Dropping each trace for the next would show nothing until the hand
   * rests; so a trace may give its first sheet, shown as stale, before the newest lamp takes its place. Another lamp doesn't wait.
   */
  function ask() {
    r.setState({ stale: r.getState().sheet !== null })
    if (unseen && r.getState().trace === 'tracing' && d.store.getState().label !== 'Open') return
    soon('trace', begin)
  }

  return {
    start(open) {
      tracer = open()
      ask()
      const off = d.store.subscribe((state) => {
        if (state.lamp !== traced) ask()
      })
      // Whoever sets the wanted precision (the bar, the sheet), the trace hears of it.
      const offPrecision = r.subscribe((now, before) => {
        if (now.precision !== before.precision) soon('trace', begin)
      })
      return () => {
        off()
        offPrecision()
        turn++
        tracer?.dispose()
        tracer = null
      }
    },
    pause() {
      if (r.getState().trace !== 'tracing') return
      tracer?.pause()
      r.setState({ trace: 'paused' })
    },
    resume() {
      if (r.getState().trace !== 'paused') return
      tracer?.resume()
      r.setState({ trace: 'tracing' })
    },
  }
}

export const tracing = createTracing(design, result)
