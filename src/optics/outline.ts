// The outline of a lens with grooves: a circle or a square of half width lensHalf.
import * as P from './params.ts'

/** Whether (x, y), mm, lies beside the body: the grooves of a square lens reach to its corners. Definition. */
export function outside(p: Float32Array, x: number, y: number): boolean {
  const half = p[P.lensHalf]!
  return p[P.lensSquare]! > 0 ? Math.abs(x) > half || Math.abs(y) > half : x * x + y * y > half * half
}

/**
 * How far a ray at (x, y), outside, has gone since it left the outline, mm, by its direction's (dx, dy): light is absorbed in the lens alone.
 * Circle: c / (b + √(b² − a c)), the root without cancellation; derived.
 */
export function pastRim(p: Float32Array, x: number, y: number, dx: number, dy: number): number {
  const half = p[P.lensHalf]!
  if (p[P.lensSquare]! > 0) {
    const [overX, overY] = [Math.abs(x) - half, Math.abs(y) - half]
    return Math.max(overX > 0 ? overX / Math.abs(dx) : 0, overY > 0 ? overY / Math.abs(dy) : 0)
  }
  const out = x * dx + y * dy
  const c = x * x + y * y - half * half
  return c / (out + Math.sqrt(Math.max(0, out * out - (dx * dx + dy * dy) * c)))
}
