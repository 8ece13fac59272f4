// The Fresnel lens, walked groove by groove. Local frame: z = 0 in the plane of the valleys, out of the body on the grooved side; flat
// side at z = −thickness. Ring k spans [k p, (k+1) p]: its facet falls outward to the valley, r = (k+1) p − z / tanα; its riser
// stands at the inner edge and leans by the draft, r = k p + z tanδ. Material of a ring: under facet and riser both.
// References: [1] M. Born, E. Wolf, Principles of Optics, 7th ed., 1.5.2 and 1.5.3 (Fresnel formulae, unpolarised light).
import { coneAcross, coneIn, coneOut, NEVER } from './cone.ts'
import { draw, draw24, UNIT } from './draws.ts'
import * as S from './grooveStates.ts'
import { backOntoTip, backThroughTip } from './groovesBack.ts'
import { absorb, scatterAlong } from './interface.ts'
import { outside, pastRim } from './outline.ts'
import * as P from './params.ts'
import { DX, DY, DZ, INDEX, PATH, RISER, W, X, Y, Z } from './records.ts'
import * as RING from './ringRow.ts'

/**
 * Traces one passage through the lens, in place (mm, local frame in and out); the ray stands in front of the flat side, or (fromGrooves) in
 * the plane of the tips. Returns how it ends (LEAVES_… and ENDS_… of records.ts). `back`: traced backwards, see groovesBack.ts. Snell; Fresnel [1].
 * One long function on purpose: place and direction stay in registers, and this is the hottest loop of the program. Each turn moves the ray
 * to its next surface: a border is passed, at an interface (normal n on the ray's own side) it is reflected or refracted by a draw.
 */
