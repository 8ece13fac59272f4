// Face plate, boards, emitters and tunnel as the section draws them: points (z, r) in mm of the lamp's frame.
import { stretchesOf } from '../../lamp/assembly.ts'
import {
  boardRotation,
  boardTypeOf,
  type EmitterPlace,
  liesFlat,
  placeEmitters,
  spaceFromBoard,
} from '../../lamp/place.ts'
import type { Board, BoardType, Lamp, Tunnel } from '../../lamp/schema.ts'
import { outlinePath } from '../../layout/outline.ts'
import { turnVector } from '../../num/rotation.ts'
import type { Point } from './lensProfile.ts'
import { type Along, sizesOf } from './stretchEdits.ts'

/** The plane of the section through the axis: upright (r is y) or level (r is x). */
export type Cut = 'upright' | 'level'

/** Indices in x, y, z of the drawing's r and of the direction normal to the plane. */
export const axesOf = (cut: Cut): { r: 0 | 1; off: 0 | 1 } => (cut === 'upright' ? { r: 1, off: 0 } : { r: 0, off: 1 })

export interface BoardCut {
  fromMm: number
  toMm: number
  thickMm: number
  /** True when the plane intersects it; otherwise it lies behind or in front of the plane. */
  cut: boolean
  /** Of a board that doesn't lie on the face: its plate where the plane cuts it, or all of it as it is seen. */
  outline?: Point[]
}
export interface EmitterCut {
  place: EmitterPlace
  atMm: number
  cut: boolean
  /** Outline of package and optic. */
  outline: Point[]
  /** The emitting surface's ends. */
  die: [Point, Point]
}

const radians = (deg: number) => (deg * Math.PI) / 180

/** Half extents of a board along x and y once turned. */
function boardHalf(type: BoardType, board: Pick<Board, 'turnDeg'>): [number, number] {
  const o = type.outline
  if (o.shape === 'rectangle') {
    const c = Math.abs(Math.cos(radians(board.turnDeg)))
    const s = Math.abs(Math.sin(radians(board.turnDeg)))
    return [(c * o.widthMm + s * o.heightMm) / 2, (s * o.widthMm + c * o.heightMm) / 2]
  }
  const half = (o.shape === 'disc' ? o.diameterMm : o.acrossMm) / 2
  return [half, half]
}

export function cutBoards(lamp: Lamp, cut: Cut): BoardCut[] {
  const { r, off } = axesOf(cut)
  return lamp.boards.map((board) => {
    const type = boardTypeOf(lamp, board)
    if (!liesFlat(board)) return cutTilted(lamp, type, board, cut)
    const half = boardHalf(type, board)
    const at: [number, number] = [board.xMm, board.yMm]
    const away = Math.abs(at[off])
    const inPlane = away < half[off]
    // A round board is drawn along its chord; others over their whole extent.
    const reach =
      inPlane && type.outline.shape !== 'rectangle' ? Math.sqrt(Math.max(0, half[r] ** 2 - away ** 2)) : half[r]
    return { fromMm: at[r] - reach, toMm: at[r] + reach, thickMm: thickOf(lamp, type), cut: inPlane }
  })
}

const thickOf = (lamp: Lamp, type: BoardType): number => {
  const emitterMm = lamp.emitterTypes.find((e) => e.id === type.emitter)?.heightMm ?? 1.6
  return Math.max(0.4, Math.min(1.6, 0.6 * emitterMm))
}

/** A board on a spacer or a wedge: where the plane of the drawing cuts its plate, else its plate as it is seen from the side. */
function cutTilted(lamp: Lamp, type: BoardType, board: Board, cut: Cut): BoardCut {
  const { r, off } = axesOf(cut)
  const thickMm = thickOf(lamp, type)
  const low = outlinePath(type.outline).map(([x, y]) => spaceFromBoard(board, [x, y, 0]))
  const crossings: Point[] = []
  for (const [i, p] of low.entries()) {
    const q = low[(i + 1) % low.length] ?? p
    if (p[off] < 0 === q[off] < 0) continue
    const t = p[off] / (p[off] - q[off])
    crossings.push([p[2] + t * (q[2] - p[2]), p[r] + t * (q[r] - p[r])])
  }
  const seen = crossings.length > 0 ? crossings : low.map((p): Point => [p[2], p[r]])
  const ends = [...seen].sort((a, b) => a[1] - b[1] || a[0] - b[0])
  const from: Point = ends[0] ?? [0, 0]
  const to: Point = ends[ends.length - 1] ?? from
  const up = turnVector(boardRotation(board), [0, 0, thickMm])
  const lifted = ([z, at]: Point): Point => [z + up[2], at + up[r]]
  const outline = crossings.length > 0 ? [from, to, lifted(to), lifted(from)] : seen
  return { fromMm: from[1], toMm: to[1], thickMm, cut: crossings.length > 0, outline }
}

