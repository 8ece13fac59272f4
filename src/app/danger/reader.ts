// Reads the danger sheet while it is shown, and again when the lamp changes meanwhile. The lamp's own trace comes first, pauses while the
// dangers are read, and resumes afterwards.
import type { DangerReading, DangerStage } from '../../job/danger/result.ts'
import { sameTrace } from '../../job/danger/sameTrace.ts'
import type { Trouble } from '../../job/service/restarting.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Danger, DangerState } from '../store/danger.ts'
import type { Design } from '../store/design.ts'
import { clearMissing, type MissingStore, setMissing } from '../store/missing.ts'
import type { Result } from '../store/result.ts'
import { createTracePause } from '../store/tracePause.ts'

/** The client of the danger service (src/job), which runs in workers. */
export interface DangerClient {
  read(
    lamp: Lamp,
    onStage: (stage: DangerStage, share: number) => void,
    onRough: (reading: DangerReading) => void,
  ): Promise<DangerReading | null>
  stop(): void
  /** Starts the worker at once, also one that is started no more by itself. */
  again(): void
  dispose(): void
}

export interface DangerReaderOptions {
  design: Design
  result: Result
  danger: Danger
  missing: MissingStore
  trace: { pause(): void; resume(): void }
  open(onTrouble: (trouble: Trouble) => void): DangerClient
}

/** Wait after the last change, so that a drag doesn't start one reading after another. */
const DEBOUNCE_MS = 400

const isWanted = (s: DangerState) => s.open || s.outlines

export function createDangerReader(
  { design, result, danger, missing, trace, open }: DangerReaderOptions,
  debounceMs = DEBOUNCE_MS,
) {
  let client: DangerClient | null = null
  let generation = 0
  let timer: ReturnType<typeof setTimeout> | undefined
  const tracePause = createTracePause(result, trace, 'danger')

  function retry() {
    client?.again()
    schedule(0)
  }
  const fail = (trouble: Trouble) => setMissing(missing, 'danger', trouble, retry)

  async function begin() {
    const started = ++generation
    const lamp = design.lamp()
    client?.stop()
    danger.setState({ state: 'waiting', stage: 'beam', share: 0, why: '' })
    const read = danger.getState().lamp
    if (!(read && sameTrace(lamp, read)) && !(await tracePause.begin(() => started !== generation))) return
    client ??= open(fail)
    danger.setState({ state: 'running' })
    try {
      const reading = await client.read(
        lamp,
        (stage, share) => {
          if (started === generation) danger.setState({ stage, share })
        },
        (reading) => {
          if (started === generation) danger.setState({ reading, lamp, stale: false, rough: true })
        },
      )
      if (started === generation && reading) {
        danger.setState({ reading, lamp, stale: false, rough: false, state: 'done' })
        clearMissing(missing, 'danger')
      }
    } catch (error) {
      if (started !== generation) return
      const why = error instanceof Error ? error.message : String(error)
      danger.setState({ state: 'failed', why })
      fail({ why, restarts: false })
    } finally {
      if (started === generation) tracePause.end()
    }
  }

  const schedule = (ms = debounceMs) => {
    clearTimeout(timer)
    timer = setTimeout(begin, ms)
  }

  function stop() {
    clearTimeout(timer)
    generation++
    client?.stop()
    const { state } = danger.getState()
    if (state === 'running' || state === 'waiting') danger.setState({ state: 'idle' })
    // Nobody waits for it any more, so nothing tries again by itself.
    const { danger: gone } = missing.getState()
    if (gone?.restarts) fail({ why: gone.why, restarts: false })
    tracePause.end()
  }

  return {
    /** Follows the panel, the outlines and the lamp. Returns a function that stops. */
    start(): () => void {
      const offDanger = danger.subscribe((now, before) => {
        if (isWanted(now) === isWanted(before)) return
        if (!isWanted(now)) stop()
        else if (now.lamp !== design.lamp() || now.rough || now.state === 'failed') schedule(0)
      })
      const offDesign = design.store.subscribe(({ lamp, label }, before) => {
        if (lamp === before.lamp) return
        if (label === 'Open') clearMissing(missing, 'danger')
        const now = danger.getState()
        const stale = now.reading !== null && now.lamp !== lamp
        danger.setState({ stale })
        if (!isWanted(now)) return
        // Drop the reading in progress. An undo back to the lamp that was read needs no new one.
        generation++
        client?.stop()
        if (stale || !now.reading || now.rough) schedule()
        else {
          clearTimeout(timer)
          danger.setState({ state: 'done' })
          tracePause.end()
        }
      })
      return () => {
        stop()
        offDanger()
        offDesign()
        client?.dispose()
        client = null
      }
    },
  }
}
