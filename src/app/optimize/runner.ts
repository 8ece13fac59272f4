// Runs the search when it is asked for, goes on with it while the panel is closed, and after a reload with one that was left while it ran. As long as
// the panel is open the lamp's own trace delivers its first figures, pauses meanwhile, and resumes afterwards.
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
  /** In the next frame, the last one asked for; at once where there are none. */
  redraw?: (draw: () => void) => void
  open(onTrouble: (trouble: Trouble) => void): Promise<OptimizeClient>
}

/** The lamp's own trace uses the same seed. */
const SEED = 1
const RAYS = 1 << 14
const SAVED_EVERY_MS = 3000

export function createOptimizeRunner(options: OptimizeRunnerOptions) {
  const { design, result, optimize, trace, memory, open, redraw = (draw) => draw() } = options
  let client: OptimizeClient | null = null
  let generation = 0
  const tracePause = createTracePause(result, trace, 'optimize')
  /** What was evaluated: the same search, stopped and begun again, goes on with it; so does one from another place. */
  let last: { search: string; outcomes: Outcomes } | null = null
  let restored: Promise<void> | null = null
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
  function save({ moves, wants, keeps, evaluations }: OptimizePlan, running: boolean, leastMs = 0) {
    const now = performance.now()
    if (!last || now - savedMs < leastMs) return
    savedMs = now
    const setup = { moves, wants, keeps, evaluations }
    void memory.save({ setup, search: last.search, running, outcomes: [...last.outcomes] })
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
    const outcomes = outcomesFor(lamp, plan)
    save(plan, true)
    try {
      if (!(await tracePause.begin(isOld))) return
      if (!optimize.getState().open) tracePause.end()
      client ??= await open(onTrouble)
      if (isOld()) return
      optimize.setState({ state: 'running' })
      const found = await client.optimize(lamp, plan, outcomes, (progress) => {
        if (isOld()) return
        redraw(() => {
          if (!isOld() && optimize.getState().state === 'running')
            optimize.setState({ run: { lamp, plan, progress, result: null } })
        })
        save(plan, true, SAVED_EVERY_MS)
      })
      if (isOld()) return
      save(plan, false)
      const ended = found.end === 'stopped' ? 'stopped' : 'done'
      optimize.setState({ run: { lamp, plan, progress: found, result: found }, state: ended, why: '' })
    } catch (error) {
      if (!isOld()) optimize.setState({ state: 'failed', why: error instanceof Error ? error.message : String(error) })
    } finally {
      if (!isOld()) {
        tracePause.end()
        if (!optimize.getState().open) closeWorkers()
      }
    }
  }

  function closeWorkers() {
    client?.dispose()
    client = null
  }

  /** What runs goes on: beside the lamp's own trace. */
  function onClose() {
    const { state } = optimize.getState()
    tracePause.end()
    if (state !== 'running' && state !== 'waiting') closeWorkers()
  }

  /** What has come stays; it is shown as it is. */
  function stop() {
    const { state, run } = optimize.getState()
    if (state === 'waiting') {
      generation++
      tracePause.end()
      if (run) save(run.plan, false)
    }
    client?.stop()
    if (state === 'running' || state === 'waiting') optimize.setState({ state: 'stopped' })
  }

  /** What an earlier visit has left; once. */
  function restore(): Promise<void> {
    restored ??= bringBack()
    return restored
  }

  async function bringBack() {
    const stored = await memory.load()
    if (!stored || last || stored.setup.moves.length === 0) return
    const movable = movableOf(design.lamp())
    if (stored.setup.moves.some((move) => moveFault(movable, move) !== null)) return
    last = { search: stored.search, outcomes: new Map(stored.outcomes) }
    const isSame = searchKey(design.lamp(), { ...stored.setup, seed: SEED, rays: RAYS }) === stored.search
    optimize.setState({ ...stored.setup, known: isSame ? last.outcomes.size : 0 })
    if (stored.running && isSame) void search()
  }

  async function onOpen() {
    await restore()
    const { open: isOpen, state } = optimize.getState()
    if (!isOpen || state === 'running' || state === 'waiting') return
    const movable = movableOf(design.lamp())
    const fits = (move: Move) => moveFault(movable, move) === null
    const fitting = optimize.getState().moves.filter(fits)
    optimize.setState({ moves: fitting.length > 0 ? fitting : firstMoves(movable) })
  }

  return {
    /** Follows the panel, once the lamp is there. Returns a function that stops. */
    start(): () => void {
      void restore()
      if (optimize.getState().open) void onOpen()
      const off = optimize.subscribe((now, before) => {
        if (now.open && !before.open) void onOpen()
        if (!now.open && before.open) onClose()
      })
      return () => {
        off()
        const { state, run } = optimize.getState()
        if (state === 'running' && run) save(run.plan, true)
        generation++
        tracePause.end()
        closeWorkers()
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
      optimize.setState({ announcement: why ?? `Used: ${words.join(', ')}. Undo brings the old values back.` })
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
