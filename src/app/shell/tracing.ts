// Traces the open lamp: every edit restarts the trace, and sheets arrive as they converge.
import type { JobOptions, Sheet, TraceFirst } from '../../job/beam/sheet.ts'
import type { Trouble } from '../../job/service/restarting.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { keepSevere } from '../common/sameFinding.ts'
import { changedNames } from '../common/sameLight.ts'
import { redraw } from '../frame.ts'
import { danger } from '../store/danger.ts'
import type { Design } from '../store/design.ts'
import { inView } from '../store/inView.ts'
import { clearMissing, type MissingStore, missing, setMissing } from '../store/missing.ts'
import type { Result } from '../store/result.ts'
import { followStaleMark } from '../store/staleMark.ts'
import { design, result, view } from '../store/stores.ts'
import type { ViewState } from '../store/view.ts'

/** The client of the tracing service (src/job), which runs in workers. */
export interface TraceClient {
  /**
   * `onEnd`: everything is done, the sun and the comparisons too. `onHandedOver`: the first sheet is being read elsewhere; another lamp may
   * be traced, and that sheet still arrives.
   */
  trace(
    lamp: Lamp,
    options: JobOptions,
    onSheet: (sheet: Sheet) => void,
    onFail: (why: string, ofLamp: boolean) => void,
    onEnd: () => void,
    onHandedOver: () => void,
  ): void
  pause(): void
  resume(): void
  /** Starts the worker at once, also one that is started no more by itself. */
  again(): void
  dispose(): void
}

const MAX_RAYS = 200_000_000
/** Of tracing: every run ends. */
const MAX_SECONDS = 180

export interface Tracing {
  /** Follows the lamp. Returns a function that stops. */
  start(open: (onTrouble: (trouble: Trouble) => void) => TraceClient): () => void
  /** Pauses everything, the sun and the comparisons too. */
  pause(): void
  resume(): void
}

const traceOf = (sheet: Sheet) => (sheet.state === 'settled' ? 'settled' : 'tracing')

type Schedule = (name: string, draw: () => void) => void

/** At once: the workers start while the page still draws the edit. */
const runNow: Schedule = (_name, run) => run()

/** In the next frame; a hidden page has no frames, so there at once. */
const onNextFrame: Schedule = (name, draw) => (document.visibilityState === 'hidden' ? draw() : redraw(name, draw))

/** What a builder with these open looks at comes first; undefined: the usual order. */
export function firstOf(
  isDangerOpen: boolean,
  { view, comparisons }: Pick<ViewState, 'view'> & { comparisons: boolean },
): TraceFirst | undefined {
  if (isDangerOpen) return 'sun'
  if (comparisons) return 'comparisons'
  return view === 'night' ? 'beam' : undefined
}

/**
 * `scheduleTrace` decides when a trace begins, `scheduleSheet` when its sheet is shown. Each runs only the last request. `first`: what comes first
 * in a trace that begins now.
 */
