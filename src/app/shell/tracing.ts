// From the lamp to its sheet: every edit starts the trace anew; sheets come back as they sharpen.
import type { JobOptions, Sheet } from '../../job/beam/sheet.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { withSevereOf } from '../common/sameFinding.ts'
import { changedWords } from '../common/sameLight.ts'
import { redraw } from '../frame.ts'
import type { Design } from '../store/design.ts'
import type { Result } from '../store/result.ts'
import { keepMark } from '../store/staleMark.ts'
import { design, result } from '../store/stores.ts'

/** What traces: the desk of src/job, in workers. */
export interface Tracer {
  /**
   * `onEnd`: nothing of it is left to do, neither the sun nor the comparisons. `onHanded`: its first look is being read; another lamp may come,
   * and that sheet comes even so.
   */
  trace(
    lamp: Lamp,
    options: JobOptions,
    onSheet: (sheet: Sheet) => void,
    onFail: (why: string) => void,
    onEnd: () => void,
    onHanded: () => void,
  ): void
  pause(): void
  resume(): void
  dispose(): void
}

const MAX_RAYS = 200_000_000

export interface Tracing {
  /** Begins to follow the lamp; returns how to stop. */
  start(open: () => Tracer): () => void
  /** Holds everything, the sun and the comparisons too. */
  pause(): void
  resume(): void
}

const traceOf = (sheet: Sheet) => (sheet.state === 'settled' ? 'settled' : 'tracing')

type Soon = (name: string, draw: () => void) => void

/** At once: the workers begin while the page still draws the edit. */
const runToEnd: Soon = (_name, run) => run()

/** With the next frame; a page that nobody looks at has none. */
const inFrame: Soon = (name, draw) => (document.visibilityState === 'hidden' ? draw() : redraw(name, draw))

/** `soon`: when a trace begins; `seen`: when its sheet comes on the page. Both are told only the last of what comes before. */
export function createTracing(d: Design, r: Result, soon: Soon = runToEnd, seen: Soon = runToEnd): Tracing {
  let tracer: Tracer | null = null
  let traced: Lamp | null = null
  let turn = 0
  /** The trace now running has neither given its first sheet nor handed it on to be read. */
  let unseen = false
  /** The last trace of which a sheet has come; older ones come too late. */
  let lastSeen = 0
  /** The newest sheet while it waits for the page's next frame: one that is overtaken before that is never drawn. */
  let coming: { sheet: Sheet; of: Lamp } | null = null
  /** Nothing is known yet of this lamp, nor of one that it was edited from. */
  let another = true

  function bring() {
    if (!coming) return
    const { sheet, of } = coming
    coming = null
    const { trace } = r.getState()
    const behind = isOther(of, sheet)
    r.setState({ sheet, stale: behind, trace: trace === 'paused' ? 'paused' : behind ? 'tracing' : traceOf(sheet) })
  }

  function begin() {
    if (!tracer) return
    const lamp = d.lamp()
    traced = lamp
    unseen = true
    const mine = ++turn
    if (d.store.getState().label === 'Open') {
      another = true
      lastSeen = turn - 1
    }
    /** Its first sheet is still to come; and comes, whether or not another trace takes its place. */
    let first = true
    let handed = false
    const { precision } = r.getState()
    r.setState({ trace: 'tracing', atWork: true, why: '' })
    tracer.trace(
      lamp,
      { seed: 1, maxRays: MAX_RAYS, precision, background: true },
      (sheet) => {
        const late = mine !== turn // the trace has been replaced since
        if (late && !(first && handed && mine > lastSeen)) return
        const firstLook = first && sheet.state !== 'settled'
        first = false
        lastSeen = mine
        if (!late) unseen = false
        const before = coming?.sheet ?? r.getState().sheet
        const findings =
          firstLook && before && !another ? withSevereOf(before.findings, sheet.findings) : sheet.findings
        another = false
        coming = { sheet: { ...sheet, findings }, of: lamp }
        if (!late && isOther(lamp, sheet)) begin()
        seen('sheet', bring)
      },
      (why) => {
        if (mine !== turn) return
        unseen = false
        lastSeen = mine
        bring()
        r.setState({ trace: 'failed', atWork: false, why })
        if (isOther(lamp, null)) begin()
      },
      () => {
        if (mine !== turn) return
        bring()
        const { sheet, trace } = r.getState()
        r.setState({ atWork: false, trace: trace === 'paused' && sheet ? traceOf(sheet) : trace })
      },
      () => {
        if (mine !== turn) return
        handed = true
        unseen = false
        if (isOther(lamp, null)) begin()
      },
    )
  }

  /** Whether the lamp on the page gives another light than the one traced, or a finding would call a part by its old name. */
  function isOther(lamp: Lamp, sheet: Sheet | null): boolean {
    const old = changedWords(d.lamp(), lamp)
    if (old === null) return true
    return sheet?.findings.some((f) => old.some((w) => f.title.includes(`“${w}”`) || f.why.includes(`“${w}”`))) ?? false
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
      const offMark = keepMark(d, r)
      ask()
      const off = d.store.subscribe((state) => {
        if (state.lamp !== traced && (!traced || isOther(traced, r.getState().sheet))) ask()
      })
      // Whoever sets the wanted precision (the bar, the sheet), the trace hears of it.
      const offPrecision = r.subscribe((now, before) => {
        if (now.precision !== before.precision) soon('trace', begin)
      })
      return () => {
        off()
        offPrecision()
        offMark()
        turn++
        coming = null
        tracer?.dispose()
        tracer = null
      }
    },
    pause() {
      bring()
      const { trace, atWork } = r.getState()
      if (trace === 'paused' || !atWork) return
      tracer?.pause()
      r.setState({ trace: 'paused' })
    },
    resume() {
      if (r.getState().trace !== 'paused') return
      tracer?.resume()
      const { sheet, stale } = r.getState()
      r.setState({ trace: sheet && !stale ? traceOf(sheet) : 'tracing' })
    },
  }
}

export const tracing = createTracing(design, result, runToEnd, inFrame)
