// Runs the tolerances: builds and traces lamps while the panel is open and after it has closed, stores what has come, and goes on after a reload.
// A run is of one lamp; while another is on the sheet it rests.
import type { Trouble } from '../../job/service/restarting.ts'
import type { ToleranceClient } from '../../job/tolerances/client.ts'
import { type BuiltReading, lampCount, toleranceFault } from '../../job/tolerances/run.ts'
import { confirmedBy, independentIndices, withHalved } from '../../job/tolerances/tighter.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Design } from '../store/design.ts'
import type { ToleranceRuns } from '../store/toleranceRuns.ts'
import { isRunOf, type TolerancesStore } from '../store/tolerances.ts'

export interface ToleranceRunnerOptions {
  design: Design
  tolerances: TolerancesStore
  runs: ToleranceRuns
  open(onTrouble: (trouble: Trouble) => void): ToleranceClient
  now?: () => number
}

/** The same rays and seed as on the command line, unless told otherwise there. */
export const EACH = { rays: 65_536, seed: 1 } as const
/** A run of more is lost at a crash by no more than this. */
const SAVE_MS = 10_000
/** While lamps come, they are read again when there are so many more. */
const READ_EVERY = 1.05
/** Wait after an edit before a stored run of that lamp is looked for. */
const SETTLE_MS = 600
const NOT_CONFIRMED = { confirming: null, confirmed: null } as const

