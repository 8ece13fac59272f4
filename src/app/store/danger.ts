// The danger sheet on the page: the reading, its lamp, and what is shown. No history; nothing of it is saved in a lamp.
import { useStore } from 'zustand'
import { createStore } from 'zustand/vanilla'
import type { DangerReading, DangerStage } from '../../job/danger/result.ts'
import type { Lamp } from '../../lamp/schema.ts'

export type DangerPane = 'found' | 'front' | 'heat' | 'sun' | 'eyes' | 'paper'

export interface DangerState {
  open: boolean
  pane: DangerPane
  /** Outlines of the thresholds are drawn in the Section and in the Solid. */
  outlines: boolean
  /** Stays, marked stale, while a newer lamp is being read. */
  reading: DangerReading | null
  /** The lamp that was read. */
  lamp: Lamp | null
  stale: boolean
  /** From few rays; the full reading follows. */
  rough: boolean
  /** waiting: for the lamp's own first figures. */
  state: 'idle' | 'waiting' | 'running' | 'done' | 'failed'
  stage: DangerStage
  /** Of the stage, 0 to 1. */
  share: number
  why: string
  /** Distance from the front at which times to harm are shown. */
  distanceMm: number
}

export const createDanger = () =>
  createStore<DangerState>()(() => ({
    open: false,
    pane: 'front',
    outlines: false,
    reading: null,
    lamp: null,
    stale: false,
    rough: false,
    state: 'idle',
    stage: 'beam',
    share: 0,
    why: '',
    distanceMm: 1000,
  }))

export type Danger = ReturnType<typeof createDanger>
export const danger = createDanger()

export const useDanger = <T>(pick: (s: DangerState) => T): T => useStore(danger, pick)
