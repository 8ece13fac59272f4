// Compares the readings with the trace and makes the measuring plan, in workers of its own. The lamp's own trace pauses meanwhile.
import type { FitClient } from '../../job/fit/client.ts'
import type { Trouble } from '../../job/service/restarting.ts'
import type { Design } from '../store/design.ts'
import type { ReadingsStore } from '../store/readings.ts'
import type { Result } from '../store/result.ts'
import { createTracePause } from '../store/tracePause.ts'

export interface ReadingsRunnerOptions {
  design: Design
  result: Result
  readings: ReadingsStore
  trace: { pause(): void; resume(): void }
  /** What fits need is loaded with the first of them. */
  open(onTrouble: (trouble: Trouble) => void): Promise<FitClient>
}

/** As on the command line. */
const FIT = { seed: 1, rays: 1 << 15 }
const PLAN = { seed: 1, rays: 1 << 13 }

export interface ReadingsActions {
  compare(): void
  plan(): void
  stop(): void
}

export function createReadingsRunner({ design, result, readings, trace, open }: ReadingsRunnerOptions) {
  let client: FitClient | null = null
  let generation = 0
  const tracePause = createTracePause(result, trace, 'readings')
  const onTrouble = ({ why }: Trouble) => {
    if (readings.getState().state === 'running') readings.setState({ why: `${why} It is being started again.` })
  }

  async function work(task: (isOld: () => boolean, client: FitClient) => Promise<void>) {
    const started = ++generation
    const isOld = () => started !== generation
    client?.stop()
    readings.setState({ state: 'waiting', why: '', announcement: '', progress: { done: 0, all: 0 } })
    if (!(await tracePause.begin(isOld))) return
    try {
      const opened = client ?? (await open(onTrouble))
      // The panel was closed, or another task begun, while it was being loaded.
      if (isOld()) return opened === client ? undefined : opened.dispose()
      client = opened
      readings.setState({ state: 'running' })
      await task(isOld, opened)
      if (!isOld()) readings.setState({ state: readings.getState().why === '' ? 'idle' : 'failed' })
    } catch (error) {
      if (!isOld()) readings.setState({ state: 'failed', why: error instanceof Error ? error.message : String(error) })
    } finally {
      if (!isOld()) tracePause.end()
    }
  }

  function stop() {
    generation++
    client?.stop()
    const { state } = readings.getState()
    if (state === 'running' || state === 'waiting') readings.setState({ state: 'stopped' })
    tracePause.end()
  }

  const actions: ReadingsActions = {
    compare: () =>
      void work(async (isOld, workers) => {
        const lamp = design.lamp()
        const set = lamp.readings
        if (!set) return
        const outcome = await workers.fit(lamp, set, FIT, (done, all) => {
          if (!isOld()) readings.setState({ progress: { done, all } })
        })
        if (isOld() || !outcome) return
        const { light, running } = outcome
        if (light && !light.ok) return readings.setState({ why: light.why })
        readings.setState({
          compared: { result: light?.result ?? null, running, lamp, readings: set },
          why: '',
          announcement: 'The readings have been compared.',
        })
      }),
    plan: () =>
      void work(async (isOld, workers) => {
        const lamp = design.lamp()
        const { sheet } = result.getState()
        if (!sheet) return readings.setState({ why: 'The lamp has no figures yet.' })
        const { wallM } = readings.getState()
        const mode = lamp.heat.kind === 'mode' ? lamp.heat.mode : null
        const options = { ...PLAN, wallM, mode, meter: lamp.readings?.meter }
        const outcome = await workers.plan(lamp, sheet, options)
        if (isOld()) return
        if (outcome.ok)
          readings.setState({ plan: { plan: outcome.plan, lamp }, why: '', announcement: 'The plan is made.' })
        else readings.setState({ why: outcome.why })
      }),
    stop,
  }

  return {
    ...actions,
    /** Follows the panel. Returns a function that stops. */
    start(): () => void {
      const off = readings.subscribe((now, before) => {
        if (now.open || !before.open) return
        stop()
        client?.dispose()
        client = null
      })
      return () => {
        off()
        stop()
        client?.dispose()
        client = null
      }
    },
  }
}
