// The face, the boards on it and its keep-outs as flat shapes in the lamp's frame.
import { type FaceSize, faceHeightMm } from '../lamp/facePlate.ts'
import { boardTypeOf, lampFromBoard } from '../lamp/place.ts'
import type { Board, BoardType, KeepOut, Lamp } from '../lamp/schema.ts'
import { signedArea } from '../num/polygon.ts'
import { convexParts } from './convexParts.ts'
import { polygonEdgeGap } from './polygonEdge.ts'
import { type Gap, mapShape, type Point, type Shape, support } from './shape.ts'

export type Outline = BoardType['outline']
type Pose = Pick<Board, 'xMm' | 'yMm' | 'turnDeg' | 'wedge'>

/** A regular polygon by its size across flats, first flat facing +x. */
export function flatsPolygon(sides: number, acrossMm: number): Point[] {
  const corner = acrossMm / 2 / Math.cos(Math.PI / sides)
  return Array.from({ length: sides }, (_, i) => {
    const at = ((2 * i + 1) * Math.PI) / sides
    return [corner * Math.cos(at), corner * Math.sin(at)] as const
  })
}

const rectangle = (widthMm: number, heightMm: number): Point[] => [
  [widthMm / 2, -heightMm / 2],
  [widthMm / 2, heightMm / 2],
  [-widthMm / 2, heightMm / 2],
  [-widthMm / 2, -heightMm / 2],
]

/** The outline in its board's own frame, for clearances. A star counts as its full disc: nothing belongs in its notches but a screw. */
export function outlineShape(outline: Outline): Shape {
  switch (outline.shape) {
    case 'rectangle':
      return { core: rectangle(outline.widthMm, outline.heightMm), radiusMm: 0 }
    case 'hexagon':
      return { core: flatsPolygon(6, outline.acrossMm), radiusMm: 0 }
    case 'disc':
      return { core: [[0, 0]], radiusMm: outline.diameterMm / 2 }
    case 'star':
      return { core: [[0, 0]], radiusMm: outline.acrossMm / 2 }
    case 'polygon':
      return polygonShape(outline.corners)
  }
}

const polygonShapes = new WeakMap<readonly Point[], Shape>()

/** Memoized: a fill asks for the same outline thousands of times. */
function polygonShape(corners: readonly Point[]): Shape {
  const known = polygonShapes.get(corners)
  if (known) return known
  const core = signedArea(corners) < 0 ? corners.toReversed() : corners
  const parts = convexParts(core)
  const shape: Shape = parts.length === 1 ? { core: parts[0]!, radiusMm: 0 } : { core, radiusMm: 0, parts }
  polygonShapes.set(corners, shape)
  return shape
}

export const placeShape = (local: Shape, pose: Pose): Shape => mapShape(local, (x, y) => lampFromBoard(pose, x, y))

/** A board's outline in the lamp's frame, for clearances; of a tilted one as it is seen from the front. */
export function boardOutline(lamp: Lamp, board: Board): Shape {
  const local = outlineShape(boardTypeOf(lamp, board).outline)
  return board.wedge?.tiltDeg ? tiltedOutline(local, board) : placeShape(local, board)
}

/** Boards whose outlines seen from the front don't meet don't meet in space. A disc becomes a polygon about it. */
function tiltedOutline({ core, radiusMm }: Shape, board: Board): Shape {
  const rim = radiusMm > 0 ? flatsPolygon(DISC_SIDES, 2 * radiusMm) : [[0, 0] as const]
  const points = core.flatMap(([x, y]) => rim.map(([dx, dy]) => [x + dx, y + dy] as const))
  return {
    core: points.map(([x, y]) => lampFromBoard(board, x, y)),
    radiusMm: 0,
  }
}
const DISC_SIDES = 72

/** A slot has round ends and its length includes them. */
export function keepOutShape(k: KeepOut): Shape {
  if (k.shape === 'hole') return { core: [[k.xMm, k.yMm]], radiusMm: k.diameterMm / 2 }
  const radiusMm = Math.min(k.lengthMm, k.widthMm) / 2
  const half = Math.abs(k.lengthMm - k.widthMm) / 2
  if (half === 0) return { core: [[k.xMm, k.yMm]], radiusMm }
  // A slot wider than long runs across.
  const end: Point = k.lengthMm > k.widthMm ? [half, 0] : [0, half]
  return { core: [lampFromBoard(k, ...end), lampFromBoard(k, -end[0], -end[1])], radiusMm }
}

