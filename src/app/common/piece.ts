// A lens, a cover or a film as the drawings take it: its outline, and from its own frame to the lamp's.
import { pieceHalves } from '../../lamp/assembly.ts'
import { rotationOf, spanAlong } from '../../lamp/body.ts'
import type { Element, Lens } from '../../lamp/schema.ts'
import type { Vector as Vec3 } from '../../num/rotation.ts'

export type Piece = Lens | Element
export type { Vec3 }
/** Rows of a rotation. */
export type Rotation = readonly [Vec3, Vec3, Vec3]

/** Takes a direction of the piece's frame into the lamp's. */
export function pieceRotation(piece: Piece): Rotation {
  const r = rotationOf(piece)
  return [
    [r[0], r[1], r[2]],
    [r[3], r[4], r[5]],
    [r[6], r[7], r[8]],
  ]
}

/** A point of the piece's frame (z from its plane on) in the lamp's, mm. */
export function lampFromPiece(piece: Piece): (p: Vec3) => Vec3 {
  const [a, b, c] = pieceRotation(piece)
  const dot = (row: Vec3, p: Vec3) => row[0] * p[0] + row[1] * p[1] + row[2] * p[2]
  const [dx, dy] = [piece.decentreXMm ?? 0, piece.decentreYMm ?? 0]
  return (p) => [dot(a, p) + dx, dot(b, p) + dy, dot(c, p) + piece.zMm]
}

/** Half width along the piece's x and half height along its y, mm; of a round one its radius. */
export function halfSizes(piece: Piece): [number, number] {
  const { xMm, yMm } = pieceHalves(piece)
  return [xMm, yMm]
}

export const isRound = (piece: Piece): boolean => pieceHalves(piece).round

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

/** Least and most of the body along the lamp's x, y and z, mm. */
export function boxOf(piece: Piece): { from: Vec3; to: Vec3 } {
  const x = spanAlong(piece, [1, 0, 0])
  const y = spanAlong(piece, [0, 1, 0])
  const z = spanAlong(piece, [0, 0, 1])
  return { from: [x[0], y[0], z[0]], to: [x[1], y[1], z[1]] }
}