export function createTracing(
  d: Design,
  r: Result,
  m: MissingStore,
  scheduleTrace: Schedule = runNow,
  scheduleSheet: Schedule = runNow,
  first: () => TraceFirst | undefined = () => undefined,
): Tracing {
  let client: TraceClient | null = null
  let traced: Lamp | null = null
  let generation = 0
  /** The running trace has neither delivered its first sheet nor handed it over. */
  let awaitingFirstSheet = false
  /** Generation of the last sheet received; older ones are dropped. */
  let lastShown = 0
  /** The newest sheet, waiting for the next frame. A sheet that is replaced before that is never drawn. */
  let pending: { sheet: Sheet; of: Lamp } | null = null
  /** No sheet yet of this lamp, nor of one that it was edited from. */
  let isNewLamp = true
  /** The lamp of the last sheet received. */
  let read: Lamp | null = null

  function showPending() {
    if (!pending) return
    const { sheet, of } = pending
    pending = null
    const { trace } = r.getState()
    const isStale = needsTrace(of, sheet)
    r.setState({ sheet, stale: isStale, trace: trace === 'paused' ? 'paused' : isStale ? 'tracing' : traceOf(sheet) })
  }

  /** The last sheet of this lamp stays: `missing` marks its findings. */
  function fail(trouble: Trouble) {
    awaitingFirstSheet = false
    lastShown = generation
    showPending()
    if (isNewLamp) r.setState({ sheet: null, stale: false })
    r.setState({ trace: 'failed', heldBy: [], atWork: false, why: trouble.why })
    setMissing(m, 'beam', trouble, () => {
      client?.again()
      begin()
    })
  }

  function begin() {
    if (!client) return
    const lamp = d.lamp()
    traced = lamp
    awaitingFirstSheet = true
    const started = ++generation
    if (d.store.getState().label === 'Open' && lamp !== read) {
      isNewLamp = true
      lastShown = generation - 1
      clearMissing(m, 'beam')
    }
    /** The first sheet is still to come; once handed over, it arrives even when another trace has replaced this one. */
    let firstSheetDue = true
    let handedOver = false
    const { precision } = r.getState()
    r.setState({ trace: 'tracing', heldBy: [], atWork: true, why: '' })
    client.trace(
      lamp,
      { seed: 1, maxRays: MAX_RAYS, maxSeconds: MAX_SECONDS, precision, background: true, first: first() },
      (sheet) => {
        const replaced = started !== generation // another trace has begun since
        if (replaced && !(firstSheetDue && handedOver && started > lastShown)) return
        firstSheetDue = false
        read = lamp
        if (m.getState().beam) {
          clearMissing(m, 'beam')
          r.setState({ atWork: true, why: '' })
        }
        lastShown = started
        if (!replaced) awaitingFirstSheet = false
        const before = pending?.sheet ?? r.getState().sheet
        const findings =
          sheet.state !== 'settled' && before && !isNewLamp
            ? keepSevere(before.findings, sheet.findings)
            : sheet.findings
        isNewLamp = false
        pending = { sheet: { ...sheet, findings }, of: lamp }
        if (!replaced && needsTrace(lamp, sheet)) begin()
        scheduleSheet('sheet', showPending)
      },
      (why, ofLamp) => {
        if (started !== generation) return
        fail({ why, restarts: false, ofLamp })
        if (needsTrace(lamp, null)) begin()
      },
      () => {
        if (started !== generation) return
        showPending()
        const { sheet, trace } = r.getState()
        r.setState({ atWork: false, heldBy: [], trace: trace === 'paused' && sheet ? traceOf(sheet) : trace })
      },
      () => {
        if (started !== generation) return
        handedOver = true
        awaitingFirstSheet = false
        if (needsTrace(lamp, null)) begin()
      },
    )
  }

  /** True when the open lamp gives another light than the one traced, or when a finding uses an old name of a part. */
  function needsTrace(lamp: Lamp, sheet: Sheet | null): boolean {
    const oldNames = changedNames(d.lamp(), lamp)
    if (oldNames === null) return true
    return (
      sheet?.findings.some((f) => oldNames.some((w) => f.title.includes(`“${w}”`) || f.why.includes(`“${w}”`))) ?? false
    )
  }

  /**
   * During a drag, edits come faster than first sheets. Replacing each trace by the next would show nothing until the drag pauses, so a
   * trace may deliver its first sheet, shown as stale, before the newest lamp replaces it. A lamp that is opened doesn't wait.
   */
  function requestTrace() {
    r.setState({ stale: r.getState().sheet !== null })
    if (awaitingFirstSheet && r.getState().trace === 'tracing' && d.store.getState().label !== 'Open') return
    scheduleTrace('trace', begin)
  }

  return {
    start(open) {
      client = open(fail)
      const offMark = followStaleMark(d, r)
      requestTrace()
      const off = d.store.subscribe((state) => {
        if (state.lamp !== traced && (!traced || needsTrace(traced, r.getState().sheet))) requestTrace()
      })
      // The bar and the sheet both set the precision.
      const offPrecision = r.subscribe((now, before) => {
        if (now.precision !== before.precision) scheduleTrace('trace', begin)
      })
      return () => {
        off()
        offPrecision()
        offMark()
        generation++
        pending = null
        client?.dispose()
        client = null
      }
    },
    pause() {
      showPending()
      const { trace, atWork } = r.getState()
      if (trace === 'paused' || !atWork) return
      client?.pause()
      r.setState({ trace: 'paused' })
    },
    resume() {
      if (r.getState().trace !== 'paused') return
      client?.resume()
      const { sheet, stale } = r.getState()
      r.setState({ trace: sheet && !stale ? traceOf(sheet) : 'tracing', heldBy: [] })
    },
  }
}

const firstNow = () =>
  firstOf(danger.getState().open, { view: view.getState().view, comparisons: inView.getState().comparisons })

export const tracing = createTracing(design, result, missing, runNow, onNextFrame, firstNow)
