// From the lamp to its sheet: every edit starts the trace anew, in the next frame; sheets come back as they sharpen.
import type { JobOptions, Sheet } from '../../job/sheet.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { redraw } from '../frame.ts'
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

export function createTracing(d: Design, r: Result, soon: Soon = redraw): Tracing {
  let tracer: Tracer | null = null
  let traced: Lamp | null = null
  let turn = 0

  function begin() {
    if (!tracer) return
    const lamp = d.lamp()
    traced = lamp
    const mine = ++turn
    const { precision } = r.getState()
    r.setState({ trace: 'tracing', why: '' })
    tracer.trace(
      lamp,
      { seed: 1, maxRays: MAX_RAYS, precision, background: true },
      (sheet) => {
        if (mine !== turn || d.lamp() !== lamp) return // a sheet of a lamp that has changed since
        const { trace } = r.getState()
        r.setState({
          sheet,
          stale: false,
          trace: sheet.state === 'settled' ? 'settled' : trace === 'paused' ? trace : 'tracing',
        })
      },
      (why) => {
        if (mine === turn) r.setState({ trace: 'failed', why })
      },
    )
  }

  function ask() {
    r.setState({ stale: r.getState().sheet !== null })
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
