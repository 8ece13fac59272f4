// The Fresnel lens, walked groove by groove. Local frame: z = 0 in the plane of the valleys, out of the body on the grooved side; flat
// side at z = −thickness. Ring k spans [k p, (k+1) p]: its facet falls outward to the valley, r = (k+1) p − z / tanα; its riser
// stands at the inner edge and leans by the draft, r = k p + z tanδ. Material of a ring: under facet and riser both.
// References: [1] M. Born, E. Wolf, Principles of Optics, 7th ed., 1.5.2 and 1.5.3 (Fresnel formulae, unpolarised light).
import { coneAcross, coneIn, coneOut, NEVER } from './cone.ts'
import { draw, draw24, UNIT } from './draws.ts'
import { absorb, lambertian } from './interface.ts'
import * as P from './params.ts'
import {
  DX,
  DY,
  DZ,
  ENDS_AT_LIMIT,
  ENDS_AT_RIM,
  INDEX,
  LEAVES_FLAT,
  LEAVES_WORKED,
  LENS_STEP_LIMIT,
  NX,
  NY,
  NZ,
  PATH,
  RISER,
  X,
  Y,
  Z,
} from './records.ts'
import * as RING from './ringRow.ts'

const BEFORE_FLAT = 10
const BODY = 11
const MATERIAL = 12
const AIR = 13
/** In air, having just left its own facet: such a ray can't meet it again, a cone is convex. */
const AIR_OFF_FACET = 14
/** In air before the flat rest of the aperture, beyond the last whole ring. */
const BEFORE_REST = 15

const FACET = 1
const OWN_RISER = 2
const OUTER = 3
const INNER = 4
const TOP = 5
const FLOOR = 6

/**
 * Trace one passage; the ray stands in front of the flat side, or (fromGrooves) in the plane of the tips. Local frame in and out.
 * One long function on purpose: place and direction stay in registers from surface to surface, and this is the hottest loop of the
 * program. Each turn of the loop moves the ray to its next surface; a border between rings or regions is just passed, at an interface
 * (normal n on the ray's own side) the ray is reflected or refracted by a draw.
 */
