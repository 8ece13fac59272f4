// The panel of readings: what is being typed, the measuring plan and what the last comparison said. The readings themselves are the lamp's.
import { useStore } from 'zustand'
import { createStore } from 'zustand/vanilla'
import type { MeasuringPlan } from '../../job/fit/plan.ts'
import type { FitResult, RunningFit } from '../../job/fit/result.ts'
import type { Readings } from '../../lamp/readings.ts'
import type { Lamp } from '../../lamp/schema.ts'

export type ReadingsPane = 'log' | 'plan'

interface Compared {
  /** Of the light; null: no set gives lux at places. */
  result: FitResult | null
  /** Of temperatures, volts and amperes. */
  running: RunningFit[]
  lamp: Lamp
  readings: Readings
}

export interface ReadingsState {
  open: boolean
  pane: ReadingsPane
  /** waiting: for the lamp's own first figures. */
  state: 'idle' | 'waiting' | 'running' | 'stopped' | 'failed'
  why: string
  /** Predictions traced, of those requested so far. */
  progress: { done: number; all: number }
  compared: Compared | null
  plan: { plan: MeasuringPlan; lamp: Lamp } | null
  /** Distance of the wall for the plan, m; null: chosen by the lamp. */
  wallM: number | null
  /** What happened last, for screen readers. */
  announcement: string
}

const createReadings = () =>
  createStore<ReadingsState>()(() => ({
    open: false,
    pane: 'log',
    state: 'idle',
    why: '',
    progress: { done: 0, all: 0 },
    compared: null,
    plan: null,
    wallM: null,
    announcement: '',
  }))

export type ReadingsStore = ReturnType<typeof createReadings>
export const readings = createReadings()

export const useReadings = <T>(pick: (s: ReadingsState) => T): T => useStore(readings, pick)
