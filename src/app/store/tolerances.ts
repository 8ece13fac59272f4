// The tolerances panel: the run over built lamps and what is read from it. The tolerances themselves stand in the lamp.
import { useStore } from 'zustand'
import { createStore } from 'zustand/vanilla'
import type { SweptName } from '../../job/sweep/figures.ts'
import { variedOf } from '../../job/tolerances/design.ts'
import type { FigureSpread, Spread } from '../../job/tolerances/result.ts'
import { type BuiltReading, type SpreadName, USUAL_LAMPS } from '../../job/tolerances/run.ts'
import type { Confirmed } from '../../job/tolerances/tighter.ts'
import type { Lamp, ToleranceName } from '../../lamp/schema.ts'
import { changedNames } from '../common/sameLight.ts'

export interface ToleranceRun {
  lamp: Lamp
  readings: readonly BuiltReading[]
  /** Of so many readings; null until it has been read. */
  spread: Spread | null
}

export interface TolerancesState {
  open: boolean
  /** Lamps that are to be built. */
  lamps: number
  run: ToleranceRun | null
  state: 'idle' | 'running' | 'done' | 'stopped' | 'failed'
  why: string
  figure: SpreadName
  /** What to hold tighter, tried: lamps that have come while it runs, then what they say. Of the run that is there. */
  confirming: { name: ToleranceName; have: number; all: number } | null
  confirmed: Confirmed | null
  /** Seconds that the lamps still to come are likely to take; null while not known. */
  leftS: number | null
}

export const createTolerances = () =>
  createStore<TolerancesState>()(() => ({
    open: false,
    lamps: USUAL_LAMPS,
    run: null,
    state: 'idle',
    why: '',
    figure: 'axialIntensityCd',
    confirming: null,
    confirmed: null,
    leftS: null,
  }))

export type TolerancesStore = ReturnType<typeof createTolerances>
export const tolerances = createTolerances()
export const useTolerances = <T>(pick: (s: TolerancesState) => T): T => useStore(tolerances, pick)

/** Whether a run over the one lamp is a run over the other: the same light as drawn, the same tolerances. */
export const isRunOf = (run: ToleranceRun | null, lamp: Lamp): run is ToleranceRun =>
  run !== null && (run.lamp === lamp || (changedNames(run.lamp, lamp) !== null && sameTolerances(run.lamp, lamp)))

const sameTolerances = (a: Lamp, b: Lamp): boolean =>
  a.tolerances === b.tolerances || JSON.stringify(variedOf(a)) === JSON.stringify(variedOf(b))

/** How a figure of this very lamp spreads; null where no run tells. */
export function spreadOfFigure(run: ToleranceRun | null, lamp: Lamp, name: SweptName): FigureSpread | null {
  if (!run?.spread || !isRunOf(run, lamp)) return null
  return run.spread.figures.find((f) => f.name === name) ?? null
}