export function passFresnel(
  ray: Float64Array,
  stream: Int32Array,
  p: Float32Array,
  rings: Float32Array,
  fromGrooves: boolean,
): number {
  const index = ray[INDEX]!
  const pitch = p[P.lensPitch]!
  const perPitch = 1 / pitch
  const count = p[P.lensRings]!
  const tanDraft = p[P.lensTanDraft]!
  const tipShare = p[P.lensTipShare]!
  let x = ray[X]!
  let y = ray[Y]!
  let z = ray[Z]!
  let dx = ray[DX]!
  let dy = ray[DY]!
  let dz = ray[DZ]!
  let path = 0
  let ring = 0
  let state = BEFORE_FLAT
  if (fromGrooves) {
    ring = (Math.sqrt(x * x + y * y) * perPitch) | 0
    state = ring < count ? AIR : BEFORE_REST
  }

  for (let step = 0; state >= BEFORE_FLAT; step++) {
    if (step >= LENS_STEP_LIMIT) {
      state = ENDS_AT_LIMIT
      break
    }
    let nx = 0
    let ny = 0
    let nz = 0
    let inGlass = true
    let refracted = state
    let reflected = state
    let ringRefracted = ring

    if (state === MATERIAL) {
      const at = ring * RING.size
      const dr2 = dx * dx + dy * dy
      const xd = x * dx + y * dy
      const r2 = x * x + y * y
      const cot = rings[at + RING.cot]!
      const q = (ring + 1) * pitch - z * cot
      const dq = -dz * cot
      // coneOut, written out: a call would box its numbers
      const fa = dr2 - dq * dq
      const fb = xd - q * dq
      const fc = r2 - q * q
      const disc = fb * fb - fa * fc
      let s = NEVER
      if (disc >= 0) {
        const root = Math.sqrt(disc)
        if (fb > 0) s = fc < 0 ? -fc / (fb + root) : 0
        else if (fa > 0) s = (root - fb) / fa
      }
      let hit = FACET
      if (ring > 0) {
        const qr = ring * pitch + z * tanDraft
        const dqr = dz * tanDraft
        const a = dr2 - dqr * dqr
        const b = xd - qr * dqr
        const c = r2 - qr * qr
        // With a < 0 the distance from the riser's cone is concave along the ray: clear at both ends, it is clear between.
        const clear = a < 0 ? c > 0 && (a * s + 2 * b) * s + c > 0 : b >= 0
        const sRiser = clear ? NEVER : coneIn(a, b, c)
        if (sRiser < s) {
          s = sRiser
          hit = OWN_RISER
        }
      }
      if (dz < 0 && z < s * -dz) {
        s = -z / dz
        hit = FLOOR
      }
      if (!(s < NEVER)) {
        state = ENDS_AT_LIMIT
        break
      }
      x += s * dx
      y += s * dy
      z = hit === FLOOR ? 0 : z + s * dz
      path += s
      if (hit === FLOOR) {
        // Under the grooves a square lens ends at its sides, from either end: upward the body's own check sees to it.
        const half = p[P.lensHalf]!
        state = p[P.lensSquare]! > 0 && (Math.abs(x) > half || Math.abs(y) > half) ? ENDS_AT_RIM : BODY
        continue
      }
      if (hit === FACET) {
        const sin = rings[at + RING.sin]! / Math.max(q + s * dq, 1e-12) // on the facet r = q
        nx = -sin * x
        ny = -sin * y
        nz = -rings[at + RING.cos]!
        refracted = AIR_OFF_FACET
      } else {
        ray[RISER] = 1
        const perR = 1 / Math.max(Math.sqrt(x * x + y * y), 1e-12)
        const scale = 1 / Math.sqrt(1 + tanDraft * tanDraft)
        nx = x * perR * scale
        ny = y * perR * scale
        nz = -tanDraft * scale
        refracted = AIR
        if (tanDraft === 0) ringRefracted = (ring - 1) | 0
      }
    } else if (state === BODY) {
      const up = dz > 0
      const s = ((up ? 0 : -p[P.lensThickness]!) - z) / dz
      if (!(s < NEVER)) {
        state = ENDS_AT_RIM // runs along the slab
        break
      }
      x += s * dx
      y += s * dy
      path += s
      const half = p[P.lensHalf]!
      const r2 = x * x + y * y
      if (p[P.lensSquare]! > 0 ? Math.abs(x) > half || Math.abs(y) > half : r2 > half * half) {
        state = ENDS_AT_RIM
        break
      }
      if (up) {
        z = 0
        ring = (Math.sqrt(r2) * perPitch) | 0
        if (ring < count) {
          state = MATERIAL
          if (tipShare > 0 && draw(stream) < tipShare) {
            z = p[P.lensLayer]!
            scatterAlong(ray, stream, true)
            dx = ray[DX]!
            dy = ray[DY]!
            dz = ray[DZ]!
            state = LEAVES_WORKED
          }
          continue
        }
        nz = -1
        refracted = LEAVES_WORKED
      } else {
        z = -p[P.lensThickness]!
        nz = 1
        refracted = LEAVES_FLAT
      }
      reflected = BODY
    } else if (state === BEFORE_FLAT) {
      inGlass = false
      nz = -1
      refracted = BODY
      reflected = LEAVES_FLAT
    } else if (state === BEFORE_REST) {
      const s = -z / dz
      x += s * dx
      y += s * dy
      z = 0
      inGlass = false
      nz = 1
      refracted = BODY
      reflected = LEAVES_WORKED
    } else {
      // In air, in the cell of its ring. First the common case: it has left its facet and climbs out without leaving the ring.
      inGlass = false
      const at = ring * RING.size
      const outer = (ring + 1) * pitch
      const inner = ring * pitch
      const xd = x * dx + y * dy
      if (state === AIR_OFF_FACET && dz > 0) {
        const s = (p[P.lensLayer]! - z) / dz
        const xTop = x + s * dx
        const yTop = y + s * dy
        const top2 = xTop * xTop + yTop * yTop
        const clear =
          top2 <= outer * outer && (ring === 0 || xd >= 0 || (top2 >= inner * inner && xTop * dx + yTop * dy <= 0))
        if (clear) {
          x = xTop
          y = yTop
          z = p[P.lensLayer]!
          state = LEAVES_WORKED
          break
        }
      }
      const tip = rings[at + RING.tip]!
      const dr2 = dx * dx + dy * dy
      const r2 = x * x + y * y
      let s = coneOut(dr2, xd, Math.min(r2 - outer * outer, 0))
      let hit = OUTER
      if (ring > 0) {
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
      if (state === AIR) {
        const cot = rings[at + RING.cot]!
        const q = outer - z * cot
        const dq = -dz * cot
        const a = dr2 - dq * dq
        const b = xd - q * dq
        const c = r2 - q * q
        // The grooves farther out can be taller than this facet's cone: above its apex q < 0.
        const sFacet = q < 0 && c < 0 ? coneAcross(a, b, c) : coneIn(a, b, Math.max(c, 0))
        if (sFacet < s && z + sFacet * dz <= tip) {
          s = sFacet
          hit = FACET
        }
      }
      if (ring > 0 && tanDraft > 0) {
        const q = inner + z * tanDraft
        const dq = dz * tanDraft
        const b = xd - q * dq
        const c = r2 - q * q
        // A ray that has just left the riser stands on its cone, and rounding decides the sign of c.
        if (c < 0 || (b < 0 && c < 1e-9 * r2)) {
          const sRiser = coneOut(dr2 - dq * dq, b, Math.min(c, 0))
          const zRiser = z + sRiser * dz
          if (sRiser < s && zRiser <= tip && zRiser >= 0) {
            s = sRiser
            hit = OWN_RISER
          }
        }
      }
      if (dz < 0 && z + s * dz < 0) {
        s = -z / dz // rounding at a valley: the valley line belongs to the facet
        hit = FACET
      }
      if (!(s < NEVER)) {
        state = ENDS_AT_LIMIT
        break
      }
      x += s * dx
      y += s * dy
      z += s * dz
      reflected = AIR
      refracted = MATERIAL
      if (hit === TOP) {
        z = p[P.lensLayer]!
        state = LEAVES_WORKED
        break
      }
      if (hit === INNER) {
        ring = (ring - 1) | 0
        state = AIR
        continue
      }
      const perR = 1 / Math.max(Math.sqrt(x * x + y * y), 1e-12)
      if (hit === FACET) {
        if (tipShare > 0 && draw(stream) < tipShare) {
          z = 0
          scatterAlong(ray, stream, false)
          dx = ray[DX]!
          dy = ray[DY]!
          dz = ray[DZ]!
          state = BODY
          continue
        }
        const sin = rings[at + RING.sin]! * perR
        nx = sin * x
        ny = sin * y
        nz = rings[at + RING.cos]!
        reflected = AIR_OFF_FACET
      } else if (hit === OWN_RISER) {
        ray[RISER] = 1
        const scale = 1 / Math.sqrt(1 + tanDraft * tanDraft)
        nx = -x * perR * scale
        ny = -y * perR * scale
        nz = tanDraft * scale
      } else {
        if (ring + 1 >= count) {
          state = dz > 0 ? LEAVES_WORKED : ENDS_AT_RIM // past the last ring
          break
        }
        if (tanDraft > 0 || z >= rings[at + RING.size + RING.tip]!) {
          ring = (ring + 1) | 0
          state = AIR
          continue
        }
        ray[RISER] = 1
        nx = -x * perR
        ny = -y * perR
        ringRefracted = (ring + 1) | 0
      }
    }

    // The interface [1]: n on the ray's side.
    const eta = inGlass ? index : 1 / index
    const cosIn = Math.max(0, -(dx * nx + dy * ny + dz * nz))
    const sin2 = eta * eta * (1 - cosIn * cosIn)
    if (sin2 < 1) {
      const cosOut = Math.sqrt(1 - sin2)
      // refracts, written out for the same reason
      const a = eta * cosIn - cosOut
      const b = eta * cosIn + cosOut
      const c = cosIn - eta * cosOut
      const d = cosIn + eta * cosOut
      const bb = b * b
      const dd = d * d
      if (2 * UNIT * (draw24(stream) + 0.5) * bb * dd >= a * a * dd + c * c * bb) {
        const k = eta * cosIn - cosOut
        dx = eta * dx + k * nx
        dy = eta * dy + k * ny
        dz = eta * dz + k * nz
        const scale = 1.5 - 0.5 * (dx * dx + dy * dy + dz * dz) // one Newton step keeps the length at 1
        dx *= scale
        dy *= scale
        dz *= scale
        state = refracted
        ring = ringRefracted | 0
        continue
      }
    }
    dx += 2 * cosIn * nx
    dy += 2 * cosIn * ny
    dz += 2 * cosIn * nz
    state = reflected
  }

  ray[X] = x
  ray[Y] = y
  ray[Z] = z
  ray[DX] = dx
  ray[DY] = dy
  ray[DZ] = dz
  ray[PATH] = path
  absorb(ray, p)
  return state
}

/** A rounded tip scatters into the half space ahead. */
function scatterAlong(ray: Float64Array, stream: Int32Array, up: boolean): void {
  ray[RISER] = 1
  ray[NX] = 0
  ray[NY] = 0
  ray[NZ] = up ? 1 : -1
  lambertian(ray, stream)
}
