// The face plate with its holes, and what stands on its back.
import { faceBox, faceCorners, isOnFace } from '../lamp/facePlate.ts'
import { boardTypeOf, lampFromBoard } from '../lamp/place.ts'
import type { Board, KeepOut, Lamp, Sink } from '../lamp/schema.ts'
import { coolingOf } from '../library/typicalPower.ts'
import { workshopOf } from '../library/typicalWorkshop.ts'
import {
  box,
  circle,
  cutRegion,
  disc,
  joinedRegion,
  movedRegion,
  outlines,
  prism,
  type Region,
  rectangle,
  type Solid,
  shared,
} from './shape.ts'

/** The face, without its holes. */
export const faceRegion = ({ face }: Lamp): Region => outlines(faceCorners(face) ?? circle(face.sizeMm / 2))

/** Whether a board's screws go square into the face: one on a wedge has screws of its own. */
const isUpright = ({ wedge }: Board): boolean => !wedge?.tiltDeg

/** Screw holes that boards want in the face, as wide as the workshop's screw, no wider than the board's own hole. */
function boardHoles(lamp: Lamp): { xMm: number; yMm: number; diameterMm: number }[] {
  const { boardScrewMm } = workshopOf(lamp)
  return lamp.boards.filter(isUpright).flatMap((board) =>
    (boardTypeOf(lamp, board).holes ?? []).map((hole) => {
      const [xMm, yMm] = lampFromBoard(board, hole.xMm, hole.yMm)
      return { xMm, yMm, diameterMm: Math.min(hole.diameterMm, boardScrewMm) }
    }),
  )
}

/** A slot has round ends, and its length includes them. */
function keepOutRegion(k: KeepOut): Region {
  if (k.shape === 'hole') return disc(k.diameterMm, k.xMm, k.yMm)
  const radiusMm = Math.min(k.lengthMm, k.widthMm) / 2
  const half = Math.abs(k.lengthMm - k.widthMm) / 2
  const [x, y] = k.lengthMm > k.widthMm ? [half, 0] : [0, half]
  const straight =
    half > 0
      ? [outlines(rectangle(k.lengthMm - 2 * radiusMm * Math.sign(x), k.widthMm - 2 * radiusMm * Math.sign(y)))]
      : []
  const slot = joinedRegion([...straight, disc(2 * radiusMm, x, y), disc(2 * radiusMm, -x, -y)])
  return movedRegion(slot, k.xMm, k.yMm, k.turnDeg)
}

/** From z = −thickness to the face at z = 0. */
export function facePlateSolid(lamp: Lamp): Solid {
  const { thicknessMm } = coolingOf(lamp).value.plate
  const holes = [
    ...lamp.face.keepOuts.map(keepOutRegion),
    ...boardHoles(lamp).map(({ xMm, yMm, diameterMm }) => disc(diameterMm, xMm, yMm)),
  ]
  const region = holes.length > 0 ? cutRegion(faceRegion(lamp), joinedRegion(holes)) : faceRegion(lamp)
  return prism(region, -thicknessMm, 0)
}

/** No more pins than this are shown: they cost triangles, and stand too close to be told apart. */
const MOST_PINS = 1500

/** Fins or pins behind the plate; null without, or where they are known by a data sheet alone. */
export function sinkSolid(lamp: Lamp): Solid | null {
  const { plate, sink } = coolingOf(lamp).value
  if (sink.kind === 'fins') return finsSolid(lamp, sink, -plate.thicknessMm)
  if (sink.kind === 'pins') return pinsSolid(lamp, sink, -plate.thicknessMm)
  return null
}

/** Upright, side by side about the middle of the face; where their length isn't known, as long as the face is there. */
function finsSolid(lamp: Lamp, sink: Extract<Sink, { kind: 'fins' }>, backMm: number): Solid | null {
  const { fromX, toX, fromY, toY } = faceBox(lamp.face)
  const [midX, midY] = [(fromX + toX) / 2, (fromY + toY) / 2]
  const half = (sink.lengthMm ?? 2 * (toY - fromY)) / 2
  const pitch = sink.thicknessMm + sink.spacingMm
  const bars = Array.from({ length: sink.count }, (_, i) => {
    const x = midX + (i - (sink.count - 1) / 2) * pitch - sink.thicknessMm / 2
    return outlines(box(x, midY - half, x + sink.thicknessMm, midY + half))
  })
  const all = prism(joinedRegion(bars), backMm - sink.heightMm, backMm)
  return sink.lengthMm === undefined ? shared(all, prism(faceRegion(lamp), backMm - sink.heightMm, backMm)) : all
}

/** On a square lattice, the places nearest to the middle of the face first. */
function pinsSolid(lamp: Lamp, sink: Extract<Sink, { kind: 'pins' }>, backMm: number): Solid | null {
  const { fromX, toX, fromY, toY } = faceBox(lamp.face)
  const [midX, midY] = [(fromX + toX) / 2, (fromY + toY) / 2]
  const pitch = sink.diameterMm + sink.spacingMm
  const [nx, ny] = [Math.floor((toX - midX) / pitch), Math.floor((toY - midY) / pitch)]
  const places: { x: number; y: number; far: number }[] = []
  for (let i = -nx; i <= nx; i++)
    for (let j = -ny; j <= ny; j++) {
      const [x, y] = [midX + i * pitch, midY + j * pitch]
      if (isOnFace(lamp.face, x, y)) places.push({ x, y, far: Math.hypot(x - midX, y - midY) })
    }
  places.sort((a, b) => a.far - b.far)
  const some = places.slice(0, Math.min(sink.count, MOST_PINS))
  if (some.length === 0) return null
  const pins = some.map(({ x, y }) => outlines(circle(sink.diameterMm / 2, x, y, 8)))
  return prism(joinedRegion(pins), backMm - sink.heightMm, backMm)
}
