// Where a piece of a lens, a cover or a film stands: from its own frame to the lamp's (physics: moved, tilted about its own x, then its own y, turned about its own z).
import type { Element, Lens } from './schema.ts'

export type Piece = Lens | Element
export type Vec3 = readonly [x: number, y: number, z: number]
/** Rows of a rotation. */
export type Rotation = readonly [Vec3, Vec3, Vec3]

const radians = (deg: number | undefined) => ((deg ?? 0) * Math.PI) / 180

/** Rx·Ry·Rz, right-handed: takes a direction of the piece's frame into the lamp's. */
export function pieceRotation(piece: Pick<Piece, 'tiltXDeg' | 'tiltYDeg' | 'turnDeg'>): Rotation {
  const [a, b, c] = [radians(piece.tiltXDeg), radians(piece.tiltYDeg), radians(piece.turnDeg)]
  const [sa, ca, sb, cb] = [Math.sin(a), Math.cos(a), Math.sin(b), Math.cos(b)]
  const [sc, cc] = [Math.sin(c), Math.cos(c)]
  return [
    [cb * cc, -cb * sc, sb],
    [sa * sb * cc + ca * sc, ca * cc - sa * sb * sc, -sa * cb],
    [sa * sc - ca * sb * cc, ca * sb * sc + sa * cc, ca * cb],
  ]
}

export const turned = (r: Rotation, p: Vec3): Vec3 => {
  const dot = (row: Vec3) => row[0] * p[0] + row[1] * p[1] + row[2] * p[2]
  return [dot(r[0]), dot(r[1]), dot(r[2])]
}

/** A point of the piece's frame (z from its plane on) in the lamp's, mm. */
export function lampFromPiece(piece: Piece): (p: Vec3) => Vec3 {
  const r = pieceRotation(piece)
  const at = originOf(piece)
  return (p) => {
    const [x, y, z] = turned(r, p)
    return [x + at[0], y + at[1], z + at[2]]
  }
}

/** Where the piece's own origin lies in the lamp's frame, mm. */
export const originOf = (piece: Piece): Vec3 => [piece.decentreXMm ?? 0, piece.decentreYMm ?? 0, piece.zMm]

/** Half width along the piece's x and half height along its y, mm; of a round one its radius. */
export const halfSizes = (piece: Piece): [number, number] => [
  piece.diameterMm / 2,
  (piece.aperture === 'rectangle' ? (piece.heightMm ?? piece.diameterMm) : piece.diameterMm) / 2,
]

export const isRound = (piece: Piece): boolean => piece.aperture === undefined || piece.aperture === 'round'

/** Nearest and farthest height of the body over its plane in its own frame, mm. The groove layer is taken as two pitches deep (our choice; only facets steeper than 63° reach deeper). */
export function bodySpan(piece: Piece): [number, number] {
  if (piece.kind === 'ideal' || piece.kind === 'diffuser') return [0, 0]
  if (piece.kind === 'cover') return [0, piece.thicknessMm]
  if (piece.kind === 'solid') return piece.curved === 'target' ? [0, piece.thicknessMm] : [-piece.thicknessMm, 0]
  const layer = 2 * piece.pitchMm
  return piece.grooves === 'target' ? [0, piece.thicknessMm + layer] : [-layer, piece.thicknessMm]
}

/** Points of the outline in the piece's frame, anticlockwise, mm: corners, or so many on a round one. */
export function outlineOf(piece: Piece, steps = 72): (readonly [number, number])[] {
  const [w, h] = halfSizes(piece)
  if (!isRound(piece))
    return [
      [w, -h],
      [w, h],
      [-w, h],
      [-w, -h],
    ]
  return Array.from({ length: steps }, (_, i) => {
    const at = (2 * Math.PI * i) / steps
    return [w * Math.cos(at), w * Math.sin(at)] as const
  })
}

/** Whether a point of the piece's frame lies over its outline, mm. */
export function isOver(piece: Piece, x: number, y: number): boolean {
  const [w, h] = halfSizes(piece)
  return isRound(piece) ? Math.hypot(x, y) <= w + 1e-9 : Math.abs(x) <= w + 1e-9 && Math.abs(y) <= h + 1e-9
}

/** Least and most of the body along the lamp's x, y and z, mm: of a disc, half a chord along an axis is its radius times the part of that axis in its plane. */
export function boxOf(piece: Piece): { from: Vec3; to: Vec3 } {
  const [w, h] = halfSizes(piece)
  const [near, far] = bodySpan(piece)
  const at = originOf(piece)
  const ends = pieceRotation(piece).map((row, i) => {
    const half = isRound(piece) ? w * Math.hypot(row[0], row[1]) : w * Math.abs(row[0]) + h * Math.abs(row[1])
    return [
      at[i]! + Math.min(near * row[2], far * row[2]) - half,
      at[i]! + Math.max(near * row[2], far * row[2]) + half,
    ]
  })
  const [x, y, z] = ends as [number[], number[], number[]]
  return { from: [x[0]!, y[0]!, z[0]!], to: [x[1]!, y[1]!, z[1]!] }
}
