// The latest sheet of the lamp on screen, and how the trace stands.
import { createStore } from 'zustand/vanilla'
import type { Sheet } from '../../job/beam/sheet.ts'
import type { TraceHolder } from '../common/traceHolders.ts'

export interface ResultState {
  /** Null until the first sheet. Stays, marked stale, while an edit is being traced. */
  sheet: Sheet | null
  stale: boolean
  /** `stale` as the page shows it (staleMark.ts). */
  marked: boolean
  trace: 'waiting' | 'tracing' | 'paused' | 'settled' | 'failed'
  /** Panels that have paused the trace while they compute; empty where the user has, and while it isn't paused. */
  heldBy: readonly TraceHolder[]
  /** Something is still being traced for this lamp: the lamp itself or, once it has settled, the sun and the comparisons. */
  atWork: boolean
  /** The reason, when the trace failed. */
  why: string
  /** Wanted ± on the axial intensity at 95 %, as a share. */
  precision: number
}

export const createResult = () =>
  createStore<ResultState>()(() => ({
    sheet: null,
    stale: false,
    marked: false,
    trace: 'waiting',
    heldBy: [],
    atWork: false,
    why: '',
    precision: 0.01,
  }))

export type Result = ReturnType<typeof createResult>
