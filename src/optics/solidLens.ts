// A solid lens: a flat side and a conic of revolution (ISO 10110-12). Local frame as for grooves: z = 0 at the vertex, flat side at
// z = −thickness, the curved side at z = −sag(r). With w = −z the conic is c (r² + (1+K) w²) − 2 w = 0, negative inside.
import { coneIn, coneOut, NEVER } from './cone.ts'
import { absorb, cross, crossPlane } from './interface.ts'
import { outside, toRim } from './outline.ts'
import * as P from './params.ts'
import {
  DX,
  DY,
  DZ,
  ENDS_AT_LIMIT,
  ENDS_AT_RIM,
  ETA,
  INDEX,
  LEAVES_FLAT,
  LEAVES_WORKED,
  LENS_STEP_LIMIT,
  NX,
  NY,
  NZ,
  PATH,
  X,
  Y,
  Z,
} from './records.ts'

/**
 * Traces one passage through a solid lens, in place; the ray stands in front of the flat side, or (fromCurved) in the
 * vertex plane. Local frame in and out, mm. Returns how it ends: LEAVES_WORKED, LEAVES_FLAT, ENDS_AT_RIM or
 * ENDS_AT_LIMIT.
 * Conic of revolution: ISO 10110-12; Snell and Fresnel as in interface.ts.
 */
export function passSolid(ray: Float64Array, stream: Int32Array, p: Float32Array, fromCurved: boolean): number {
  ray[PATH] = 0
  let state = 0
  if (fromCurved) {
    const s = toConic(ray, p, true)
    if (!(s < NEVER)) return ENDS_AT_RIM
    move(ray, s)
    if (outside(p, ray[X]!, ray[Y]!)) return ENDS_AT_RIM
    ray[ETA] = 1 / ray[INDEX]!
    if (!crossConic(ray, stream, p, true)) return LEAVES_WORKED
  } else {
    ray[ETA] = 1 / ray[INDEX]!
    if (!crossPlane(ray, stream)) return LEAVES_FLAT
  }
  for (let step = 0; state === 0 && step < LENS_STEP_LIMIT; step++) state = solidStep(ray, stream, p)
  absorb(ray, p)
  return state === 0 ? ENDS_AT_LIMIT : state
}

/** Inside the glass: to the curved side, the flat side, or the rim. 0 while it stays inside. */
function solidStep(ray: Float64Array, stream: Int32Array, p: Float32Array): number {
  const dz = ray[DZ]!
  let s = toConic(ray, p, false)
  let flat = false
  if (dz < 0) {
    const sFlat = (-p[P.lensThickness]! - ray[Z]!) / dz
    if (sFlat < s) {
      s = sFlat
      flat = true
    }
  }
  const sRim = toRim(p, ray[X]!, ray[Y]!, ray[DX]!, ray[DY]!)
  if (sRim < s) {
    ray[PATH]! += sRim
    return ENDS_AT_RIM
  }
  if (!(s < NEVER)) return ENDS_AT_RIM
  move(ray, s)
  ray[PATH]! += s
  ray[ETA] = ray[INDEX]!
  if (flat) {
    ray[Z] = -p[P.lensThickness]!
    return crossPlane(ray, stream) ? LEAVES_FLAT : 0
  }
  return crossConic(ray, stream, p, false) ? LEAVES_WORKED : 0
}

function move(ray: Float64Array, s: number): void {
  ray[X]! += s * ray[DX]!
  ray[Y]! += s * ray[DY]!
  ray[Z]! += s * ray[DZ]!
}

function toConic(ray: Float64Array, p: Float32Array, fromOutside: boolean): number {
  const c = p[P.lensCurvature]!
  const k = 1 + p[P.lensConic]!
  const w = -ray[Z]!
  const dw = -ray[DZ]!
  const dx = ray[DX]!
  const dy = ray[DY]!
  const x = ray[X]!
  const y = ray[Y]!
  const qa = c * (dx * dx + dy * dy + k * dw * dw)
  const qb = c * (x * dx + y * dy + k * w * dw) - dw
  const qc = c * (x * x + y * y + k * w * w) - 2 * w
  return fromOutside ? coneIn(qa, qb, Math.max(qc, 0)) : coneOut(qa, qb, Math.min(qc, 0))
}

/** Normal slots from the conic, ETA already set. */
function crossConic(ray: Float64Array, stream: Int32Array, p: Float32Array, fromOutside: boolean): boolean {
  const c = p[P.lensCurvature]!
  const nx = c * ray[X]!
  const ny = c * ray[Y]!
  const nz = 1 + c * (1 + p[P.lensConic]!) * ray[Z]!
  const scale = (fromOutside ? 1 : -1) / Math.sqrt(nx * nx + ny * ny + nz * nz)
  ray[NX] = nx * scale
  ray[NY] = ny * scale
  ray[NZ] = nz * scale
  return cross(ray, stream)
}
