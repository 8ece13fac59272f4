// The plan's editing state: tool, pick mode, snapping, camera. No history; not saved.
// No component reads the camera: keys and buttons set it, and the drawing subscribes to the store itself.
import { useStore } from 'zustand'
import { createStore } from 'zustand/vanilla'
import type { Board } from '../../lamp/schema.ts'
import type { LayoutFault } from '../../layout/clearance.ts'
import type { Corner } from '../../num/polygon.ts'
import type { PlanCamera, PlanSize } from '../common/planCamera.ts'

/** An outline that is being drawn, corner by corner. */
export interface DrawnOutline {
  /** The board type; null: the face. */
  typeId: string | null
  /** The board that it is drawn on. */
  boardId: string | null
  /** In the outline's own frame, mm. */
  corners: readonly Corner[]
}

export interface PlanState {
  /** place: a click places a board of `placeType`. draw: a click places a corner of `drawn`. */
  tool: 'pick' | 'place' | 'draw'
  drawn: DrawnOutline | null
  /** What a click selects: whole boards, or single emitters. */
  pickMode: 'boards' | 'emitters'
  /** Board type to place; null: the lamp's first. */
  placeType: string | null
  /** Where a board, or a corner, would be placed, in mm on the plan; null: nowhere yet. */
  aim: readonly [number, number] | null
  snapGrid: boolean
  gridMm: number
  snapNeighbours: boolean
  snapRings: boolean
  overlay: 'none' | 'returned' | 'warmth'
  /** Boards copied last, to be pasted. */
  clipboard: readonly Board[]
  /** Null: the whole face, whatever the size of the view. */
  camera: PlanCamera | null
  size: PlanSize
  /** Faults of the lamp, worst kinds first, as of the last check. */
  faults: readonly LayoutFault[]
  /** Index of the fault shown. */
  fault: number | null
  /** Index of the selected corner of the outline that is edited. */
  corner: number | null
  /** Why the last change of the outline was refused. */
  refused: string | null
  /** Boards or a corner are being dragged: text and counts wait until the drag ends. */
  dragging: boolean
  /** What happened last, for screen readers. */
  announcement: string
}

const createPlan = () =>
  createStore<PlanState>()(() => ({
    tool: 'pick',
    drawn: null,
    pickMode: 'boards',
    placeType: null,
    aim: null,
    snapGrid: true,
    gridMm: 1,
    snapNeighbours: true,
    snapRings: true,
    overlay: 'none',
    clipboard: [],
    camera: null,
    size: { widthPx: 0, heightPx: 0 },
    faults: [],
    fault: null,
    corner: null,
    refused: null,
    dragging: false,
    announcement: '',
  }))
export const plan = createPlan()

export const usePlan = <T>(pick: (s: PlanState) => T): T => useStore(plan, pick)

/** From now on clicks draw the outline of a board type on one of its boards, or of the face. */
export const beginOutline = (typeId: string | null, boardId: string | null): void =>
  plan.setState({
    ...{ tool: 'draw', pickMode: 'boards', aim: null, corner: null, refused: null, fault: null },
    drawn: { typeId, boardId, corners: [] },
    announcement: 'Click the first corner, or move to it with the arrows and press Enter.',
  })
