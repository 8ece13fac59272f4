// From the lamp to its danger sheet: read when somebody looks at it, again when the lamp changes meanwhile. The lamp's own trace comes
// first, rests while the dangers are read, and goes on afterwards.
import type { DangerReading, DangerStage } from '../../job/danger/result.ts'
import { sameTrace } from '../../job/danger/sameTrace.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Danger, DangerState } from '../store/danger.ts'
import type { Design } from '../store/design.ts'
import type { Result } from '../store/result.ts'
import { createTraceRest } from '../store/tracePause.ts'

/** What reads: the danger desk of src/job, in workers. */
export interface DangerReader {
  read(
    lamp: Lamp,
    onStage: (stage: DangerStage, share: number) => void,
    onRough: (reading: DangerReading) => void,
  ): Promise<DangerReading | null>
  stop(): void
  dispose(): void
}

export interface DangerEnds {
  design: Design
  result: Result
  danger: Danger
  trace: { pause(): void; resume(): void }
  open(): DangerReader
}

/** After the last change, so that a number being dragged doesn't start one reading after another. */
const PATIENCE_MS = 400

const wanted = (s: DangerState) => s.open || s.outlines

export function createDangerReading({ design, result, danger, trace, open }: DangerEnds, patienceMs = PATIENCE_MS) {
  let reader: DangerReader | null = null
  let turn = 0
  let timer: ReturnType<typeof setTimeout> | undefined
  const rest = createTraceRest(result, trace)

  async function begin() {
    const mine = ++turn
    const lamp = design.lamp()
    reader?.stop()
    danger.setState({ state: 'waiting', stage: 'beam', share: 0, why: '' })
    const read = danger.getState().lamp
    if (!(read && sameTrace(lamp, read)) && !(await rest.begin(() => mine !== turn))) return
    reader ??= open()
    danger.setState({ state: 'running' })
    try {
      const reading = await reader.read(
        lamp,
        (stage, share) => {
          if (mine === turn) danger.setState({ stage, share })
        },
        (reading) => {
          if (mine === turn) danger.setState({ reading, lamp, stale: false, rough: true })
        },
      )
      if (mine === turn && reading) danger.setState({ reading, lamp, stale: false, rough: false, state: 'done' })
    } catch (error) {
      if (mine !== turn) return
      reader.dispose()
      reader = null
      danger.setState({ state: 'failed', why: error instanceof Error ? error.message : String(error) })
    } finally {
      if (mine === turn) rest.end()
    }
  }

  const soon = (ms = patienceMs) => {
    clearTimeout(timer)
    timer = setTimeout(begin, ms)
  }

  function stop() {
    clearTimeout(timer)
    turn++
    reader?.stop()
    const { state } = danger.getState()
    if (state === 'running' || state === 'waiting') danger.setState({ state: 'idle' })
    rest.end()
  }

  return {
    /** Follows the panel, the outlines and the lamp; returns how to stop. */
    start(): () => void {
      const offDanger = danger.subscribe((now, before) => {
        if (wanted(now) === wanted(before)) return
        if (!wanted(now)) stop()
        else if (now.lamp !== design.lamp() || now.rough || now.state === 'failed') soon(0)
      })
      const offDesign = design.store.subscribe(({ lamp }, before) => {
        if (lamp === before.lamp) return
        const now = danger.getState()
        const stale = now.reading !== null && now.lamp !== lamp
        danger.setState({ stale })
        if (!wanted(now)) return
        // The one before is no longer wanted; a step back to what was read needs nothing.
        turn++
        reader?.stop()
        if (stale || !now.reading || now.rough) soon()
        else {
          clearTimeout(timer)
          danger.setState({ state: 'done' })
          rest.end()
        }
      })
      return () => {
        stop()
        offDanger()
        offDesign()
        reader?.dispose()
        reader = null
      }
    },
    again: () => soon(0),
  }
}

export type DangerReadingDriver = ReturnType<typeof createDangerReading>
