// What a command may touch of the world, so that tests can hand it another one.

import type { EngineChoice, JobOptions, Sheet } from '../job/beam/sheet.ts'
import type { DangerReading, DangerStage } from '../job/danger/result.ts'
import type { CellOptions } from '../job/sweep/cell.ts'
import type { SweepAxes } from '../job/sweep/plan.ts'
import type { SweepCell } from '../job/sweep/run.ts'
import type { Lamp } from '../lamp/schema.ts'

export interface Io {
  out(text: string): void
  err(text: string): void
  /** Null when stderr is no terminal: then nothing is drawn on it. */
  errColumns: number | null
  /** Hears how far the work is, drawn or not. */
  tell?: (at: { done: number; all: number }) => void
}

export type Tracer = (
  lamp: Lamp,
  options: JobOptions & { threads: number; engine?: EngineChoice },
  onProgress?: (sheet: { rays: number; maxRays: number }) => void,
) => Promise<Sheet>

/** Gives all cells in the order of the grid; tells of each as it comes. */
export type Sweeper = (
  lamp: Lamp,
  axes: SweepAxes,
  options: CellOptions & { threads: number },
  onCell?: (cell: SweepCell) => void,
) => Promise<SweepCell[]>

export type DangerReader = (
  lamp: Lamp,
  options: { seed: number; maxRays: number; threads: number },
  onStage?: (stage: DangerStage, share: number) => void,
) => Promise<DangerReading>

export interface Tools {
  io: Io
  trace: Tracer
  sweep: Sweeper
  danger: DangerReader
}

/** And 130 after Ctrl+C (scripts/lampwright.mjs). */
export const EXIT = { fine: 0, severe: 1, refused: 2 } as const

/** What the user can mend; its message is what they read. Anything else thrown is a bug. */
export class Refusal extends Error {}

/** Names in a lamp file come from anyone: control characters would steer the terminal. */
export const plain = (text: string): string => text.replace(/[\p{Cc}\p{Cf}\u2028\u2029]/gu, '')
