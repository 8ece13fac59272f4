// What the pointer gestures read from the lamp: shapes to snap to, the board to place, the text for a turn.
import type { Board, Lamp } from '../../../lamp/schema.ts'
import { plan } from '../../store/plan.ts'
import { design } from '../../store/stores.ts'
import { mostCommonCurrentA } from '../model/marks.ts'
import type { SnapOptions, SnapShape } from '../model/snap.ts'
import { nearHalfTurn } from './drag.ts'

const SNAP_PX = 9

export function snapOptions(pxPerMm: number): SnapOptions {
  const { snapGrid, gridMm, snapNeighbours, snapRings } = plan.getState()
  return {
    reachMm: SNAP_PX / pxPerMm,
    gridMm: snapGrid ? gridMm : null,
    neighbours: snapNeighbours,
    rings: snapRings,
    clearanceMm: design.lamp().face.clearanceMm,
  }
}

export function shapeOf(lamp: Lamp, b: Board, xMm: number, yMm: number): SnapShape {
  const type = lamp.boardTypes.find((t) => t.id === b.type)!
  return { id: b.id, xMm, yMm, turnDeg: b.turnDeg, outline: type.outline }
}

export function snapShapes(lamp: Lamp, keep: (b: Board) => boolean = () => true): SnapShape[] {
  const outlines = new Map(lamp.boardTypes.map((t) => [t.id, t.outline]))
  return lamp.boards
    .filter(keep)
    .map((b) => ({ id: b.id, xMm: b.xMm, yMm: b.yMm, turnDeg: b.turnDeg, outline: outlines.get(b.type)! }))
}

export const typeToPlace = (lamp: Lamp) =>
  lamp.boardTypes.find((t) => t.id === plan.getState().placeType) ?? lamp.boardTypes[0]!

export function newBoard(lamp: Lamp, xMm: number, yMm: number): Board {
  const type = typeToPlace(lamp)
  const emitter = lamp.emitterTypes.find((e) => e.id === type.emitter)
  const currentA = mostCommonCurrentA(lamp) ?? emitter?.ratedCurrentA ?? 1
  return { id: '', type: type.id, xMm, yMm, turnDeg: 0, currentA }
}

export function turnWords(byDeg: number, nowDeg: number | null, stepped: boolean): string {
  const text = (d: number) => `${d > 0 ? '+' : ''}${Number(d.toFixed(1))}°`.replace('-', '−')
  const now = nowDeg === null ? '' : `, now ${text(nearHalfTurn(nowDeg)).replace('+', '')}`
  return `turned ${text(byDeg)}${now}${stepped ? ', in steps of 15°' : ''}`
}