export function passFresnel(
  ray: Float64Array,
  stream: Int32Array,
  p: Float32Array,
  rings: Float32Array,
  fromGrooves: boolean,
  back = false,
): number {
  const index = ray[INDEX]!
  const pitch = p[P.lensPitch]!
  const perPitch = 1 / pitch
  const count = p[P.lensRings]!
  const tanDraft = p[P.lensTanDraft]!
  const tipShare = back ? 0 : p[P.lensTipShare]!
  const backShare = back ? p[P.lensTipShare]! : 0
  let x = ray[X]!
  let y = ray[Y]!
  let z = ray[Z]!
  let dx = ray[DX]!
  let dy = ray[DY]!
  let dz = ray[DZ]!
  let path = 0
  let ring = 0
  let state: number = S.BEFORE_FLAT
  if (fromGrooves) {
    ring = (Math.sqrt(x * x + y * y) * perPitch) | 0
    state = ring < count ? S.AIR : S.BESIDE_RINGS
    if (backShare > 0 && state === S.AIR && z === p[P.lensLayer]! && backThroughTip(ray, stream, p)) {
      state = S.BODY
      z = 0
      dx = ray[DX]!
      dy = ray[DY]!
      dz = ray[DZ]!
    }
  }

  for (let step = 0; state >= S.BEFORE_FLAT; step++) {
    if (step >= S.LENS_STEP_LIMIT) {
      state = S.ENDS_AT_LIMIT
      break
    }
    let nx = 0
    let ny = 0
    let nz = 0
    let inGlass = true
    let refracted = state
    let reflected = state
    let ringRefracted = ring

    if (state === S.MATERIAL) {
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
      let hit = S.FACET
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
          hit = S.OWN_RISER
        }
      }
      if (dz < 0 && z < s * -dz) {
        s = -z / dz
        hit = S.FLOOR
      }
      if (!(s < NEVER)) {
        state = S.ENDS_AT_LIMIT
        break
      }
      x += s * dx
      y += s * dy
      z = hit === S.FLOOR ? 0 : z + s * dz
      path += s
      if (hit === S.FLOOR) {
        // Under the grooves a square lens ends at its sides, from either end: upward the body's own check sees to it.
        state = S.BODY
        if (outside(p, x, y)) {
          path -= Math.min(s, pastRim(p, x, y, dx, dy))
          state = S.ENDS_AT_RIM
        }
        if (backShare > 0) ray[W]! *= 1 - backShare
        continue
      }
      if (hit === S.FACET) {
        const sin = rings[at + RING.sin]! / Math.max(q + s * dq, 1e-12) // on the facet r = q
        nx = -sin * x
        ny = -sin * y
        nz = -rings[at + RING.cos]!
        refracted = S.AIR_OFF_FACET
      } else {
        ray[RISER] = 1
        const perR = 1 / Math.max(Math.sqrt(x * x + y * y), 1e-12)
        const scale = 1 / Math.sqrt(1 + tanDraft * tanDraft)
        nx = x * perR * scale
        ny = y * perR * scale
        nz = -tanDraft * scale
        refracted = S.AIR
        if (tanDraft === 0) ringRefracted = (ring - 1) | 0
      }
    } else if (state === S.BODY) {
      const up = dz > 0
      const s = ((up ? 0 : -p[P.lensThickness]!) - z) / dz
      if (!(s < NEVER)) {
        state = S.ENDS_AT_RIM // runs along the slab
        break
      }
      x += s * dx
      y += s * dy
      path += s
      const half = p[P.lensHalf]!
      const r2 = x * x + y * y
      if (p[P.lensSquare]! > 0 ? outside(p, x, y) : r2 > half * half) {
        path -= Math.min(s, pastRim(p, x, y, dx, dy))
        state = S.ENDS_AT_RIM
        break
      }
      if (up) {
        z = 0
        ring = (Math.sqrt(r2) * perPitch) | 0
        if (ring < count) {
          state = S.MATERIAL
          if (tipShare > 0 && draw(stream) < tipShare) {
            z = p[P.lensLayer]!
            scatterAlong(ray, stream, true)
            dx = ray[DX]!
            dy = ray[DY]!
            dz = ray[DZ]!
            state = S.LEAVES_WORKED
          } else if (backShare > 0) {
            ray[X] = x
            ray[Y] = y
            if (backOntoTip(ray, stream, p, rings, ring)) {
              z = ray[Z]!
              dx = ray[DX]!
              dy = ray[DY]!
              dz = ray[DZ]!
              state = S.AIR_OFF_FACET
            }
          }
          continue
        }
        nz = -1
        refracted = S.BESIDE_RINGS
      } else {
        z = -p[P.lensThickness]!
        nz = 1
        refracted = S.LEAVES_FLAT
      }
      reflected = S.BODY
    } else if (state === S.BEFORE_FLAT) {
      inGlass = false
      nz = -1
      refracted = S.BODY
      reflected = S.LEAVES_FLAT
    } else if (state === S.BESIDE_RINGS) {
      // Into the air of the last ring, out and away, or down onto the flat rest.
      const reach = count * pitch
      const sIn =
        count > 0 ? coneIn(dx * dx + dy * dy, x * dx + y * dy, Math.max(x * x + y * y - reach * reach, 0)) : NEVER
      const s = ((dz > 0 ? p[P.lensLayer]! : 0) - z) / dz
      if (sIn < s) {
        x += sIn * dx
        y += sIn * dy
        z += sIn * dz
        ring = (count - 1) | 0
        state = S.AIR
        continue
      }
      x += s * dx
      y += s * dy
      z += s * dz
      if (!(dz < 0) || outside(p, x, y)) {
        state = dz > 0 ? S.LEAVES_WORKED : S.ENDS_AT_RIM
        break
      }
      z = 0
      inGlass = false
      nz = 1
      refracted = S.BODY
      reflected = S.BESIDE_RINGS
    } else {
      // In air, in the cell of its ring. First the common case: it has left its facet and climbs out without leaving the ring.
      inGlass = false
      const at = ring * RING.size
      const outer = (ring + 1) * pitch
      const inner = ring * pitch
      const xd = x * dx + y * dy
      if (state === S.AIR_OFF_FACET && dz > 0) {
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
          state = S.LEAVES_WORKED
          break
        }
      }
      const tip = rings[at + RING.tip]!
      const dr2 = dx * dx + dy * dy
      const r2 = x * x + y * y
      let s = coneOut(dr2, xd, Math.min(r2 - outer * outer, 0))
      let hit = S.OUTER
      if (ring > 0) {
        const sInner = coneIn(dr2, xd, r2 - inner * inner)
        if (sInner < s) {
          s = sInner
          hit = S.INNER
        }
      }
      if (dz > 0) {
        const sTop = (p[P.lensLayer]! - z) / dz
        if (sTop < s) {
          s = sTop
          hit = S.TOP
        }
      }
      if (state === S.AIR) {
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
          hit = S.FACET
        }
      }
      if (ring > 0 && tanDraft > 0) {
        const q = inner + z * tanDraft
        const dq = dz * tanDraft
        const b = xd - q * dq
        const c = r2 - q * q
        // From inside its cone, or by way of it from above the tip. A ray that has just left it is on it: rounding decides the sign of c.
        if (c < 0 || b < 0) {
          const sRiser = coneOut(dr2 - dq * dq, b, c < 1e-9 * r2 ? Math.min(c, 0) : c)
          const zRiser = z + sRiser * dz
          if (sRiser < s && zRiser <= tip && zRiser >= 0) {
            s = sRiser
            hit = S.OWN_RISER
          }
        }
      }
      if (dz < 0 && z + s * dz < 0) {
        s = -z / dz // rounding at a valley: the valley line belongs to the facet
        hit = S.FACET
      }
      if (!(s < NEVER)) {
        state = S.ENDS_AT_LIMIT
        break
      }
      x += s * dx
      y += s * dy
      z += s * dz
      reflected = S.AIR
      refracted = S.MATERIAL
      if (hit === S.TOP) {
        z = p[P.lensLayer]!
        state = S.LEAVES_WORKED
        break
      }
      if (hit === S.INNER) {
        ring = (ring - 1) | 0
        state = S.AIR
        continue
      }
      const perR = 1 / Math.max(Math.sqrt(x * x + y * y), 1e-12)
      if (hit === S.FACET) {
        if (tipShare > 0 && draw(stream) < tipShare) {
          z = 0
          scatterAlong(ray, stream, false)
          dx = ray[DX]!
          dy = ray[DY]!
          dz = ray[DZ]!
          state = outside(p, x, y) ? S.ENDS_AT_RIM : S.BODY
          continue
        }
        const sin = rings[at + RING.sin]! * perR
        nx = sin * x
        ny = sin * y
        nz = rings[at + RING.cos]!
        reflected = S.AIR_OFF_FACET
      } else if (hit === S.OWN_RISER) {
        ray[RISER] = 1
        const scale = 1 / Math.sqrt(1 + tanDraft * tanDraft)
        nx = -x * perR * scale
        ny = -y * perR * scale
        nz = tanDraft * scale
      } else {
        if (ring + 1 >= count) {
          state = dz > 0 ? S.LEAVES_WORKED : dz < 0 ? S.BESIDE_RINGS : S.ENDS_AT_RIM
          continue
        }
        if (tanDraft > 0 || z >= rings[at + RING.size + RING.tip]!) {
          ring = (ring + 1) | 0
          state = S.AIR
          continue
        }
        ray[RISER] = 1
        nx = -x * perR
        ny = -y * perR
        ringRefracted = (ring + 1) | 0
      }
    }

    // The interface [1]: n on the ray's side.
    step += S.INTERFACE_STEPS - 1
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
        if (backShare > 0 && state === S.AIR_OFF_FACET) ray[W]! *= 1 - backShare
        continue
      }
    }
    dx += 2 * cosIn * nx
    dy += 2 * cosIn * ny
    dz += 2 * cosIn * nz
    state = reflected
    if (backShare > 0 && state === S.AIR_OFF_FACET) ray[W]! *= 1 - backShare
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