/** Emitters that coincide in the drawing are merged into one. */
export function cutEmitters(lamp: Lamp, cut: Cut): EmitterCut[] {
  const { r, off } = axesOf(cut)
  const seen = new Map<string, EmitterCut>()
  for (const place of placeEmitters(lamp)) {
    const at: [number, number] = [place.xMm, place.yMm]
    const inPlane = Math.abs(at[off]) <= opticWidth(place) / 2
    const tilt = place.plain ? '' : [place.baseZMm, ...place.rotation].map((v) => v.toFixed(3)).join()
    const key = `${inPlane} ${Math.round(100 * at[r])} ${place.optic.id} ${place.emitter.id} ${tilt}`
    if (seen.has(key)) continue
    const half = dieHalf(place.emitter.source)
    const h = place.emitter.heightMm
    const ends: Point[] = [
      [h, at[r] - half],
      [h, at[r] + half],
    ]
    const stand = (points: Point[]) => (place.plain ? points : points.map((p) => tiltedPoint(place, cut, p)))
    const [low, high] = stand(ends)
    if (!low || !high) continue
    seen.set(key, {
      ...{ place, atMm: at[r], cut: inPlane },
      outline: stand(emitterOutline(place, at[r])),
      die: [low, high],
    })
  }
  return [...seen.values()]
}

const dieHalf = (source: { shape: 'rectangle'; heightMm: number } | { shape: 'disc'; diameterMm: number }) =>
  (source.shape === 'disc' ? source.diameterMm : source.heightMm) / 2

/** A point drawn as if its emitter stood upright on the face, where the emitter really stands, as seen from the side. */
function tiltedPoint(place: EmitterPlace, cut: Cut, [z, at]: Point): Point {
  const { r } = axesOf(cut)
  const foot = r === 1 ? place.yMm : place.xMm
  const axis = [place.rotation[8], place.rotation[r === 1 ? 5 : 2]] as const
  const length = Math.hypot(...axis) || 1
  const across = at - foot
  return [place.baseZMm + z * axis[0] - (across * axis[1]) / length, foot + z * axis[1] + (across * axis[0]) / length]
}

const opticWidth = ({ optic, emitter }: EmitterPlace) =>
  optic.kind === 'bare' ? emitter.bodyMm : Math.max(emitter.bodyMm, optic.exitDiameterMm)

function emitterOutline(place: EmitterPlace, at: number): Point[] {
  const { emitter, optic } = place
  const body = emitter.bodyMm / 2
  const top = emitter.heightMm
  if (optic.kind === 'bare')
    return mirrored(
      [
        [0, body],
        [Math.max(top, 0.3), body],
      ],
      at,
    )
  if (optic.kind === 'collimator') {
    const exit = optic.exitDiameterMm / 2
    const low = Math.min(top, optic.heightMm)
    return mirrored(
      [
        [low, Math.min(body, exit)],
        [optic.heightMm, exit],
      ],
      at,
    )
  }
  // Paraboloid of revolution r² = 4 f (z − vertex), the emitter at its focus.
  const vertex = top - optic.focalMm
  const exit = optic.exitDiameterMm / 2
  const side: Point[] = []
  for (let i = 0; i <= 12; i++) {
    const radius = (exit * i) / 12
    side.push([Math.max(0, vertex + radius ** 2 / (4 * optic.focalMm)), radius])
  }
  return mirrored(side, at)
}

const mirrored = (side: Point[], at: number): Point[] => [
  ...side.map(([z, r]): Point => [z, at + r]),
  ...side.toReversed().map(([z, r]): Point => [z, at - r]),
]

/** Half width of the face plate in the plane of the cut. A square's and a hexagon's first flat faces +x. */
export function faceHalf(face: Lamp['face'], cut: Cut): number {
  if (face.shape === 'hexagon' && cut === 'upright') return face.sizeMm / Math.sqrt(3)
  return face.sizeMm / 2
}

/** Half width of the tunnel in the plane of the cut: across flats over 2, or more where the plane meets a corner. */
export function tunnelHalf(tunnel: Tunnel, sizeMm: number, cut: Cut, side: 1 | -1 = 1): number {
  if (tunnel.sides === 0) return sizeMm / 2
  const angle = cut === 'upright' ? (side * Math.PI) / 2 : side === 1 ? 0 : Math.PI
  const step = (2 * Math.PI) / tunnel.sides
  const from = angle - step * Math.round(angle / step)
  return sizeMm / 2 / Math.cos(from)
}

/** The direction across the axis that a section shows. */
export const alongOf = (cut: Cut): Along => (cut === 'upright' ? 'y' : 'x')

/** The wall in section from the inlet to the outlet on one side of the axis; where there is a step, two points at one z. */
export function wallLine(tunnel: Tunnel, cut: Cut, side: 1 | -1): Point[] {
  const points = stretchesOf(tunnel).flatMap((s): Point[] => {
    const { inMm, outMm } = sizesOf(s, alongOf(cut))
    const half = (mm: number) => side * tunnelHalf(tunnel, mm, cut, side)
    return [
      [s.zInMm, half(inMm)],
      [s.zOutMm, half(outMm)],
    ]
  })
  return points.filter(([z, r], i) => i === 0 || z !== points[i - 1]![0] || r !== points[i - 1]![1])
}
