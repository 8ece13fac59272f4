// The Fresnel lens, walked groove by groove. Local frame: z = 0 in the plane of the valleys, out of the body on the grooved side; flat
// side at z = −thickness. Ring k spans [k p, (k+1) p]: its facet falls outward to the valley, r = (k+1) p − z / tanα; its riser
// stands at the inner edge and leans by the draft, r = k p + z tanδ. Material of a ring: under facet and riser both.
import { coneIn, coneOut, NEVER } from './cone.ts'
import { draw } from './draws.ts'
import { cross, crossPlane, lambertian } from './interface.ts'
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
  NX,
  NY,
  NZ,
  P,
  PATH,
  RING,
  RING_AT,
  RISER,
  STEP_LIMIT,
  W,
  X,
  Y,
  Z,
} from './records.ts'

const BODY = 10
const MATERIAL = 11
const AIR = 12
/** In air, having just left its own facet: such a ray can't meet it again, a cone is convex. */
const AIR_OFF_FACET = 13

/** Trace one passage; the ray stands in front of the flat side, or (fromGrooves) in the plane of the tips. Local frame in and out. */
export function passFresnel(
  ray: Float64Array,
  stream: Int32Array,
  p: Float32Array,
  rings: Float32Array,
  fromGrooves: boolean,
): number {
  ray[PATH] = 0
  let state = fromGrooves ? enterGrooves(ray, stream, p) : enterFlat(ray, stream)
  for (let step = 0; step < STEP_LIMIT; step++) {
    if (state === BODY) state = bodyStep(ray, stream, p)
    else if (state === MATERIAL) state = materialStep(ray, stream, p, rings)
    else if (state === AIR) state = airStep(ray, stream, p, rings, false)
    else if (state === AIR_OFF_FACET) state = airStep(ray, stream, p, rings, true)
    else break
  }
  if (ray[PATH]! > 0) ray[W]! *= Math.exp(-p[P.lensAbsorption]! * ray[PATH]!)
  return state >= BODY ? ENDS_AT_LIMIT : state
}

function enterFlat(ray: Float64Array, stream: Int32Array): number {
  ray[ETA] = 1 / ray[INDEX]!
  return crossPlane(ray, stream) ? BODY : LEAVES_FLAT
}

function enterGrooves(ray: Float64Array, stream: Int32Array, p: Float32Array): number {
  const x = ray[X]!
  const y = ray[Y]!
  const ring = Math.floor(Math.sqrt(x * x + y * y) / p[P.lensPitch]!)
  ray[RING_AT] = ring
  if (ring < p[P.lensRings]!) return AIR
  // The rest of the aperture beyond the last whole ring is flat.
  const s = -ray[Z]! / ray[DZ]!
  ray[X]! += s * ray[DX]!
  ray[Y]! += s * ray[DY]!
  ray[Z] = 0
  ray[ETA] = 1 / ray[INDEX]!
  return crossPlane(ray, stream) ? BODY : LEAVES_WORKED
}

/** A rounded tip scatters into the half space ahead. */
function scatterAlong(ray: Float64Array, stream: Int32Array, up: boolean): void {
  ray[NX] = 0
  ray[NY] = 0
  ray[NZ] = up ? 1 : -1
  lambertian(ray, stream)
}

function insideAperture(ray: Float64Array, p: Float32Array): boolean {
  const half = p[P.lensHalf]!
  const x = ray[X]!
  const y = ray[Y]!
  return p[P.lensSquare]! > 0 ? Math.abs(x) <= half && Math.abs(y) <= half : x * x + y * y <= half * half
}

/** In the slab between the flat side and the valleys. */
function bodyStep(ray: Float64Array, stream: Int32Array, p: Float32Array): number {
  const dz = ray[DZ]!
  const up = dz > 0
  const s = ((up ? 0 : -p[P.lensThickness]!) - ray[Z]!) / dz
  if (!(s < NEVER)) return ENDS_AT_RIM // runs along the slab
  ray[X]! += s * ray[DX]!
  ray[Y]! += s * ray[DY]!
  ray[PATH]! += s
  if (!insideAperture(ray, p)) return ENDS_AT_RIM
  if (!up) {
    ray[Z] = -p[P.lensThickness]!
    ray[ETA] = ray[INDEX]!
    return crossPlane(ray, stream) ? LEAVES_FLAT : BODY
  }
  ray[Z] = 0
  const x = ray[X]!
  const y = ray[Y]!
  const ring = Math.floor(Math.sqrt(x * x + y * y) / p[P.lensPitch]!)
  if (ring >= p[P.lensRings]!) {
    ray[ETA] = ray[INDEX]!
    return crossPlane(ray, stream) ? LEAVES_WORKED : BODY
  }
  if (p[P.lensTipShare]! > 0 && draw(stream) < p[P.lensTipShare]!) {
    ray[Z] = p[P.lensLayer]!
    ray[RISER] = 1
    scatterAlong(ray, stream, true)
    return LEAVES_WORKED
  }
  ray[RING_AT] = ring
  return MATERIAL
}

