// How the plan is being worked on: tool, what a pick takes, what snaps, what lies over the face. No history; not saved.
import { createStore } from 'zustand/vanilla'
import { useStore } from 'zustand'

export interface PlanState {
  /** place: a click puts a board of `placeType` down. */
  tool: 'pick' | 'place'
  /** What a pick takes: whole boards, or single emitters. */
  takes: 'boards' | 'emitters'
  /** Board type that is put down; null: the lamp's first. */
  placeType: string | null
  snapGrid: boolean
  gridMm: number
  snapNeighbours: boolean
  snapRings: boolean
  overlay: 'none' | 'returned'
  /** What happened last, in words; read out to screen readers. */
  said: string
  /** Fault shown of the list; null: none. */
  fault: number | null
}

export const plan = createStore<PlanState>()(() => ({
  tool: 'pick',
  takes: 'boards',
  placeType: null,
  snapGrid: true,
  gridMm: 1,
  snapNeighbours: true,
  snapRings: true,
  overlay: 'none',
  said: '',
  fault: null,
}))

export const usePlan = <T>(pick: (s: PlanState) => T): T => useStore(plan, pick)