export function createToleranceRunner(options: ToleranceRunnerOptions, settleMs = SETTLE_MS) {
  const { design, tolerances, runs, open, now = Date.now } = options
  let client: ToleranceClient | null = null
  /** Rises with each start and stop: what comes later of an older one counts for nothing. */
  let generation = 0
  let reading = false
  let savedAt = 0
  let timer: ReturnType<typeof setTimeout> | undefined

  const onTrouble = ({ why }: Trouble) => {
    if (tolerances.getState().state === 'running') tolerances.setState({ why: `${why} It is being started again.` })
  }
  const opened = () => {
    client ??= open(onTrouble)
    return client
  }

  function save(running: boolean) {
    const { run, lamps } = tolerances.getState()
    savedAt = now()
    return run ? runs.save(run.lamp, { at: savedAt, lamps, running, readings: run.readings }) : Promise.resolve()
  }

  /** One reading at a time, of all that has come; when more has come meanwhile, once more. */
  async function read() {
    const { run: before, state } = tolerances.getState()
    if (reading || !before) return
    const known = before.spread?.lamps ?? 0
    const enough = state === 'running' ? Math.ceil(known * READ_EVERY) : known + 1
    if (before.readings.length < enough) return
    reading = true
    try {
      const spread = await opened().spread(before.lamp, before.readings)
      const { run } = tolerances.getState()
      if (run?.lamp === before.lamp) tolerances.setState({ run: { ...run, spread } })
    } catch (error) {
      if (tolerances.getState().state !== 'running') fail(error)
    } finally {
      reading = false
    }
    if (tolerances.getState().run?.readings !== before.readings) void read()
  }

  const fail = (error: unknown) =>
    tolerances.setState({ state: 'failed', why: error instanceof Error ? error.message : String(error), leftS: null })

  async function begin() {
    const lamp = design.lamp()
    const fault = toleranceFault(lamp)
    if (fault) return tolerances.setState({ state: 'idle', why: fault })
    const started = ++generation
    resting = false
    const { lamps, run: known } = tolerances.getState()
    const run = isRunOf(known, lamp) ? known : { lamp, readings: [], spread: null }
    const settings = { ...EACH, lamps }
    const have = new Set(run.readings.map(({ index }) => index))
    const missing = Array.from({ length: lampCount(run.lamp, settings) }, (_, i) => i).filter((i) => !have.has(i))
    tolerances.setState({ run, state: 'running', why: '', leftS: null, ...NOT_CONFIRMED })
    void save(true)
    const from = now()
    let done = 0
    const onReading = (one: BuiltReading) => {
      const now_ = tolerances.getState().run
      if (started !== generation || !now_) return
      done++
      const leftS = done < 2 ? null : (((now() - from) / done) * (missing.length - done)) / 1000
      tolerances.setState({ run: { ...now_, readings: [...now_.readings, one] }, leftS })
      void read()
      if (now() - savedAt > SAVE_MS) void save(true)
    }
    try {
      const whole = await opened().run(run.lamp, settings, missing, onReading)
      if (!whole || started !== generation) return
      tolerances.setState({ state: 'done', why: '', leftS: null })
      void read()
      await save(false)
    } catch (error) {
      if (started === generation) fail(error)
    }
  }

  /** Traces the lamps again with the tolerance halved that the shown figure asks to hold tighter. Not stored: it takes a sixth of the run. */
  async function confirm() {
    const { run, state, figure } = tolerances.getState()
    const name = run?.spread?.figures.find((f) => f.name === figure)?.tighter?.name
    if (!run || !name || state === 'running') return
    const started = ++generation
    const halved = withHalved(run.lamp, name)
    const settings = { ...EACH, lamps: run.readings.length }
    const indices = independentIndices(halved, settings)
    const readings: BuiltReading[] = []
    const show = () => tolerances.setState({ confirming: { name, have: readings.length, all: indices.length } })
    show()
    try {
      const whole = await opened().run(halved, settings, indices, (one) => {
        if (started !== generation) return
        readings.push(one)
        show()
      })
      if (!whole || started !== generation) return
      tolerances.setState({ confirming: null, confirmed: confirmedBy(halved, name, readings) })
    } catch (error) {
      if (started !== generation) return
      tolerances.setState({ confirming: null })
      fail(error)
    }
  }

  function stop(running = false) {
    generation++
    client?.stop()
    const { state, confirming } = tolerances.getState()
    if (confirming) tolerances.setState({ confirming: null })
    if (state !== 'running') return
    tolerances.setState({ state: 'stopped', leftS: null })
    void save(running)
  }

  /** Another lamp is on the sheet: its own run, where one is stored, comes in place of the last. */
  async function follow() {
    const lamp = design.lamp()
    const { run, state } = tolerances.getState()
    if (isRunOf(run, lamp)) {
      if (state === 'stopped' && resting) await begin()
      return
    }
    const stored = await runs.load(lamp)
    // Meanwhile another lamp may have come, or this one's run begun.
    if (design.lamp() !== lamp || isRunOf(tolerances.getState().run, lamp)) return
    resting = false
    const readings = stored?.readings ?? []
    tolerances.setState({
      run: stored ? { lamp, readings, spread: null } : null,
      lamps: stored?.lamps ?? tolerances.getState().lamps,
      state: stored ? stateOf(lamp, readings, stored.lamps) : 'idle',
      why: '',
      leftS: null,
      ...NOT_CONFIRMED,
    })
    if (stored) void read()
    if (stored?.running && tolerances.getState().state !== 'done') await begin()
  }
  /** It was stopped by an edit, not by hand. */
  let resting = false

  const stateOf = (lamp: Lamp, readings: readonly BuiltReading[], lamps: number) =>
    readings.length >= lampCount(lamp, { lamps }) ? 'done' : 'stopped'

  return {
    /** Follows the lamp; a run that was left while it ran goes on. Returns a function that stops. */
    start(): () => void {
      void follow()
      const off = design.store.subscribe(({ lamp }, before) => {
        if (lamp === before.lamp) return
        const { run, state } = tolerances.getState()
        if (state === 'running' && !isRunOf(run, lamp)) {
          stop(true)
          resting = true
        }
        clearTimeout(timer)
        timer = setTimeout(follow, settleMs)
      })
      return () => {
        clearTimeout(timer)
        stop(true)
        off()
        client?.dispose()
        client = null
      }
    },
    /** Builds the lamps that are missing: all of them, or those after which it was stopped. */
    begin: () => {
      client?.again()
      void begin()
    },
    confirm: () => void confirm(),
    stop: () => {
      resting = false
      stop()
    },
    /** Forgets what has come, and builds anew. */
    async restart() {
      stop()
      const { run } = tolerances.getState()
      if (run) await runs.forget(run.lamp)
      tolerances.setState({ run: null })
      await begin()
    },
    setLamps(lamps: number) {
      const { run, state } = tolerances.getState()
      if (state === 'running') stop()
      tolerances.setState({ lamps, state: run ? stateOf(run.lamp, run.readings, lamps) : 'idle' })
    },
  }
}