/** In a ring's material: to its facet, its riser, or back down to the body. */
function materialStep(ray: Float64Array, stream: Int32Array, p: Float32Array, rings: Float32Array): number {
  const k = ray[RING_AT]!
  const at = k * RING.size
  const pitch = p[P.lensPitch]!
  const tanDraft = p[P.lensTanDraft]!
  const x = ray[X]!
  const y = ray[Y]!
  const z = ray[Z]!
  const dx = ray[DX]!
  const dy = ray[DY]!
  const dz = ray[DZ]!
  const dr2 = dx * dx + dy * dy
  const xd = x * dx + y * dy
  const r2 = x * x + y * y
  const cot = 1 / rings[at + RING.tan]!
  const q = (k + 1) * pitch - z * cot
  const dq = -dz * cot
  let s = coneOut(dr2 - dq * dq, xd - q * dq, r2 - q * q)
  let hit = 0
  if (k > 0) {
    const qr = k * pitch + z * tanDraft
    const dqr = dz * tanDraft
    const sRiser = coneIn(dr2 - dqr * dqr, xd - qr * dqr, r2 - qr * qr)
    if (sRiser < s) {
      s = sRiser
      hit = 1
    }
  }
  if (dz < 0 && -z < s * -dz) {
    s = -z / dz
    hit = 2
  }
  if (!(s < NEVER)) return ENDS_AT_LIMIT
  ray[X] = x + s * dx
  ray[Y] = y + s * dy
  ray[Z] = hit === 2 ? 0 : z + s * dz
  ray[PATH]! += s
  if (hit === 2) return BODY
  const r = 1 / Math.max(Math.sqrt(ray[X]! * ray[X]! + ray[Y]! * ray[Y]!), 1e-12)
  if (hit === 1) {
    ray[RISER] = 1
    const scale = 1 / Math.sqrt(1 + tanDraft * tanDraft)
    ray[NX] = ray[X]! * r * scale
    ray[NY] = ray[Y]! * r * scale
    ray[NZ] = -tanDraft * scale
    ray[ETA] = ray[INDEX]!
    if (!cross(ray, stream)) return MATERIAL
    if (tanDraft === 0) ray[RING_AT] = k - 1
    return AIR
  }
  const sin = rings[at + RING.sin]!
  ray[NX] = -sin * ray[X]! * r
  ray[NY] = -sin * ray[Y]! * r
  ray[NZ] = -rings[at + RING.cos]!
  ray[ETA] = ray[INDEX]!
  return cross(ray, stream) ? AIR_OFF_FACET : MATERIAL
}

/** True when a ray that has just left its facet climbs out of the groove layer within its own ring. */
function climbsOut(ray: Float64Array, p: Float32Array, k: number): boolean {
  if (ray[DZ]! <= 0) return false
  const pitch = p[P.lensPitch]!
  const s = (p[P.lensLayer]! - ray[Z]!) / ray[DZ]!
  const dx = ray[DX]!
  const dy = ray[DY]!
  const x = ray[X]! + s * dx
  const y = ray[Y]! + s * dy
  const r2 = x * x + y * y
  const outer = (k + 1) * pitch
  if (r2 > outer * outer) return false
  if (k > 0 && ray[X]! * dx + ray[Y]! * dy < 0) {
    const inner = k * pitch
    if (r2 < inner * inner || x * dx + y * dy > 0) return false
  }
  ray[X] = x
  ray[Y] = y
  ray[Z] = p[P.lensLayer]!
  return true
}

const FACET = 1
const OWN_RISER = 2
const OUTER = 3
const INNER = 4
const TOP = 5

