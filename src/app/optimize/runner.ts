// Runs the search when it is asked for. The lamp's own trace delivers its first figures, pauses meanwhile, and resumes afterwards.
import type { OptimizeClient } from '../../job/choose/client.ts'
import { brokenRules, type Move, movableOf, moveFault, type Values, withMoves } from '../../job/choose/moves.ts'
import { type OptimizePlan, planFault } from '../../job/choose/plan.ts'
import type { Outcomes } from '../../job/choose/run.ts'
import type { Trouble } from '../../job/service/restarting.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { moveRows } from '../../report/choose.ts'
import { axisValue } from '../common/numberRange.ts'
import { changedNames } from '../common/sameLight.ts'
import type { Design } from '../store/design.ts'
import type { Optimize } from '../store/optimize.ts'
import type { Result } from '../store/result.ts'
import { createTracePause } from '../store/tracePause.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { firstMoves } from './model/moves.ts'

export interface OptimizeRunnerOptions {
  design: Design
  result: Result
  optimize: Optimize
  trace: { pause(): void; resume(): void }
  open(onTrouble: (trouble: Trouble) => void): Promise<OptimizeClient>
}

/** The lamp's own trace uses the same seed. */
const SEED = 1
const RAYS = 1 << 14

export function createOptimizeRunner({ design, result, optimize, trace, open }: OptimizeRunnerOptions) {
  let client: OptimizeClient | null = null
  let generation = 0
  const tracePause = createTracePause(result, trace)
  /** What was evaluated: the same search, stopped and begun again, goes on with it; so does one from another place. */
  let memory: { lamp: Lamp; moves: readonly Move[]; search: string; outcomes: Outcomes } | null = null

  const onTrouble = ({ why }: Trouble) => {
    if (optimize.getState().state === 'running') optimize.setState({ why: `${why} It is being started again.` })
  }

  function outcomesFor(lamp: Lamp, { evaluations: _, ...plan }: OptimizePlan): Outcomes {
    const search = JSON.stringify([plan, brokenRules(lamp)])
    if (memory?.search !== search || !sameButFor(lamp, memory))
      memory = { lamp, moves: plan.moves, search, outcomes: new Map() }
    return memory.outcomes
  }

  async function search() {
    const started = ++generation
    const isOld = () => started !== generation
    client?.stop()
    const { moves, wants, keeps, evaluations } = optimize.getState()
    const lamp = design.lamp()
    const plan: OptimizePlan = { moves, wants, keeps, seed: SEED, rays: RAYS, evaluations }
    const fault = planFault(lamp, plan)
    if (fault) return optimize.setState({ state: 'idle', why: fault })
    optimize.setState({
      run: { lamp, plan, progress: null, result: null },
      state: 'waiting',
      why: '',
      at: null,
      announcement: '',
    })
    try {
      if (!(await tracePause.begin(isOld))) return
      client ??= await open(onTrouble)
      if (isOld()) return
      optimize.setState({ state: 'running' })
      const found = await client.optimize(lamp, plan, outcomesFor(lamp, plan), (progress) => {
        if (!isOld()) optimize.setState({ run: { lamp, plan, progress, result: null } })
      })
      if (isOld()) return
      const ended = found.end === 'stopped' ? 'stopped' : 'done'
      optimize.setState({ run: { lamp, plan, progress: found, result: found }, state: ended, why: '' })
    } catch (error) {
      if (!isOld()) optimize.setState({ state: 'failed', why: error instanceof Error ? error.message : String(error) })
    } finally {
      if (!isOld()) tracePause.end()
    }
  }

  function close() {
    stop()
    generation++
    tracePause.end()
    client?.dispose()
    client = null
  }

  /** What has come stays; it is shown as it is. */
  function stop() {
    const { state } = optimize.getState()
    if (state === 'waiting') {
      generation++
      tracePause.end()
    }
    client?.stop()
    if (state === 'running' || state === 'waiting') optimize.setState({ state: 'stopped' })
  }

  function onOpen() {
    const movable = movableOf(design.lamp())
    const fitting = optimize.getState().moves.filter((move) => moveFault(movable, move) === null)
    optimize.setState({ moves: fitting.length > 0 ? fitting : firstMoves(movable) })
  }

  return {
    /** Follows the panel. Returns a function that stops. */
    start(): () => void {
      const off = optimize.subscribe((now, before) => {
        if (now.open && !before.open) onOpen()
        if (!now.open && before.open) close()
      })
      return () => {
        off()
        close()
      }
    },
    search,
    stop,
    /** Applies what moved to the lamp, as one step of history. Returns why not, or null. */
    adopt(values: Values): string | null {
      const { run } = optimize.getState()
      if (!run) return 'Nothing has been found yet.'
      const rows = moveRows(movableOf(design.lamp()), run.plan.moves, values)
      const words = rows.map((r) => `${r.words} ${typeof r.value === 'number' ? axisValue(r.value, r.unit) : r.value}`)
      const label = words.length > 1 ? `Values found: ${words.join(', ')}` : (words[0] ?? 'Values found')
      const why = tryEdit(design, label, (lamp) => withMoves(lamp, run.plan.moves, values))
      optimize.setState({ announcement: why ?? `Taken: ${words.join(', ')}. Undo brings the old values back.` })
      return why
    },
  }
}

/** True when two lamps give the same light for equal values of what moved. */
export function sameButFor(lamp: Lamp, { lamp: other, moves }: { lamp: Lamp; moves: readonly Move[] }): boolean {
  if (lamp === other) return true
  const values = moves.map((m) => (m.kind === 'number' ? m.min : (m.keys[0] ?? '')))
  return changedNames(withMoves(lamp, moves, values), withMoves(other, moves, values)) !== null
}

export type OptimizeActions = Pick<ReturnType<typeof createOptimizeRunner>, 'search' | 'stop' | 'adopt'>
