// The ring that holds the lens: a lip that the lens lies on, a seat about its edge, a second lip where the height has room for one.
// It follows the lens's piece, round or square-cornered, in the lens's own frame.
import { mappedElement, pieceHalves, type RowElement } from '../lamp/assembly.ts'
import { bodyPlanes, conicSag } from '../lamp/body.ts'
import type { Lamp } from '../lamp/schema.ts'
import { workshopOf } from '../library/typicalWorkshop.ts'
import { mm } from './bed.ts'
import { elementPlace, pieceOutline } from './elementBodies.ts'
import { cut, cutRegion, disc, joinedRegion, outlines, type Place, prism, type Region, type Solid } from './shape.ts'

export interface LensRing {
  piece: RowElement
  round: boolean
  /** Half sizes of the lens: a round one's radius, both. */
  xMm: number
  yMm: number
  widthMm: number
  lipMm: number
  clearanceMm: number
  /** Planes of its layers along the lens's own z: from one to the next each is printed by itself. */
  layersZMm: readonly number[]
  /** From below to above: the room for the lens. */
  seatZMm: readonly [number, number]
  screws: readonly { xMm: number; yMm: number; diameterMm: number }[]
  /** Whether it grips the lens from both sides. */
  closed: boolean
  /** In the lens's own frame, and where that stands. */
  solid: Solid
  place: Place
}

export type MadeRing = { ok: true; ring: LensRing } | { ok: false; why: string; needed: boolean }

/** Room along the axis for the lens's edge where the ring covers it, in the lens's own frame, mm. */
function edgeSpan(piece: RowElement, lipMm: number): [number, number] {
  const [from, to] = bodyPlanes(piece)
  if (piece.kind === 'diffuser') return [0, 0.2]
  if (piece.kind !== 'solid') return [from, to]
  const { round, xMm, yMm } = pieceHalves(piece)
  const [cx, cy] = [Math.abs(piece.centreXMm ?? 0), Math.abs(piece.centreYMm ?? 0)]
  // Nearest place under the lip to the optical axis: the edge is thickest there.
  const near = round ? xMm - lipMm - Math.hypot(cx, cy) : Math.min(xMm - lipMm - cx, yMm - lipMm - cy)
  const sag = conicSag(Math.max(0, near), piece.radiusMm, piece.conic)
  const edge = Math.max(0.2, piece.thicknessMm - (Number.isFinite(sag) ? sag : piece.thicknessMm))
  return piece.curved === 'target' ? [0, edge] : [-edge, 0]
}

export function lensRingOf(lamp: Lamp): MadeRing {
  const piece = mappedElement(lamp)
  if (!piece)
    return { ok: false, needed: false, why: 'The lamp has neither a lens nor a cover that a ring could hold.' }
  if (piece.kind === 'ideal')
    return { ok: false, needed: false, why: 'An ideal lens has no body that a ring could hold.' }
  const { lensRing, printer } = workshopOf(lamp)
  const { widthMm, heightMm, screwMm } = lensRing
  const { round, xMm, yMm } = pieceHalves(piece)
  const lipMm = Math.min(lensRing.lipMm, 0.9 * Math.min(xMm, yMm))
  const { wallMm, clearanceMm } = printer
  const no = (why: string): MadeRing => ({ ok: false, needed: true, why })
  const [edgeFrom, edgeTo] = edgeSpan(piece, lipMm)
  const seatMm = edgeTo - edgeFrom + clearanceMm
  const spareMm = heightMm - seatMm
  if (spareMm < wallMm - 1e-9)
    return no(
      `A ring ${mm(heightMm)} high has ${mm(Math.max(0, spareMm))} left under a lens of ${mm(edgeTo - edgeFrom)}; walls are ${mm(wallMm)} at least. Make it ${mm(seatMm + wallMm)} high.`,
    )
  const holeMm = screwMm + 2 * clearanceMm
  if (widthMm - clearanceMm < holeMm + 2 * wallMm - 1e-9)
    return no(
      `A ring ${mm(widthMm)} wide has no room for screw holes of ${mm(holeMm)} between walls of ${mm(wallMm)}. Make it ${mm(holeMm + 2 * wallMm + clearanceMm)} wide.`,
    )
  const closed = spareMm >= 2 * wallMm
  const lipHighMm = closed ? spareMm / 2 : spareMm
  const from = edgeFrom - lipHighMm
  const seat = [edgeFrom, edgeFrom + seatMm] as const
  const to = from + heightMm
  const layersZMm = layerPlanes(from, seat, to, wallMm, closed)
  const screws = screwPlaces(round, xMm + widthMm / 2, yMm + widthMm / 2, lensRing.screws).map((at) => ({
    ...at,
    diameterMm: holeMm,
  }))
  const shape = { piece, round, xMm, yMm, widthMm, lipMm, clearanceMm, layersZMm, seatZMm: seat, screws, closed }
  return { ok: true, ring: { ...shape, solid: ringSolid(shape, from, to), place: elementPlace(piece) } }
}

