// Twin of src/optics/outline.ts, for pieces about the axis: the same bits.
import * as C from './constants'
import { param } from './memory'

export function outside(x: f64, y: f64): bool {
  const half = param(C.P_lensHalf)
  return param(C.P_lensSquare) > 0 ? Math.abs(x) > half || Math.abs(y) > half : x * x + y * y > half * half
}

export function pastRim(x: f64, y: f64, dx: f64, dy: f64): f64 {
  const half = param(C.P_lensHalf)
  if (param(C.P_lensSquare) > 0) {
    const overX = Math.abs(x) - half
    const overY = Math.abs(y) - half
    return Math.max(overX > 0 ? overX / Math.abs(dx) : 0, overY > 0 ? overY / Math.abs(dy) : 0)
  }
  const out = x * dx + y * dy
  const c = x * x + y * y - half * half
  return c / (out + Math.sqrt(Math.max(0, out * out - (dx * dx + dy * dy) * c)))
}
