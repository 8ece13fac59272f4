// How the plan is being worked on: tool, what a pick takes, what snaps, where the camera stands. No history; not saved.
// The camera is here for keys and buttons; no component reads it, drawing listens to the store itself.
import { useStore } from 'zustand'
import { createStore } from 'zustand/vanilla'
import type { LayoutFault } from '../../layout/clearance.ts'
import type { PlanCamera, PlanSize } from '../common/planCamera.ts'

export interface PlanState {
  /** place: a click puts a board of `placeType` down. */
  tool: 'pick' | 'place'
  /** What a pick takes: whole boards, or single emitters. */
  pickMode: 'boards' | 'emitters'
  /** Board type that is put down; null: the lamp's first. */
  placeType: string | null
  /** Where a board would be put down, in mm; null: nowhere yet. */
  aim: readonly [number, number] | null
  snapGrid: boolean
  gridMm: number
  snapNeighbours: boolean
  snapRings: boolean
  overlay: 'none' | 'returned' | 'warmth'
  /** Null: the whole face, whatever the size of the view. */
  camera: PlanCamera | null
  size: PlanSize
  /** Faults of the lamp, worst kinds first, as of the last check. */
  faults: readonly LayoutFault[]
  /** Fault shown of the list. */
  fault: number | null
  /** Boards are in the hand: words and counts may wait until they are put down. */
  held: boolean
  /** What happened last, in words; read out to screen readers. */
  said: string
}

export const createPlan = () =>
  createStore<PlanState>()(() => ({
    tool: 'pick',
    pickMode: 'boards',
    placeType: null,
    aim: null,
    snapGrid: true,
    gridMm: 1,
    snapNeighbours: true,
    snapRings: true,
    overlay: 'none',
    camera: null,
    size: { widthPx: 0, heightPx: 0 },
    faults: [],
    fault: null,
    held: false,
    said: '',
  }))

export type Plan = ReturnType<typeof createPlan>
export const plan = createPlan()

export const usePlan = <T>(pick: (s: PlanState) => T): T => useStore(plan, pick)
