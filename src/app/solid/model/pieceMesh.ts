// Meshes of lenses, covers and films where they stand, as plain arrays, mm, in the lamp's frame.

import { conicSag } from '../../../lamp/body.ts'
import { isOver, lampFromPiece, outlineOf, type Piece } from '../../common/piece.ts'
import type { Mesh } from './mesh.ts'

/** A cover, a film or a lens as triangles and lines. */
export interface PieceMesh extends Mesh {
  /** Pairs of points: its rims, and of a Fresnel lens about twenty of its grooves, as a hint. */
  lines: Float32Array
}

/** Grid over a round piece: so many rings out to the rim. */
const RINGS = 24
const GROOVE_LINES = 22
const ROUND_STEPS = 72
const EDGE_STEPS = 18

/** Front and back of a piece over a grid of its outline, and the rim between them. */
export function pieceMesh(piece: Piece): PieceMesh {
  const place = lampFromPiece(piece)
  const [near, far] = surfacesOf(piece)
  const curved = piece.kind === 'solid'
  const rim = rimOf(piece)
  const n = rim.length
  const shares = curved ? Array.from({ length: RINGS + 1 }, (_, i) => i / RINGS) : [0, 1]
  const position: number[] = []
  const index: number[] = []
  const surface = (height: (x: number, y: number) => number): number => {
    const first = position.length / 3
    for (const share of shares)
      for (const [x, y] of rim) position.push(...place([share * x, share * y, height(share * x, share * y)]))
    for (let k = 0; k + 1 < shares.length; k++)
      for (let i = 0; i < n; i++) {
        const [a, b] = [first + k * n + i, first + k * n + ((i + 1) % n)]
        index.push(a, b, a + n, b, b + n, a + n)
      }
    return first + (shares.length - 1) * n
  }
  const nearRim = surface(near)
  if (piece.kind !== 'ideal' && piece.kind !== 'diffuser') {
    const farRim = surface(far)
    for (let i = 0; i < n; i++) {
      const j = (i + 1) % n
      index.push(nearRim + i, nearRim + j, farRim + i, nearRim + j, farRim + j, farRim + i)
    }
  }
  const lines: number[] = []
  for (const height of [near, far])
    for (const [i, at] of rim.entries()) {
      const next = rim[(i + 1) % n]!
      lines.push(...place([...at, height(...at)]), ...place([...next, height(...next)]))
    }
  lines.push(...grooveLines(piece))
  return { position: Float32Array.from(position), index: Uint32Array.from(index), lines: Float32Array.from(lines) }
}

/** Points of the outline close enough for a curved side to follow: a rectangle's edges are divided. */
function rimOf(piece: Piece): (readonly [number, number])[] {
  const corners = outlineOf(piece, ROUND_STEPS)
  if (corners.length > 4 || piece.kind !== 'solid') return corners
  return corners.flatMap((from, i) => {
    const to = corners[(i + 1) % corners.length]!
    return Array.from({ length: EDGE_STEPS }, (_, k) => {
      const share = k / EDGE_STEPS
      return [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])] as const
    })
  })
}

type Height = (x: number, y: number) => number

/** Heights of the two sides over the piece's plane, nearer to the source first; grooves are too fine for this view. */
function surfacesOf(piece: Piece): [Height, Height] {
  const flat =
    (mm: number): Height =>
    () =>
      mm
  if (piece.kind === 'fresnel' || piece.kind === 'cover') return [flat(0), flat(piece.thicknessMm)]
  if (piece.kind !== 'solid') return [flat(0), flat(0)]
  const [cx, cy] = [piece.centreXMm ?? 0, piece.centreYMm ?? 0]
  const way = piece.curved === 'target' ? 1 : -1
  const curve: Height = (x, y) => {
    const sag = conicSag(Math.hypot(x - cx, y - cy), piece.radiusMm, piece.conic)
    return way * Math.max(0, piece.thicknessMm - (Number.isFinite(sag) ? sag : piece.thicknessMm))
  }
  return way === 1 ? [flat(0), curve] : [curve, flat(0)]
}

/** Rings about the optical axis on the groove side, where they lie on the piece. */
function grooveLines(piece: Piece): number[] {
  if (piece.kind !== 'fresnel') return []
  const place = lampFromPiece(piece)
  const [cx, cy] = [piece.centreXMm ?? 0, piece.centreYMm ?? 0]
  const z = piece.grooves === 'target' ? piece.thicknessMm : 0
  const farthest = Math.max(...outlineOf(piece).map(([x, y]) => Math.hypot(x - cx, y - cy)))
  const every = Math.max(1, Math.round(farthest / piece.pitchMm / GROOVE_LINES)) * piece.pitchMm
  const out: number[] = []
  for (let rho = every; rho < farthest; rho += every)
    for (let i = 0; i < 2 * ROUND_STEPS; i++) {
      const ends = [i, i + 1].map((j) => {
        const at = (Math.PI * j) / ROUND_STEPS
        return [cx + rho * Math.cos(at), cy + rho * Math.sin(at)] as const
      })
      if (ends.every(([x, y]) => isOver(piece, x, y))) for (const [x, y] of ends) out.push(...place([x, y, z]))
    }
  return out
}
