// Runs the sweep. It starts when the panel opens and when a range or the lamp changes, with the cells that are traced already. The lamp's own trace
// delivers its first figures, pauses meanwhile, and resumes afterwards.

import type { Trouble } from '../../job/service/restarting.ts'
import type { CellOptions } from '../../job/sweep/cell.ts'
import { parametersOf } from '../../job/sweep/parameters.ts'
import { coarseFirst, type SweepAxes, withValues } from '../../job/sweep/plan.ts'
import type { SweepCell } from '../../job/sweep/run.ts'
import { designHash } from '../../lamp/designHash.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Design } from '../store/design.ts'
import type { Result } from '../store/result.ts'
import type { Sweep } from '../store/sweep.ts'
import { createTracePause } from '../store/tracePause.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { unitSystem } from '../store/unitSystem.ts'
import type { SweepMemory } from './memory.ts'
import {
  axesFrom,
  axisValue,
  CURVE_COUNT,
  firstPath,
  parameterWords,
  rangeAbout,
  rangeFaultOf,
  sameButFor,
} from './model/axes.ts'

/** The client of the sweep service (src/job), which runs in workers. */
export interface SweepClient {
  sweep(
    lamp: Lamp,
    axes: SweepAxes,
    options: CellOptions,
    onCell: (cell: SweepCell) => void,
    indices: readonly number[],
  ): Promise<boolean>
  stop(): void
  /** Starts workers at once, also those that are started no more by themselves. */
  again(): void
  dispose(): void
}

export interface SweepRunnerOptions {
  design: Design
  result: Result
  sweep: Sweep
  trace: { pause(): void; resume(): void }
  memory: SweepMemory
  open(onTrouble: (trouble: Trouble) => void): SweepClient
}

/** The lamp's own trace uses the same seed. */
export const CELL: CellOptions = { seed: 1, rays: 1 << 16 }
/** Wait after the last change, so that typing or a drag doesn't start one sweep after another. */
const DEBOUNCE_MS = 350
const SAVED_EVERY_MS = 3000

