// Lenses, covers and films as bodies in their own frame, and where that stands in the lamp.
import { elementsOf, pieceHalves, pieceReachMm, type RowElement } from '../lamp/assembly.ts'
import { conicSag, rotationOf } from '../lamp/body.ts'
import type { Lamp } from '../lamp/schema.ts'
import { FILM_MM } from '../layout/lensRing.ts'
import { NO_TURN } from '../num/rotation.ts'
import {
  circle,
  outlines,
  type Place,
  placed,
  prism,
  type Region,
  rectangle,
  type Solid,
  shared,
  turned,
} from './shape.ts'

/** Rings of a curved side. */
const RINGS = 32

/** In the piece's own frame. */
function pieceRegion(piece: RowElement): Region {
  const { round, xMm, yMm } = pieceHalves(piece)
  return outlines(round ? circle(xMm) : rectangle(2 * xMm, 2 * yMm))
}

/** From the flat side to the groove valleys of a Fresnel lens: its grooves are finer than this model. An ideal lens, which has no body, is shown as a film. */
function elementSolid(piece: RowElement): Solid {
  if (piece.kind === 'cover' || piece.kind === 'fresnel') return prism(pieceRegion(piece), 0, piece.thicknessMm)
  if (piece.kind !== 'solid') return prism(pieceRegion(piece), 0, FILM_MM)
  return shared(curvedBody(piece), prism(pieceRegion(piece), -piece.thicknessMm - 1, piece.thicknessMm + 1))
}

/** Turned about the optical axis, beyond the piece's farthest point, from its flat side to its curve. */
function curvedBody(piece: Extract<RowElement, { kind: 'solid' }>): Solid {
  const { radiusMm, conic, thicknessMm } = piece
  // Of an ellipsoid and a sphere the curve ends at its equator.
  const edge = conic > -1 ? radiusMm / Math.sqrt(1 + conic) : Infinity
  const reach = Math.min(pieceReachMm(piece) + 0.01, edge * (1 - 1e-9))
  const profile = Array.from({ length: RINGS }, (_, i) => {
    const rMm = (reach * (RINGS - i)) / RINGS
    return { rMm, zMm: Math.max(0.001, thicknessMm - conicSag(rMm, radiusMm, conic)) }
  })
  const body = turned([{ rMm: reach, zMm: 0 }, ...profile], thicknessMm)
  const shiftMm = [piece.centreXMm ?? 0, piece.centreYMm ?? 0, 0] as const
  const about: Place = { rotation: piece.curved === 'target' ? NO_TURN : UPSIDE_DOWN, shiftMm }
  return placed(body, about)
}

/** Half a turn about x. */
export const UPSIDE_DOWN = [1, 0, 0, 0, -1, 0, 0, 0, -1] as const

/** Where the piece's own frame stands in the lamp's. */
export const elementPlace = (piece: RowElement): Place => ({
  rotation: rotationOf(piece),
  shiftMm: [piece.decentreXMm ?? 0, piece.decentreYMm ?? 0, piece.zMm],
})

export const elementParts = (lamp: Lamp) =>
  elementsOf(lamp).map((piece) => ({ name: piece.name, piece, solid: elementSolid(piece), place: elementPlace(piece) }))
