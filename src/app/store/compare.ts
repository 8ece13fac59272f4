// The comparison: lamps side by side, the open one first. No history; nothing of it is saved in a lamp.
import { useStore } from 'zustand'
import { createStore } from 'zustand/vanilla'
import type { ColumnSoFar } from '../../job/compare/result.ts'
import type { Lamp } from '../../lamp/schema.ts'

export interface ComparedLamp {
  /** Never changes while it stands there. */
  key: string
  /** The lamp's name. */
  name: string
  /** Where it comes from: "on the sheet", "earlier: …". */
  from: string
  lamp: Lamp
  /** Null: nothing of it is read yet. */
  read: ColumnSoFar | null
  /** lit: its light has been traced, and the rest waits. */
  state: 'waiting' | 'tracing' | 'lit' | 'reading' | 'done' | 'failed'
  why: string
}

export interface CompareState {
  open: boolean
  /** The open lamp first; empty until the panel first opens. */
  lamps: readonly ComparedLamp[]
  profile: 'cd' | 'share'
  /** What happened last, also for screen readers. */
  announcement: string
}

const createCompare = () =>
  createStore<CompareState>()(() => ({ open: false, lamps: [], profile: 'cd', announcement: '' }))

export type Compare = ReturnType<typeof createCompare>
export const compare = createCompare()

export const useCompare = <T>(pick: (s: CompareState) => T): T => useStore(compare, pick)