/** Cut at the seat's planes; a layer thinner than a wall goes to the next. */
function layerPlanes(
  from: number,
  seat: readonly [number, number],
  to: number,
  wallMm: number,
  closed: boolean,
): number[] {
  const isThin = seat[1] - seat[0] < wallMm
  if (closed) return isThin ? [from, (from + to) / 2, to] : [from, seat[0], seat[1], to]
  if (!isThin) return [from, seat[0], to]
  return to - from >= 2 * wallMm ? [from, (from + to) / 2, to] : [from, to]
}

function ringSolid(r: Omit<LensRing, 'solid' | 'place'>, from: number, to: number): Solid {
  const ring: Region = cutRegion(
    outlines(pieceOutline(r.piece, r.widthMm)),
    outlines(pieceOutline(r.piece, -r.lipMm)),
    joinedRegion(r.screws.map((s) => disc(s.diameterMm, s.xMm, s.yMm))),
  )
  const seat = prism(outlines(pieceOutline(r.piece, r.clearanceMm)), r.seatZMm[0], r.closed ? r.seatZMm[1] : to + 1)
  return cut(prism(ring, from, to), seat)
}

/** Evenly about a round ring, the first on +x; of a rectangle one in each corner, the others between them. */
function screwPlaces(round: boolean, xMm: number, yMm: number, count: number): { xMm: number; yMm: number }[] {
  if (round)
    return Array.from({ length: count }, (_, i) => {
      const at = (2 * Math.PI * i) / count
      return { xMm: xMm * Math.cos(at), yMm: xMm * Math.sin(at) }
    })
  const sides = [
    { from: [xMm, -yMm], to: [xMm, yMm], between: 0 },
    { from: [xMm, yMm], to: [-xMm, yMm], between: 0 },
    { from: [-xMm, yMm], to: [-xMm, -yMm], between: 0 },
    { from: [-xMm, -yMm], to: [xMm, -yMm], between: 0 },
  ] as const satisfies readonly object[]
  const counted = sides.map((s) => ({ ...s, between: 0, length: Math.hypot(s.to[0] - s.from[0], s.to[1] - s.from[1]) }))
  for (let i = 4; i < count; i++) {
    const widest = counted.reduce((a, b) => (b.length / (b.between + 1) > a.length / (a.between + 1) + 1e-9 ? b : a))
    widest.between++
  }
  const all = counted.flatMap(({ from, to, between }) =>
    Array.from({ length: between + 1 }, (_, i) => {
      const share = i / (between + 1)
      return { xMm: from[0] + share * (to[0] - from[0]), yMm: from[1] + share * (to[1] - from[1]) }
    }),
  )
  // Fewer than four: two corners that face each other, or three.
  return count === 2 ? all.filter((_, i) => i % 2 === 0) : all.slice(0, count)
}
