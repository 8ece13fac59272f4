// The ring that holds the lens, or without one the first cover or film: a lip as high as the workshop's ring, that it lies on, as in the
// drawings; a seat about its edge; and a second lip over it, as thick as a printed wall, so that the lens can't fall out. It follows the
// piece, round or square-cornered, in the piece's own frame.
import { mappedElement, pieceHalves, type RowElement } from '../lamp/assembly.ts'
import { bodyPlanes, conicSag } from '../lamp/body.ts'
import type { Lamp } from '../lamp/schema.ts'
import { ringScrews } from '../layout/ringScrews.ts'
import { workshopOf } from '../library/typicalWorkshop.ts'
import { mm } from './bed.ts'
import { elementPlace, FILM_MM, pieceOutline } from './elementBodies.ts'
import { cut, cutRegion, disc, joinedRegion, outlines, type Place, prism, type Region, type Solid } from './shape.ts'

export interface LensRing {
  round: boolean
  /** Half sizes of the lens, mm: a round one's radius, both. */
  xMm: number
  yMm: number
  widthMm: number
  lipMm: number
  /** Planes of its layers along the lens's own z: from one to the next each is printed by itself. */
  planesMm: readonly number[]
  screws: readonly { xMm: number; yMm: number; diameterMm: number }[]
  /** In the lens's own frame, and where that stands. */
  solid: Solid
  place: Place
}

export type MadeRing = { ok: true; ring: LensRing } | { ok: false; why: string; needed: boolean }

/** The edge of the lens where the ring covers it, in the lens's own frame, mm. */
function edgeSpan(piece: RowElement, lipMm: number): [number, number] {
  if (piece.kind === 'diffuser') return [0, FILM_MM]
  if (piece.kind !== 'solid') return bodyPlanes(piece)
  const { round, xMm, yMm } = pieceHalves(piece)
  const [cx, cy] = [Math.abs(piece.centreXMm ?? 0), Math.abs(piece.centreYMm ?? 0)]
  // The place under the lip that is nearest to the optical axis: the edge is thickest there.
  const near = round ? xMm - lipMm - Math.hypot(cx, cy) : Math.min(xMm - lipMm - cx, yMm - lipMm - cy)
  const sag = conicSag(Math.max(0, near), piece.radiusMm, piece.conic)
  const edge = Math.max(FILM_MM, piece.thicknessMm - (Number.isFinite(sag) ? sag : piece.thicknessMm))
  return piece.curved === 'target' ? [0, edge] : [-edge, 0]
}

export function lensRingOf(lamp: Lamp): MadeRing {
  const piece = mappedElement(lamp)
  if (!piece)
    return { ok: false, needed: false, why: 'The lamp has neither a lens nor a cover that a ring could hold.' }
  if (piece.kind === 'ideal')
    return { ok: false, needed: false, why: 'An ideal lens has no body that a ring could hold.' }
  const { lensRing, printer } = workshopOf(lamp)
  const { widthMm, heightMm, lipMm, screwMm } = lensRing
  const { wallMm, clearanceMm } = printer
  const { round, xMm, yMm } = pieceHalves(piece)
  const holeMm = screwMm + 2 * clearanceMm
  const why = ringRefusal({ heightMm, widthMm, lipMm, holeMm, wallMm, clearanceMm, halfMm: Math.min(xMm, yMm) })
  if (why !== null) return { ok: false, needed: true, why }
  const [edgeFrom, edgeTo] = edgeSpan(piece, lipMm)
  const seatTo = edgeTo + clearanceMm
  const [from, to] = [edgeFrom - heightMm, seatTo + wallMm]
  // A seat thinner than a wall is a recess in the second lip.
  const planesMm = seatTo - edgeFrom < wallMm ? [from, edgeFrom, to] : [from, edgeFrom, seatTo, to]
  const places = ringScrews(round, [xMm + widthMm / 2, yMm + widthMm / 2], lensRing.screws)
  const screws = places.map(([x, y]) => ({ xMm: x, yMm: y, diameterMm: holeMm }))
  const ring: Region = cutRegion(
    outlines(pieceOutline(piece, widthMm)),
    outlines(pieceOutline(piece, -lipMm)),
    joinedRegion(screws.map((s) => disc(s.diameterMm, s.xMm, s.yMm))),
  )
  const seat = prism(outlines(pieceOutline(piece, clearanceMm)), edgeFrom, seatTo)
  const solid = cut(prism(ring, from, to), seat)
  return { ok: true, ring: { round, xMm, yMm, widthMm, lipMm, planesMm, screws, solid, place: elementPlace(piece) } }
}

interface RingSizes {
  heightMm: number
  widthMm: number
  lipMm: number
  holeMm: number
  wallMm: number
  clearanceMm: number
  halfMm: number
}

function ringRefusal({ heightMm, widthMm, lipMm, holeMm, wallMm, clearanceMm, halfMm }: RingSizes): string | null {
  if (lipMm >= halfMm) return `A lip of ${mm(lipMm)} covers the whole lens.`
  if (heightMm < wallMm) return `A ring ${mm(heightMm)} high is thinner than the least wall of ${mm(wallMm)}.`
  // In the seat's layer, the hole lies between the seat and the ring's edge.
  const leastMm = holeMm + 2 * (wallMm + clearanceMm)
  if (widthMm < leastMm)
    return `A ring ${mm(widthMm)} wide has no walls of ${mm(wallMm)} beside screw holes of ${mm(holeMm)}. Make it ${mm(leastMm)} wide.`
  return null
}
