// The ring that holds the lens, or without one the first cover or film: a lip as high as the workshop's ring, that it lies on, as in the
// drawings; a seat about its edge; and a second lip over it, as thick as a printed wall, so that the lens can't fall out. It follows the
// piece, round or square-cornered, in the piece's own frame.
import { mappedElement } from '../lamp/assembly.ts'
import type { Lamp } from '../lamp/schema.ts'
import { printedRing, ringSizes } from '../layout/lensRing.ts'
import type { Point } from '../layout/shape.ts'
import { workshopOf } from '../library/typicalWorkshop.ts'
import { mm, mmAtLeast } from './bed.ts'
import { elementPlace } from './elementBodies.ts'
import {
  circle,
  cut,
  cutRegion,
  disc,
  joinedRegion,
  outlines,
  type Place,
  prism,
  type Region,
  rectangle,
  type Solid,
} from './shape.ts'

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

export function lensRingOf(lamp: Lamp): MadeRing {
  const piece = mappedElement(lamp)
  if (!piece)
    return { ok: false, needed: false, why: 'The lamp has neither a lens nor a cover that a ring could hold.' }
  if (piece.kind === 'ideal')
    return { ok: false, needed: false, why: 'An ideal lens has no body that a ring could hold.' }
  const { lensRing, printer } = workshopOf(lamp)
  const { widthMm, heightMm, lipMm } = lensRing
  const { wallMm, clearanceMm } = printer
  const sizes = ringSizes(piece, lensRing)
  const { round, lens, inner, outer, edge } = sizes
  const { fromMm, toMm, seatToMm, holeMm } = printedRing(sizes, lensRing, printer)
  const why = ringRefusal({ heightMm, widthMm, lipMm, holeMm, wallMm, clearanceMm, halfMm: Math.min(...lens) })
  if (why !== null) return { ok: false, needed: true, why }
  const [edgeFrom] = edge
  // A seat thinner than a wall is a recess in the second lip.
  const planesMm = seatToMm - edgeFrom < wallMm ? [fromMm, edgeFrom, toMm] : [fromMm, edgeFrom, seatToMm, toMm]
  const screws = sizes.screws.map(([x, y]) => ({ xMm: x, yMm: y, diameterMm: holeMm }))
  const region = (half: Point) => outlines(round ? circle(half[0]) : rectangle(2 * half[0], 2 * half[1]))
  const ring: Region = cutRegion(
    region(outer),
    region(inner),
    joinedRegion(screws.map((s) => disc(s.diameterMm, s.xMm, s.yMm))),
  )
  const seat = prism(region([lens[0] + clearanceMm, lens[1] + clearanceMm]), edgeFrom, seatToMm)
  const solid = cut(prism(ring, fromMm, toMm), seat)
  const [xMm, yMm] = lens
  return { ok: true, ring: { round, xMm, yMm, widthMm, lipMm, planesMm, screws, solid, place: elementPlace(piece) } }
}

interface Checked {
  heightMm: number
  widthMm: number
  lipMm: number
  holeMm: number
  wallMm: number
  clearanceMm: number
  halfMm: number
}

function ringRefusal({ heightMm, widthMm, lipMm, holeMm, wallMm, clearanceMm, halfMm }: Checked): string | null {
  if (lipMm >= halfMm) return `A lip of ${mm(lipMm)} covers the whole lens.`
  if (heightMm < wallMm) return `A ring ${mm(heightMm)} high is thinner than the least wall of ${mm(wallMm)}.`
  // In the seat's layer, the hole lies between the seat and the ring's edge.
  const leastMm = holeMm + 2 * (wallMm + clearanceMm)
  if (widthMm < leastMm)
    return `A ring ${mm(widthMm)} wide has no walls of ${mm(wallMm)} beside screw holes of ${mm(holeMm)}. Make it ${mmAtLeast(leastMm)} wide.`
  return null
}
