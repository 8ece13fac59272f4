// The panel of a search: what may move, what is wanted, what was found. No history; nothing of it is saved in a lamp.
import { useStore } from 'zustand'
import { createStore } from 'zustand/vanilla'
import type { Move } from '../../job/choose/moves.ts'
import type { OptimizePlan } from '../../job/choose/plan.ts'
import type { OptimizeProgress, OptimizeResult } from '../../job/choose/run.ts'
import type { Keep, Want } from '../../job/choose/wishes.ts'
import type { Lamp } from '../../lamp/schema.ts'

export interface OptimizeRun {
  /** The lamp that was searched from. */
  lamp: Lamp
  plan: OptimizePlan
  progress: OptimizeProgress | null
  /** Null until the search has ended. */
  result: OptimizeResult | null
}

export interface OptimizeState {
  open: boolean
  moves: readonly Move[]
  wants: readonly Want[]
  keeps: readonly Keep[]
  evaluations: number
  /** Lamps of this search that are known from an earlier visit. */
  known: number
  run: OptimizeRun | null
  /** waiting: for the lamp's own first figures. */
  state: 'idle' | 'waiting' | 'running' | 'done' | 'stopped' | 'failed'
  why: string
  /** Of a front the lamp in hand; null: its middle. */
  at: number | null
  /** What happened last, for screen readers. */
  announcement: string
}

export const createOptimize = () =>
  createStore<OptimizeState>()(() => ({
    open: false,
    moves: [],
    wants: [{ figure: 'axialIntensityCd', aim: 'most' }],
    keeps: [],
    evaluations: 100,
    known: 0,
    run: null,
    state: 'idle',
    why: '',
    at: null,
    announcement: '',
  }))

export type Optimize = ReturnType<typeof createOptimize>
export const optimize = createOptimize()

export const useOptimize = <T>(pick: (s: OptimizeState) => T): T => useStore(optimize, pick)
