// Runs the search when it is asked for. The lamp's own trace delivers its first figures, pauses meanwhile, and resumes afterwards.
import type { OptimizeClient } from '../../job/choose/client.ts'
import type { Outcomes } from '../../job/choose/evaluating.ts'
import { brokenRules, type Move, movableOf, moveFault, type Values, withMoves } from '../../job/choose/moves.ts'
import { type OptimizePlan, planFault } from '../../job/choose/plan.ts'
import type { Trouble } from '../../job/service/restarting.ts'
import { designHash } from '../../lamp/designHash.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { moveRows } from '../../report/choose.ts'
import { axisValue } from '../common/numberRange.ts'
import type { Design } from '../store/design.ts'
import type { Optimize } from '../store/optimize.ts'
import type { Result } from '../store/result.ts'
import { createTracePause } from '../store/tracePause.ts'
import { tryEdit } from '../store/tryEdit.ts'
import type { SearchMemory } from './memory.ts'
import { firstMoves } from './model/moves.ts'

export interface OptimizeRunnerOptions {
  design: Design
  result: Result
  optimize: Optimize
  trace: { pause(): void; resume(): void }
  memory: SearchMemory
  open(onTrouble: (trouble: Trouble) => void): Promise<OptimizeClient>
}

/** The lamp's own trace uses the same seed. */
const SEED = 1
const RAYS = 1 << 14
const SAVED_EVERY_MS = 3000

export function createOptimizeRunner({ design, result, optimize, trace, memory, open }: OptimizeRunnerOptions) {
  let client: OptimizeClient | null = null
  let generation = 0
  const tracePause = createTracePause(result, trace)
  /** What was evaluated: the same search, stopped and begun again, goes on with it; so does one from another place. */
  let last: { search: string; outcomes: Outcomes } | null = null
  let isLoaded = false
  let savedMs = 0

  const onTrouble = ({ why }: Trouble) => {
    if (optimize.getState().state === 'running') optimize.setState({ why: `${why} It is being started again.` })
  }

  function outcomesFor(lamp: Lamp, plan: OptimizePlan): Outcomes {
    const search = searchKey(lamp, plan)
    if (last?.search !== search) last = { search, outcomes: new Map() }
    return last.outcomes
  }

  /** Not oftener than needed: it is written whole. */
  function save({ moves, wants, keeps, evaluations }: OptimizePlan, leastMs: number) {
    const now = performance.now()
    if (!last || now - savedMs < leastMs) return
    savedMs = now
    void memory.save({ setup: { moves, wants, keeps, evaluations }, search: last.search, outcomes: [...last.outcomes] })
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
      known: 0,
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
        if (isOld()) return
        optimize.setState({ run: { lamp, plan, progress, result: null } })
        save(plan, SAVED_EVERY_MS)
      })
      save(plan, 0)
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

  async function onOpen() {
    const stored = isLoaded ? null : await memory.load()
    isLoaded = true
    if (!optimize.getState().open) return
    const movable = movableOf(design.lamp())
    const fits = (move: Move) => moveFault(movable, move) === null
    if (stored && !last && stored.setup.moves.length > 0 && stored.setup.moves.every(fits)) {
      last = { search: stored.search, outcomes: new Map(stored.outcomes) }
      const plan = { ...stored.setup, seed: SEED, rays: RAYS }
      const isSame = searchKey(design.lamp(), plan) === stored.search
      optimize.setState({ ...stored.setup, known: isSame ? last.outcomes.size : 0 })
      return
    }
    const fitting = optimize.getState().moves.filter(fits)
    optimize.setState({ moves: fitting.length > 0 ? fitting : firstMoves(movable) })
  }

  return {
    /** Follows the panel. Returns a function that stops. */
    start(): () => void {
      const off = optimize.subscribe((now, before) => {
        if (now.open && !before.open) void onOpen()
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

/** Which search of which lamp: values of what moves, names and notes have no say in it. */
function searchKey(lamp: Lamp, { evaluations: _, ...plan }: OptimizePlan): string {
  const values = plan.moves.map((m) => (m.kind === 'number' ? m.min : (m.keys[0] ?? '')))
  const rest = withMoves({ ...lamp, name: '-', note: '' }, plan.moves, values)
  return JSON.stringify([plan, brokenRules(lamp), designHash(rest)])
}

export type OptimizeActions = Pick<ReturnType<typeof createOptimizeRunner>, 'search' | 'stop' | 'adopt'>
