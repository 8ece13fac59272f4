// The area that a fill has: does a board of one type fit at a pose, seen from face, margin, keep-outs and boards that stay?
import { faceReachMm } from '../lamp/facePlate.ts'
import type { BoardType, Lamp } from '../lamp/schema.ts'
import type { Box } from '../num/grid.ts'
import { distanceToEdges, isInPolygon } from '../num/polygon.ts'
import { areBoxesNear } from './clearance.ts'
import { boardOutline, edgeGap, keepOutShape, outlineShape, placeShape } from './outline.ts'
import { gapBetween, mapShape, type Shape, shapeBox } from './shape.ts'

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
  /** About a board at a pose. */
  box: (pose: Pose) => Box
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
  const at = (p: Pose): Shape => mapShape(turned(p.turnDeg), (x, y) => [x + p.xMm, y + p.yMm])
  return {
    local,
    clearanceMm,
    marginMm,
    face: lamp.face,
    reachMm: faceReachMm(lamp.face) - marginMm,
    fits: (pose) => {
      const shape = at(pose)
      const box = shapeBox(shape)
      if (!isWithinEdge(lamp.face, shape, box, marginMm - SLACK_MM)) return false
      return taken.every(
        (t) => !areBoxesNear(t.box, box, clearanceMm) || gapBetween(t.shape, shape).gapMm >= clearanceMm - SLACK_MM,
      )
    },
    gap: (a, b) => gapBetween(at(a), at(b)).gapMm,
    box: (pose) => shapeBox(at(pose)),
  }
}

/** A polygon's exact gap takes long; most boards lie far inside it. */
function isWithinEdge(face: Lamp['face'], shape: Shape, box: Box, marginMm: number): boolean {
  if (face.shape === 'polygon') {
    const [x, y] = [(box.fromX + box.toX) / 2, (box.fromY + box.toY) / 2]
    const corners = face.corners ?? []
    const reach = Math.hypot(box.toX - x, box.toY - y)
    if (isInPolygon(corners, x, y) && distanceToEdges(corners, x, y) - reach >= marginMm) return true
  }
  return edgeGap(face, shape).gapMm >= marginMm
}

export const isDisc = (shape: Shape): boolean => shape.core.length === 1
