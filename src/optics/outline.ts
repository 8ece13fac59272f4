// The outline of a piece of a lens: a circle or a square about the optical axis, or a circle or a rectangle with its middle anywhere.
import { coneOut, NEVER } from './cone.ts'
import * as P from './params.ts'

/** Whether (x, y), mm from the optical axis, lies beside the body: the grooves of a square lens reach to its corners. Definition. */
export function outside(p: Float32Array, x: number, y: number): boolean {
  const half = p[P.lensHalf]!
  if (p[P.lensSquare]! > 1) return besidePiece(p, x - p[P.lensMidX]!, y - p[P.lensMidY]!)
  return p[P.lensSquare]! > 0 ? Math.abs(x) > half || Math.abs(y) > half : x * x + y * y > half * half
}

/** The same of a piece with its middle anywhere, from that middle. */
function besidePiece(p: Float32Array, u: number, v: number): boolean {
  const half = p[P.lensHalf]!
  if (p[P.lensSquare]! > 2) return u * u + v * v > half * half
  return Math.abs(u) > half || Math.abs(v) > p[P.lensHalfY]!
}

/**
 * How far a ray at (x, y), outside, has gone since it left the outline, mm, by its direction's (dx, dy): light is absorbed in the lens alone.
 * Circle: c / (b + √(b² − a c)), the root without cancellation; derived.
 */
export function pastRim(p: Float32Array, x: number, y: number, dx: number, dy: number): number {
  const half = p[P.lensHalf]!
  const piece = p[P.lensSquare]!
  const u = piece > 1 ? x - p[P.lensMidX]! : x
  const v = piece > 1 ? y - p[P.lensMidY]! : y
  if (piece === 1 || piece === 2) {
    const overX = Math.abs(u) - half
    const overY = Math.abs(v) - (piece === 2 ? p[P.lensHalfY]! : half)
    return Math.max(overX > 0 ? overX / Math.abs(dx) : 0, overY > 0 ? overY / Math.abs(dy) : 0)
  }
  const out = u * dx + v * dy
  const c = u * u + v * v - half * half
  return c / (out + Math.sqrt(Math.max(0, out * out - (dx * dx + dy * dy) * c)))
}

/**
 * From inside the outline: distance to where a ray at (x, y) with direction (dx, dy) leaves it, mm; NEVER along the axis. Circle: the far
 * root of the quadratic; rectangle: the nearer of two pairs of planes. Textbook.
 */
export function toRim(p: Float32Array, x: number, y: number, dx: number, dy: number): number {
  const half = p[P.lensHalf]!
  const piece = p[P.lensSquare]!
  const u = piece > 1 ? x - p[P.lensMidX]! : x
  const v = piece > 1 ? y - p[P.lensMidY]! : y
  if (piece === 0 || piece === 3)
    return coneOut(dx * dx + dy * dy, u * dx + v * dy, Math.min(u * u + v * v - half * half, 0))
  const halfY = piece === 2 ? p[P.lensHalfY]! : half
  const sx = dx === 0 ? NEVER : ((dx > 0 ? half : -half) - u) / dx
  const sy = dy === 0 ? NEVER : ((dy > 0 ? halfY : -halfY) - v) / dy
  return Math.max(0, Math.min(sx, sy))
}