/** In the air above a ring's facet or before its riser. */
function airStep(
  ray: Float64Array,
  stream: Int32Array,
  p: Float32Array,
  rings: Float32Array,
  offFacet: boolean,
): number {
  const k = ray[RING_AT]!
  if (offFacet && climbsOut(ray, p, k)) return LEAVES_WORKED
  const at = k * RING.size
  const pitch = p[P.lensPitch]!
  const tanDraft = p[P.lensTanDraft]!
  const tip = rings[at + RING.tip]!
  const x = ray[X]!
  const y = ray[Y]!
  const z = ray[Z]!
  const dx = ray[DX]!
  const dy = ray[DY]!
  const dz = ray[DZ]!
  const dr2 = dx * dx + dy * dy
  const xd = x * dx + y * dy
  const r2 = x * x + y * y
  const outer = (k + 1) * pitch
  const inner = k * pitch

  let s = coneOut(dr2, xd, Math.min(r2 - outer * outer, 0))
  let hit = OUTER
  if (k > 0) {
    const sInner = coneIn(dr2, xd, r2 - inner * inner)
    if (sInner < s) {
      s = sInner
      hit = INNER
    }
  }
  if (dz > 0) {
    const sTop = (p[P.lensLayer]! - z) / dz
    if (sTop < s) {
      s = sTop
      hit = TOP
    }
  }
  if (!offFacet) {
    const cot = 1 / rings[at + RING.tan]!
    const q = outer - z * cot
    const dq = -dz * cot
    const sFacet = coneIn(dr2 - dq * dq, xd - q * dq, Math.max(r2 - q * q, 0))
    if (sFacet < s && z + sFacet * dz <= tip) {
      s = sFacet
      hit = FACET
    }
  }
  if (k > 0 && tanDraft > 0) {
    const q = inner + z * tanDraft
    const dq = dz * tanDraft
    const c = r2 - q * q
    if (c < 0) {
      const sRiser = coneOut(dr2 - dq * dq, xd - q * dq, c)
      const zRiser = z + sRiser * dz
      if (sRiser < s && zRiser <= tip && zRiser >= 0) {
        s = sRiser
        hit = OWN_RISER
      }
    }
  }
  if (dz < 0 && z + s * dz < 0) {
    // Rounding at a valley: the ray has reached the valley line, which belongs to the facet.
    s = -z / dz
    hit = FACET
  }
  if (!(s < NEVER)) return ENDS_AT_LIMIT
  ray[X] = x + s * dx
  ray[Y] = y + s * dy
  ray[Z] = z + s * dz
  return meetInAir(ray, stream, p, rings, hit)
}

/** What happens at the surface or ring border that airStep found. */
function meetInAir(ray: Float64Array, stream: Int32Array, p: Float32Array, rings: Float32Array, hit: number): number {
  if (hit === TOP) {
    ray[Z] = p[P.lensLayer]!
    return LEAVES_WORKED
  }
  const k = ray[RING_AT]!
  const at = k * RING.size
  const tanDraft = p[P.lensTanDraft]!
  const x = ray[X]!
  const y = ray[Y]!
  const r = 1 / Math.max(Math.sqrt(x * x + y * y), 1e-12)
  ray[ETA] = 1 / ray[INDEX]!
  if (hit === FACET) {
    if (p[P.lensTipShare]! > 0 && draw(stream) < p[P.lensTipShare]!) {
      ray[Z] = 0
      ray[RISER] = 1
      scatterAlong(ray, stream, false)
      return BODY
    }
    const sin = rings[at + RING.sin]!
    ray[NX] = sin * x * r
    ray[NY] = sin * y * r
    ray[NZ] = rings[at + RING.cos]!
    return cross(ray, stream) ? MATERIAL : AIR_OFF_FACET
  }
  if (hit === OWN_RISER) {
    ray[RISER] = 1
    const scale = 1 / Math.sqrt(1 + tanDraft * tanDraft)
    ray[NX] = -x * r * scale
    ray[NY] = -y * r * scale
    ray[NZ] = tanDraft * scale
    return cross(ray, stream) ? MATERIAL : AIR
  }
  if (hit === INNER) {
    ray[RING_AT] = k - 1
    return AIR
  }
  if (k + 1 >= p[P.lensRings]!) return ray[DZ]! > 0 ? LEAVES_WORKED : ENDS_AT_RIM // past the last ring
  if (tanDraft === 0 && ray[Z]! < rings[at + RING.size + RING.tip]!) {
    ray[RISER] = 1
    ray[NX] = -x * r
    ray[NY] = -y * r
    ray[NZ] = 0
    if (!cross(ray, stream)) return AIR
    ray[RING_AT] = k + 1
    return MATERIAL
  }
  ray[RING_AT] = k + 1
  return AIR
}
