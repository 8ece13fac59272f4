// The way through a Fresnel lens that nine rays in ten take: in by the flat side, out by the facet they reach, and clear of the grooves.
// Nothing new happens here: every number and every draw is the general walk's (grooves.ts), without its loop. A ray that does anything
// else is left as it was and walked in full; a test holds both to the same bits.
import { NEVER } from './cone.ts'
import { draw24, UNIT } from './draws.ts'
import { absorb } from './interface.ts'
import { outside } from './outline.ts'
import * as P from './params.ts'
import { DX, DY, DZ, INDEX, PATH, X, Y, Z } from './records.ts'
import * as RING from './ringRow.ts'

/**
 * True when the ray, before the flat side of a Fresnel lens, has passed straight through; ray and stream then stand
 * as passFresnel would leave them, to the bit. Otherwise both are unchanged. Local frame of grooves.ts, mm.
 * Snell and Fresnel as there [Born and Wolf, 1.5.2, 1.5.3].
 */
export function passDirect(ray: Float64Array, stream: Int32Array, p: Float32Array, rings: Float32Array): boolean {
  if (p[P.lensTipShare]! > 0) return false
  const firstDraw = stream[2]!
  const index = ray[INDEX]!

  // Flat side, normal (0, 0, −1).
  const etaIn = 1 / index
  let dx = ray[DX]!
  let dy = ray[DY]!
  const cosFlat = Math.max(0, ray[DZ]!)
  const cosGlass = Math.sqrt(1 - etaIn * etaIn * (1 - cosFlat * cosFlat))
  let a = etaIn * cosFlat - cosGlass
  let b = etaIn * cosFlat + cosGlass
  let c = cosFlat - etaIn * cosGlass
  let d = cosFlat + etaIn * cosGlass
  let bb = b * b
  let dd = d * d
  if (2 * UNIT * (draw24(stream) + 0.5) * bb * dd < a * a * dd + c * c * bb) {
    stream[2] = firstDraw
    return false
  }
  dx = etaIn * dx
  dy = etaIn * dy
  let dz = etaIn * ray[DZ]! - (etaIn * cosFlat - cosGlass)
  let scale = 1.5 - 0.5 * (dx * dx + dy * dy + dz * dz)
  dx *= scale
  dy *= scale
  dz *= scale

  // Body, to the plane of the valleys.
  const sBody = (0 - ray[Z]!) / dz
  let x = ray[X]! + sBody * dx
  let y = ray[Y]! + sBody * dy
  const r2 = x * x + y * y
  const half = p[P.lensHalf]!
  const pitch = p[P.lensPitch]!
  const ring = (Math.sqrt(r2) * (1 / pitch)) | 0
  const beside = p[P.lensSquare]! > 0 ? outside(p, x, y) : r2 > half * half
  if (beside || ring >= p[P.lensRings]! || ring === 0) {
    stream[2] = firstDraw
    return false
  }

  // Facet, and no riser before it.
  const at = ring * RING.size
  const dr2 = dx * dx + dy * dy
  const xd = x * dx + y * dy
  const cot = rings[at + RING.cot]!
  const outer = (ring + 1) * pitch
  const dq = -dz * cot
  const fa = dr2 - dq * dq
  const fb = xd - outer * dq
  const fc = r2 - outer * outer
  const disc = fb * fb - fa * fc
  let s = NEVER
  if (disc >= 0) {
    const root = Math.sqrt(disc)
    if (fb > 0) s = fc < 0 ? -fc / (fb + root) : 0
    else if (fa > 0) s = (root - fb) / fa
  }
  const inner = ring * pitch
  const dqr = dz * p[P.lensTanDraft]!
  const ra = dr2 - dqr * dqr
  const rb = xd - inner * dqr
  const rc = r2 - inner * inner
  const clear = ra < 0 ? rc > 0 && (ra * s + 2 * rb) * s + rc > 0 : rb >= 0
  if (!clear || !(s < NEVER)) {
    stream[2] = firstDraw
    return false
  }
  x += s * dx
  y += s * dy
  const z = s * dz
  const sin = rings[at + RING.sin]! / Math.max(outer + s * dq, 1e-12)
  const nx = -sin * x
  const ny = -sin * y
  const nz = -rings[at + RING.cos]!
  const cosIn = Math.max(0, -(dx * nx + dy * ny + dz * nz))
  const sin2 = index * index * (1 - cosIn * cosIn)
  const cosOut = Math.sqrt(1 - sin2)
  a = index * cosIn - cosOut
  b = index * cosIn + cosOut
  c = cosIn - index * cosOut
  d = cosIn + index * cosOut
  bb = b * b
  dd = d * d
  if (!(sin2 < 1) || 2 * UNIT * (draw24(stream) + 0.5) * bb * dd < a * a * dd + c * c * bb) {
    stream[2] = firstDraw
    return false
  }
  dx = index * dx + a * nx
  dy = index * dy + a * ny
  dz = index * dz + a * nz
  scale = 1.5 - 0.5 * (dx * dx + dy * dy + dz * dz)
  dx *= scale
  dy *= scale
  dz *= scale

  // Clear of the grooves within its own ring.
  const layer = p[P.lensLayer]!
  const sTop = (layer - z) / dz
  const xTop = x + sTop * dx
  const yTop = y + sTop * dy
  const top2 = xTop * xTop + yTop * yTop
  const climbs =
    dz > 0 && top2 <= outer * outer && (x * dx + y * dy >= 0 || (top2 >= inner * inner && xTop * dx + yTop * dy <= 0))
  if (!climbs) {
    stream[2] = firstDraw
    return false
  }
  ray[X] = xTop
  ray[Y] = yTop
  ray[Z] = layer
  ray[DX] = dx
  ray[DY] = dy
  ray[DZ] = dz
  ray[PATH] = sBody + s
  absorb(ray, p)
  return true
}
