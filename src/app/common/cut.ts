// Face plate, boards, emitters and tunnel as the section draws them: points (z, r) in mm of the lamp's frame.
import { stretchesOf } from '../../lamp/assembly.ts'
import { boardTypeOf, type EmitterPlace, placeEmitters } from '../../lamp/place.ts'
import type { Board, BoardType, Lamp, Tunnel } from '../../lamp/schema.ts'
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
}
export interface EmitterCut {
  place: EmitterPlace
  atMm: number
  cut: boolean
  /** Outline of package and optic. */
  outline: Point[]
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
    const half = boardHalf(type, board)
    const at: [number, number] = [board.xMm, board.yMm]
    const away = Math.abs(at[off])
    const inPlane = away < half[off]
    // A round board is drawn along its chord; others over their whole extent.
    const reach =
      inPlane && type.outline.shape !== 'rectangle' ? Math.sqrt(Math.max(0, half[r] ** 2 - away ** 2)) : half[r]
    const emitterMm = lamp.emitterTypes.find((e) => e.id === type.emitter)?.heightMm ?? 1.6
    return {
      fromMm: at[r] - reach,
      toMm: at[r] + reach,
      thickMm: Math.max(0.4, Math.min(1.6, 0.6 * emitterMm)),
      cut: inPlane,
    }
  })
}

/** Emitters that coincide in the drawing are merged into one. */
export function cutEmitters(lamp: Lamp, cut: Cut): EmitterCut[] {
  const { r, off } = axesOf(cut)
  const seen = new Map<string, EmitterCut>()
  for (const place of placeEmitters(lamp)) {
    const at: [number, number] = [place.xMm, place.yMm]
    const inPlane = Math.abs(at[off]) <= opticWidth(place) / 2
    const key = `${inPlane} ${Math.round(100 * at[r])} ${place.optic.id} ${place.emitter.id}`
    if (seen.has(key)) continue
    seen.set(key, { place, atMm: at[r], cut: inPlane, outline: emitterOutline(place, at[r]) })
  }
  return [...seen.values()]
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
