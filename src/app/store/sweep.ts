// The sweep panel: ranges, cells and the selected cell. No history; nothing of it is saved in a lamp.
import { useStore } from 'zustand'
import { createStore } from 'zustand/vanilla'
import type { Wanted } from '../../job/sweep/best.ts'
import type { SweptName } from '../../job/sweep/figures.ts'
import type { SweepAxes } from '../../job/sweep/plan.ts'
import type { SweepCell } from '../../job/sweep/run.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { RangeChoice } from '../common/rangeChoice.ts'

export interface SweepRun {
  /** The lamp that was swept; its own values of the swept numbers don't matter. */
  lamp: Lamp
  axes: SweepAxes
  /** By index; undefined until the cell is traced. */
  cells: readonly (SweepCell | undefined)[]
}

export interface SweepState {
  open: boolean
  /** One or two; empty until the panel first opens. */
  ranges: readonly RangeChoice[]
  figure: SweptName
  /** Null: the end that is usually wanted for this figure. */
  wanted: Wanted | null
  run: SweepRun | null
  /** waiting: for the lamp's own first figures. */
  state: 'idle' | 'waiting' | 'running' | 'done' | 'stopped' | 'failed'
  why: string
  /** Index of the selected cell; null: the best. */
  at: number | null
  /** What happened last, for screen readers. */
  announcement: string
}

export const createSweep = () =>
  createStore<SweepState>()(() => ({
    open: false,
    ranges: [],
    figure: 'axialIntensityCd',
    wanted: null,
    run: null,
    state: 'idle',
    why: '',
    at: null,
    announcement: '',
  }))

export type Sweep = ReturnType<typeof createSweep>
export const sweep = createSweep()

export const useSweep = <T>(pick: (s: SweepState) => T): T => useStore(sweep, pick)
