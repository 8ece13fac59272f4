// The dependencies of a command, so that tests can replace them.

import type { EngineChoice, JobOptions, Sheet } from '../job/beam/sheet.ts'
import type { OptimizePlan } from '../job/choose/plan.ts'
import type { OptimizeOptions, OptimizeResult } from '../job/choose/run.ts'
import type { StartCell, StartsOptions } from '../job/choose/starts.ts'
import type { Column } from '../job/compare/result.ts'
import type { CompareListener, CompareOptions } from '../job/compare/run.ts'
import type { DangerReading, DangerStage } from '../job/danger/result.ts'
import type { FittedReadings } from '../job/fit/fitAll.ts'
import type { NodeFitOptions } from '../job/fit/node.ts'
import type { Predictor } from '../job/fit/predict.ts'
import type { NodeExitOptions } from '../job/rays/node.ts'
import type { ExitTrace } from '../job/rays/run.ts'
import type { CellOptions } from '../job/sweep/cell.ts'
import type { SweepAxes } from '../job/sweep/plan.ts'
import type { SweepCell } from '../job/sweep/run.ts'
import type { BuiltReading, ToleranceSettings } from '../job/tolerances/run.ts'
import type { ProposeOptions } from '../job/wish/propose.ts'
import type { KindOutcome } from '../job/wish/result.ts'
import type { WishResult } from '../job/wish/run.ts'
import type { Wish } from '../job/wish/wish.ts'
import type { Readings } from '../lamp/readings.ts'
import type { Lamp } from '../lamp/schema.ts'

export interface Io {
  out(text: string): void
  err(text: string): void
  /** Null when stderr is no terminal; then there is no progress bar. */
  errColumns: number | null
  /** Hears how far the work is, drawn or not. */
  tell?: (at: { done: number; all: number }) => void
}

export type Tracer = (
  lamp: Lamp,
  options: JobOptions & { threads: number; engine?: EngineChoice },
  onProgress?: (sheet: { rays: number; maxRays: number }) => void,
) => Promise<Sheet>

/** Resolves to the cells of `indices`, to all without them, in the order of the grid; `onCell` gets each as it is done. */
export type Sweeper = (
  lamp: Lamp,
  axes: SweepAxes,
  options: CellOptions & { threads: number },
  onCell?: (cell: SweepCell) => void,
  indices?: readonly number[],
) => Promise<SweepCell[]>

export type Optimizer = (
  lamp: Lamp,
  plan: OptimizePlan,
  options: OptimizeOptions & { threads: number },
) => Promise<OptimizeResult>
/** Resolves to what some of the plan's searches evaluated, in the order of `starts`. */
type StartSearcher = (
  lamp: Lamp,
  plan: OptimizePlan,
  starts: readonly number[],
  options: StartsOptions & { threads: number },
) => Promise<StartCell[]>
/** Resolves to the built lamps of `indices`, in rising order; `onReading` gets each as it is done. */
export type Builder = (
  lamp: Lamp,
  settings: ToleranceSettings,
  threads: number,
  indices: readonly number[],
  onReading?: (reading: BuiltReading) => void,
) => Promise<BuiltReading[]>
/** Resolves to a column for each lamp, in their order. */
export type Comparer = (
  lamps: readonly Lamp[],
  options: CompareOptions & { threads: number },
  listener?: CompareListener,
) => Promise<Column[]>
/** Resolves to all kinds in their order; `onOutcome` gets each as it is done. */
export type WishSearcher = (
  wish: Wish,
  options: ProposeOptions & { threads: number },
  onOutcome?: (outcome: KindOutcome) => void,
) => Promise<WishResult>

export type DangerReader = (
  lamp: Lamp,
  options: { seed: number; maxRays: number; threads: number; rough?: boolean },
  onStage?: (stage: DangerStage, share: number) => void,
) => Promise<DangerReading>

/** What readings say of a lamp; `onProgress` hears of each prediction. */
type Fitter = (
  lamp: Lamp,
  readings: Readings,
  options: NodeFitOptions,
  onProgress?: (done: number, all: number) => void,
) => Promise<FittedReadings>

/** Rays that leave a lamp, as they are traced; `use` takes them to their end. */
export type ExitTracer = <T>(lamp: Lamp, options: NodeExitOptions, use: (trace: ExitTrace) => Promise<T>) => Promise<T>

export interface Tools {
  io: Io
  exits: ExitTracer
  trace: Tracer
  sweep: Sweeper
  optimize: Optimizer
  searchStarts: StartSearcher
  build: Builder
  compare: Comparer
  wish: WishSearcher
  danger: DangerReader
  fitReadings: Fitter
  /** Lux at places, in this thread. */
  predict: Predictor['predict']
}

/** And 130 after Ctrl+C (scripts/lampwright.mjs). */
export const EXIT = { fine: 0, severe: 1, refused: 2 } as const

/** An error that the user can correct; its message is printed. Any other exception is a bug. */
export class UserError extends Error {}

/** Removes control characters: names in a lamp file are untrusted and could control the terminal. */
export { printable as stripControls } from '../lamp/printable.ts'
