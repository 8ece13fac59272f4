// The area that a fill has: does a board of one type fit at a pose, seen from face, margin, keep-outs and boards that stay?
import type { BoardType, Lamp } from '../lamp/schema.ts'
import { areBoxesNear } from './clearance.ts'
import { boardOutline, edgeGap, faceCornerMm, keepOutShape, outlineShape, placeShape } from './outline.ts'
import { gapBetween, type Shape, shapeBox } from './shape.ts'

export interface Pose {
  xMm: number
  yMm: number
  turnDeg: number
}

export interface FillArea {
  local: Shape
  clearanceMm: number
  marginMm: number
  face: Lamp['face']
  /** No board's centre can lie farther from the axis. */
  reachMm: number
  fits: (pose: Pose) => boolean
  /** Gap between two boards of the type. */
  gap: (a: Pose, b: Pose) => number
}

/** Slack of a fill's own sums; poses are rounded to a tenth of a micrometre afterwards. Both stay within clearance.ts's tolerance. */
export const SLACK_MM = 2e-4

export function makeFillArea(
  lamp: Lamp,
  type: BoardType,
  clearanceMm: number,
  marginMm: number,
  keep: readonly Lamp['boards'][number][],
): FillArea {
  const local = outlineShape(type.outline)
  const taken = [...lamp.face.keepOuts.map(keepOutShape), ...keep.map((b) => boardOutline(lamp, b))].map((shape) => ({
    shape,
    box: shapeBox(shape),
  }))
  const byTurn = new Map<number, Shape>() // a lattice has one turn for all its boards
  const turned = (turnDeg: number): Shape => {
    const known = byTurn.get(turnDeg)
    if (known) return known
    if (byTurn.size > 64) byTurn.clear()
    const shape = placeShape(local, { xMm: 0, yMm: 0, turnDeg })
    byTurn.set(turnDeg, shape)
    return shape
  }
  const at = (p: Pose): Shape => {
    const shape = turned(p.turnDeg)
    return { core: shape.core.map(([x, y]) => [x + p.xMm, y + p.yMm] as const), radiusMm: shape.radiusMm }
  }
  return {
    local,
    clearanceMm,
    marginMm,
    face: lamp.face,
    reachMm: faceCornerMm(lamp.face) - marginMm,
    fits: (pose) => {
      const shape = at(pose)
      if (edgeGap(lamp.face, shape).gapMm < marginMm - SLACK_MM) return false
      const box = shapeBox(shape)
      return taken.every(
        (t) => !areBoxesNear(t.box, box, clearanceMm) || gapBetween(t.shape, shape).gapMm >= clearanceMm - SLACK_MM,
      )
    },
    gap: (a, b) => gapBetween(at(a), at(b)).gapMm,
  }
}

export const isDisc = (shape: Shape): boolean => shape.core.length === 1