export function createSweepRunner(
  { design, result, sweep, trace, memory, open }: SweepRunnerOptions,
  debounceMs = DEBOUNCE_MS,
) {
  let client: SweepClient | null = null
  let generation = 0
  let timer: ReturnType<typeof setTimeout> | undefined
  const tracePause = createTracePause(result, trace, 'sweep')
  /** What is traced: the same sweep, stopped and begun again, goes on with it. */
  let last: { sweep: string; cells: SweepCell[] } = { sweep: '', cells: [] }
  let restored = false
  let savedMs = 0

  function save(leastMs = 0) {
    const now = performance.now()
    if (now - savedMs < leastMs) return
    savedMs = now
    void memory.save({ ranges: sweep.getState().ranges, ...last })
  }

  const onTrouble = ({ why }: Trouble) => {
    if (sweep.getState().state === 'running') sweep.setState({ why: `${why} It is being started again.` })
  }

  async function begin() {
    const started = ++generation
    client?.stop()
    const lamp = design.lamp()
    const { ranges } = sweep.getState()
    const parameters = parametersOf(lamp)
    for (const range of ranges) {
      const fault = rangeFaultOf(
        parameters.find((p) => p.path === range.path),
        range,
      )
      if (!fault) continue
      sweep.setState({ state: 'idle', why: fault })
      return tracePause.end()
    }
    const axes = axesFrom(ranges)
    const count = axes.reduce((n, a) => n * a.values.length, 1)
    const key = sweepKey(lamp, axes)
    if (last.sweep !== key) last = { sweep: key, cells: [] }
    const { cells: traced } = last
    const known = new Map(traced.map((cell) => [cell.index, cell]))
    const missing = coarseFirst(axes[0].values.length, axes[1]?.values.length ?? 1).filter((i) => !known.has(i))
    sweep.setState({
      run: { lamp, axes, cells: Array.from({ length: count }, (_, i) => known.get(i)) },
      state: missing.length > 0 ? 'waiting' : 'done',
      why: '',
      at: null,
      announcement: '',
    })
    if (missing.length === 0) return tracePause.end()
    if (!(await tracePause.begin(() => started !== generation))) return
    client ??= open(onTrouble)
    sweep.setState({ state: 'running' })
    try {
      const onCell = (cell: SweepCell) => {
        const { run } = sweep.getState()
        if (started !== generation || !run) return
        const cells = [...run.cells]
        cells[cell.index] = cell
        sweep.setState({ run: { ...run, cells } })
        traced.push(cell)
        save(SAVED_EVERY_MS)
      }
      const whole = await client.sweep(lamp, axes, CELL, onCell, missing)
      if (whole && started === generation) {
        sweep.setState({ state: 'done', why: '' })
        save()
      }
    } catch (error) {
      if (started === generation)
        sweep.setState({ state: 'failed', why: error instanceof Error ? error.message : String(error) })
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
    const { state } = sweep.getState()
    if (state === 'running' || state === 'waiting') sweep.setState({ state: 'stopped' })
    tracePause.end()
  }

  /** What an earlier visit has left; once. */
  async function restore() {
    if (restored) return
    restored = true
    const stored = await memory.load()
    if (!stored || sweep.getState().ranges.length > 0) return
    const known = parametersOf(design.lamp())
    if (stored.ranges.length === 0 || stored.ranges.some((r) => !known.some((p) => p.path === r.path))) return
    last = { sweep: stored.sweep, cells: [...stored.cells] }
    sweep.setState({ ranges: stored.ranges }) // starts it where the panel is open
  }

  async function onOpen() {
    const before = sweep.getState().ranges
    await restore()
    if (!sweep.getState().open || sweep.getState().ranges !== before) return
    const lamp = design.lamp()
    const { ranges, run, state } = sweep.getState()
    const known = parametersOf(lamp)
    const fits = ranges.length > 0 && ranges.every((r) => known.some((p) => p.path === r.path))
    if (!fits) {
      const first = known.find((p) => p.path === firstPath(lamp))!
      sweep.setState({ ranges: [rangeAbout(first, CURVE_COUNT)], run: null, at: null }) // the subscription below starts the sweep
      return
    }
    if (state !== 'done' || !run || !sameButFor(lamp, run.lamp, run.axes)) schedule(0)
  }

  return {
    /** Follows the panel. Returns a function that stops. */
    start(): () => void {
      if (sweep.getState().open) void onOpen()
      const offSweep = sweep.subscribe((now, before) => {
        if (now.open && !before.open) void onOpen()
        if (!now.open && before.open) {
          stop()
          client?.dispose()
          client = null
        }
        if (now.open && now.ranges !== before.ranges) schedule(before.ranges.length === 0 ? 0 : debounceMs)
      })
      const offDesign = design.store.subscribe(({ lamp }) => {
        const { open: isOpen, run } = sweep.getState()
        if (!isOpen || (run && sameButFor(lamp, run.lamp, run.axes))) return
        const known = parametersOf(lamp)
        if (sweep.getState().ranges.every((r) => known.some((p) => p.path === r.path))) schedule(2 * debounceMs)
        else void onOpen()
      })
      return () => {
        stop()
        offSweep()
        offDesign()
        client?.dispose()
        client = null
      }
    },
    stop,
    restart() {
      client?.again()
      schedule(0)
    },
    /** Applies the values of a cell to the lamp, as one step of history. Returns why not, or null. */
    adopt(index: number): string | null {
      const { run } = sweep.getState()
      const cell = run?.cells[index]
      if (!run || !cell) return 'This one has not been traced yet.'
      const known = parametersOf(design.lamp())
      const words = run.axes.map(({ path }, i) => {
        const p = known.find((q) => q.path === path)
        return p ? `${parameterWords(p)} ${axisValue(cell.values[i]!, p.unit, unitSystem())}` : path
      })
      const label = words.length > 1 ? `Two values tried: ${words.join(', ')}` : words[0]!
      const why = tryEdit(design, label, (lamp) => withValues(lamp, run.axes, cell.values))
      sweep.setState({ at: index, announcement: why ?? `Used: ${words.join(', ')}. Undo brings the old values back.` })
      return why
    },
  }
}

/** Which sweep of which lamp: the lamp's own values of what is swept, its name and note have no say in it. */
function sweepKey(lamp: Lamp, axes: SweepAxes): string {
  const first = axes.map((axis) => axis.values[0] ?? 0)
  return JSON.stringify([axes, CELL, designHash(withValues({ ...lamp, name: '-', note: '' }, axes, first))])
}
