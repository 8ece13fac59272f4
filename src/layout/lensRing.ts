// The ring that a lens, cover or film lies on, and the stand-offs between it and the face: the one place of their sizes. Drawings, solids and
// the parts list read them here.
import { pieceHalves, type RowElement } from '../lamp/assembly.ts'
import { bodyPlanes, conicSag, fromFrame, rotationOf } from '../lamp/body.ts'
import type { Workshop } from '../lamp/schema.ts'
import { ringScrews } from './ringScrews.ts'
import type { Point } from './shape.ts'

type LensRing = NonNullable<Workshop['lensRing']>
type Printer = NonNullable<Workshop['printer']>

/** Of a film, and of an edge that comes to a point: taken so thick, mm. */
export const FILM_MM = 0.2

/** All in the piece's own frame, mm. */
export interface RingSizes {
  element: RowElement
  round: boolean
  /** Half sizes, of a round one its radius in both: of the piece, of the opening under it, of the ring's edge. */
  lens: Point
  inner: Point
  outer: Point
  screws: Point[]
  /** The piece's edge where the ring covers it: the ring's upper side, and the side towards the target. */
  edge: [number, number]
  /** The ring's lower side. */
  underMm: number
}

export type RingFault = { of: 'ideal' } | { of: 'lip' } | { of: 'screw' } | { of: 'overlap'; apartMm: number }

/** Why such a ring can't be; null: it can. */
export function ringFault({ element, lens, screws }: RingSizes, ring: LensRing): RingFault | null {
  if (element.kind === 'ideal') return { of: 'ideal' }
  if (Math.min(...lens) <= ring.lipMm) return { of: 'lip' }
  if (ring.screwMm >= ring.widthMm) return { of: 'screw' }
  const apartMm = leastGap(screws)
  return apartMm <= ring.screwMm ? { of: 'overlap', apartMm } : null
}

export function ringSizes(element: RowElement, { widthMm, lipMm, heightMm, screws }: LensRing): RingSizes {
  const { round, xMm, yMm } = pieceHalves(element)
  const grown = (by: number): Point => [xMm + by, yMm + by]
  const edge = edgeSpan(element, lipMm)
  return {
    ...{ element, round, lens: [xMm, yMm], inner: grown(-lipMm), outer: grown(widthMm) },
    ...{ screws: ringScrews(round, grown(widthMm / 2), screws), edge, underMm: edge[0] - heightMm },
  }
}

/** A curved lens lies on the lip's inner edge: there its edge is thickest. */
function edgeSpan(piece: RowElement, lipMm: number): [number, number] {
  if (piece.kind === 'diffuser') return [0, FILM_MM]
  if (piece.kind !== 'solid') return bodyPlanes(piece)
  const { round, xMm, yMm } = pieceHalves(piece)
  const [cx, cy] = [Math.abs(piece.centreXMm ?? 0), Math.abs(piece.centreYMm ?? 0)]
  // The place under the lip that is nearest to the optical axis.
  const near = round ? xMm - lipMm - Math.hypot(cx, cy) : Math.min(xMm - lipMm - cx, yMm - lipMm - cy)
  const sag = conicSag(Math.max(0, near), piece.radiusMm, piece.conic)
  const edge = Math.max(FILM_MM, piece.thicknessMm - (Number.isFinite(sag) ? sag : piece.thicknessMm))
  return piece.curved === 'target' ? [0, edge] : [-edge, 0]
}

function leastGap(points: readonly Point[]): number {
  let least = Infinity
  for (const [i, [x, y]] of points.entries())
    for (const [u, v] of points.slice(i + 1)) least = Math.min(least, Math.hypot(u - x, v - y))
  return least
}

export interface StandOff {
  xMm: number
  yMm: number
  /** From the face to the ring's lower side, along the lamp's axis at the screw's middle; 0 or less: there is no room. */
  lengthMm: number
}

/** One at each screw of the ring, in the lamp's frame. */
export function standOffsOf({ element, screws, underMm }: RingSizes): StandOff[] {
  const [, , , , , , , , upright] = rotationOf(element)
  return screws.map(([x, y]) => {
    const [xMm, yMm, zMm] = fromFrame(element, [x, y, underMm])
    return { xMm, yMm, lengthMm: upright > 0 ? zMm : 0 }
  })
}

/** The printed ring: on the lip a seat about the piece's edge with room to it, and over it a second lip as thick as a printed wall. */
export interface PrintedRing {
  /** From its lower side to its upper, along the piece's z. */
  fromMm: number
  toMm: number
  /** The seat's end; it begins at the lip's upper side. */
  seatToMm: number
  /** Of the screw holes. */
  holeMm: number
  /** Filled, as it leaves the printer, mm³. */
  volumeMm3: number
}

export function printedRing(sizes: RingSizes, { screwMm }: LensRing, { wallMm, clearanceMm }: Printer): PrintedRing {
  const { round, lens, inner, outer, screws, edge, underMm } = sizes
  const area = ([x, y]: Point, by = 0): number => {
    const [a, b] = [Math.max(0, x + by), Math.max(0, y + by)]
    return round ? Math.PI * a * a : 4 * a * b
  }
  const seatToMm = edge[1] + clearanceMm
  const toMm = seatToMm + wallMm
  const holeMm = screwMm + 2 * clearanceMm
  const across = area(outer) - area(inner) - (screws.length * Math.PI * holeMm ** 2) / 4
  const seat = (area(lens, clearanceMm) - area(inner)) * (seatToMm - edge[0])
  return { fromMm: underMm, toMm, seatToMm, holeMm, volumeMm3: across * (toMm - underMm) - seat }
}