/** Room from the shape to the face's edge, exact; below zero it overhangs. The point is the shape's own, nearest to the edge. */
export function edgeGap(face: FaceSize, shape: Shape): Gap {
  const half = face.sizeMm / 2
  if (face.shape === 'polygon') return polygonEdgeGap(face.corners ?? [], shape)
  if (face.shape === 'round') {
    let far: Point = [0, 0]
    for (const p of shape.core) if (Math.hypot(p[0], p[1]) >= Math.hypot(far[0], far[1])) far = p
    const r = Math.hypot(far[0], far[1])
    const grown = r > 0 ? 1 + shape.radiusMm / r : 1
    return { gapMm: half - r - shape.radiusMm, xMm: far[0] * grown, yMm: far[1] * grown }
  }
  const sides = face.shape === 'hexagon' ? 6 : 4
  const upright = faceHeightMm(face) / 2
  const worst = { gapMm: Infinity, xMm: 0, yMm: 0 }
  for (let i = 0; i < sides; i++) {
    const at = (2 * Math.PI * i) / sides
    const [nx, ny] = [Math.cos(at), Math.sin(at)]
    const gapMm = (face.shape === 'rectangle' && i % 2 === 1 ? upright : half) - support(shape, nx, ny)
    if (gapMm >= worst.gapMm) continue
    const far = shape.core.reduce((a, b) => (b[0] * nx + b[1] * ny > a[0] * nx + a[1] * ny ? b : a))
    Object.assign(worst, { gapMm, xMm: far[0] + nx * shape.radiusMm, yMm: far[1] + ny * shape.radiusMm })
  }
  return worst
}

export const isInsideFace = (face: FaceSize, xMm: number, yMm: number, insetMm = 0): boolean =>
  edgeGap(face, { core: [[xMm, yMm]], radiusMm: 0 }).gapMm >= insetMm

/** Area in mm². A star's notches are round bites of diameter `notchMm` about points of its edge. */
export function outlineArea(outline: Outline): number {
  switch (outline.shape) {
    case 'rectangle':
      return outline.widthMm * outline.heightMm
    case 'hexagon':
      return (Math.sqrt(3) / 2) * outline.acrossMm ** 2
    case 'disc':
      return (Math.PI / 4) * outline.diameterMm ** 2
    case 'star': {
      const r = outline.acrossMm / 2
      const bites = outline.points * lensArea(r, biteRadius(outline))
      return Math.PI * r * r - bites
    }
    case 'polygon':
      return Math.abs(signedArea(outline.corners))
  }
}

/** Of a star's notch; no notch is so wide that it runs into the next. */
export const biteRadius = ({ acrossMm, points, notchMm }: Extract<Outline, { shape: 'star' }>) =>
  Math.min(notchMm / 2, (acrossMm / 2) * Math.sin(Math.PI / points))

/** What two circles share, one centred on the other's edge: r ≤ R. (Two circular segments.) */
function lensArea(R: number, r: number): number {
  const atNotch = Math.acos(r / (2 * R))
  const atDisc = Math.acos(1 - (r * r) / (2 * R * R))
  const kite = R * r * Math.sin(atNotch)
  return r * r * atNotch + R * R * atDisc - kite
}

/** Points round an outline in its board's frame, anticlockwise, for drawings and cutting; curves in steps of at most `stepDeg`. */
export function outlinePath(outline: Outline, stepDeg = 5): Point[] {
  if (outline.shape === 'rectangle' || outline.shape === 'hexagon' || outline.shape === 'polygon')
    return [...outlineShape(outline).core]
  if (outline.shape === 'disc') return arc(0, 0, outline.diameterMm / 2, 0, 360, stepDeg).slice(0, -1)
  const r = outline.acrossMm / 2
  const bite = biteRadius(outline)
  if (bite === 0) return arc(0, 0, r, 0, 360, stepDeg).slice(0, -1)
  const deg = (rad: number) => (rad * 180) / Math.PI
  // Half of what a notch takes of the edge, seen from the disc's centre; and the corner's angle seen from the notch's.
  const taken = deg(2 * Math.asin(bite / (2 * r)))
  const corner = deg(Math.acos(bite / (2 * r)))
  const each = 360 / outline.points
  return Array.from({ length: outline.points }, (_, i) => {
    const notchAt = (i + 0.5) * each
    const turn = (notchAt * Math.PI) / 180
    return [
      ...arc(0, 0, r, notchAt - each + taken, notchAt - taken, stepDeg),
      ...arc(
        r * Math.cos(turn),
        r * Math.sin(turn),
        bite,
        notchAt + 180 + corner,
        notchAt + 180 - corner,
        stepDeg,
      ).slice(1, -1),
    ]
  }).flat()
}

function arc(x: number, y: number, radius: number, fromDeg: number, toDeg: number, stepDeg: number): Point[] {
  const n = Math.max(1, Math.ceil(Math.abs(toDeg - fromDeg) / stepDeg))
  return Array.from({ length: n + 1 }, (_, i) => {
    const at = ((fromDeg + ((toDeg - fromDeg) * i) / n) * Math.PI) / 180
    return [x + radius * Math.cos(at), y + radius * Math.sin(at)] as const
  })
}
