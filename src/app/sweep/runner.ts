// From the ranges to the cells: starts by itself when the panel opens, a range or the lamp changes; the lamp's own trace rests meanwhile,
// once it has shown its first figures, and goes on afterwards.
import type { CellOptions } from '../../job/sweep/cell.ts'
import { parametersOf } from '../../job/sweep/parameters.ts'
import { type SweepAxes, withValues } from '../../job/sweep/plan.ts'
import type { SweepCell } from '../../job/sweep/run.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Design } from '../store/design.ts'
import type { Result } from '../store/result.ts'
import type { Sweep } from '../store/sweep.ts'
import { createTraceRest } from '../store/tracePause.ts'
import { tryEdit } from '../store/tryEdit.ts'
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

/** What traces the cells: the sweep desk of src/job, in workers. */
export interface Sweeper {
  sweep(lamp: Lamp, axes: SweepAxes, options: CellOptions, onCell: (cell: SweepCell) => void): Promise<boolean>
  stop(): void
  dispose(): void
}

export interface SweepEnds {
  design: Design
  result: Result
  sweep: Sweep
  trace: { pause(): void; resume(): void }
  open(): Sweeper
}

/** The lamp's own trace uses the same seed. */
export const CELL: CellOptions = { seed: 1, rays: 1 << 16 }
/** After the last change, so that a number being typed or dragged doesn't start one sweep after another. */
const PATIENCE_MS = 350

export function createSweeping({ design, result, sweep, trace, open }: SweepEnds, patienceMs = PATIENCE_MS) {
  let sweeper: Sweeper | null = null
  let turn = 0
  let timer: ReturnType<typeof setTimeout> | undefined
  const rest = createTraceRest(result, trace)

  async function begin() {
    const mine = ++turn
    sweeper?.stop()
    const lamp = design.lamp()
    const { ranges } = sweep.getState()
    const known = parametersOf(lamp)
    for (const range of ranges) {
      const fault = rangeFaultOf(
        known.find((p) => p.path === range.path),
        range,
      )
      if (!fault) continue
      sweep.setState({ state: 'idle', why: fault })
      return rest.end()
    }
    const axes = axesFrom(ranges)
    const count = axes.reduce((n, a) => n * a.values.length, 1)
    sweep.setState({
      run: { lamp, axes, cells: Array.from({ length: count }, () => undefined) },
      state: 'waiting',
      why: '',
      at: null,
      announcement: '',
    })
    if (!(await rest.begin(() => mine !== turn))) return
    sweeper ??= open()
    sweep.setState({ state: 'running' })
    try {
      const whole = await sweeper.sweep(lamp, axes, CELL, (cell) => {
        const { run } = sweep.getState()
        if (mine !== turn || !run) return
        const cells = [...run.cells]
        cells[cell.index] = cell
        sweep.setState({ run: { ...run, cells } })
      })
      if (whole && mine === turn) sweep.setState({ state: 'done' })
    } catch (error) {
      if (mine === turn)
        sweep.setState({ state: 'failed', why: error instanceof Error ? error.message : String(error) })
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
    sweeper?.stop()
    const { state } = sweep.getState()
    if (state === 'running' || state === 'waiting') sweep.setState({ state: 'stopped' })
    rest.end()
  }

  function opened() {
    const lamp = design.lamp()
    const { ranges, run, state } = sweep.getState()
    const known = parametersOf(lamp)
    const fits = ranges.length > 0 && ranges.every((r) => known.some((p) => p.path === r.path))
    if (!fits) {
      const first = known.find((p) => p.path === firstPath(lamp))!
      sweep.setState({ ranges: [rangeAbout(first, CURVE_COUNT)], run: null, at: null }) // starts by what hears of it
      return
    }
    if (state !== 'done' || !run || !sameButFor(lamp, run.lamp, run.axes)) soon(0)
  }

  return {
    /** Follows the panel; returns how to stop. */
    start(): () => void {
      const offSweep = sweep.subscribe((now, before) => {
        if (now.open && !before.open) opened()
        if (!now.open && before.open) {
          stop()
          sweeper?.dispose()
          sweeper = null
        }
        if (now.open && now.ranges !== before.ranges) soon(before.ranges.length === 0 ? 0 : patienceMs)
      })
      const offDesign = design.store.subscribe(({ lamp }) => {
        const { open: isOpen, run } = sweep.getState()
        if (!isOpen || (run && sameButFor(lamp, run.lamp, run.axes))) return
        const known = parametersOf(lamp)
        if (sweep.getState().ranges.every((r) => known.some((p) => p.path === r.path))) soon(2 * patienceMs)
        else opened()
      })
      return () => {
        stop()
        offSweep()
        offDesign()
        sweeper?.dispose()
        sweeper = null
      }
    },
    stop,
    again: () => soon(0),
    /** The values of a cell become the lamp's: one step of history. Says why not, or null. */
    adopt(index: number): string | null {
      const { run } = sweep.getState()
      const cell = run?.cells[index]
      if (!run || !cell) return 'This one has not been traced yet.'
      const known = parametersOf(design.lamp())
      const words = run.axes.map(({ path }, i) => {
        const p = known.find((q) => q.path === path)
        return p ? `${parameterWords(p)} ${axisValue(cell.values[i]!, p.unit)}` : path
      })
      const label = words.length > 1 ? `Two values tried: ${words.join(', ')}` : words[0]!
      const why = tryEdit(design, label, (lamp) => withValues(lamp, run.axes, cell.values))
      sweep.setState({ at: index, announcement: why ?? `Taken: ${words.join(', ')}. Undo brings the old values back.` })
      return why
    },
  }
}

export type Sweeping = ReturnType<typeof createSweeping>
