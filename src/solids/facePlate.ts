// The face plate with its holes, and what stands on its back.
import { faceBox, faceCorners, isOnFace } from '../lamp/facePlate.ts'
import type { Lamp, Sink } from '../lamp/schema.ts'
import { type FaceHole, faceHolesOf } from '../layout/faceHoles.ts'
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

function holeRegion({ xMm, yMm, diameterMm, slot }: FaceHole): Region {
  if (!slot || slot.lengthMm === diameterMm) return disc(diameterMm, xMm, yMm)
  const long = slot.lengthMm - diameterMm
  const ends = [long / 2, -long / 2].map((x) => disc(diameterMm, x, 0))
  return movedRegion(joinedRegion([outlines(rectangle(long, diameterMm)), ...ends]), xMm, yMm, slot.turnDeg)
}

/** From z = −thickness to the face at z = 0. */
export function facePlateSolid(lamp: Lamp): Solid {
  const { thicknessMm } = coolingOf(lamp).value.plate
  const { holes } = faceHolesOf(lamp, workshopOf(lamp).lensRing)
  const region = holes.length > 0 ? cutRegion(faceRegion(lamp), joinedRegion(holes.map(holeRegion))) : faceRegion(lamp)
  return prism(region, -thicknessMm, 0)
}

/** No more pins than this are shown: they cost triangles, and stand too close to be distinguished. */
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
