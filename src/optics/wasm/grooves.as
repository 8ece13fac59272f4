// Twin of src/optics/grooves.ts, for lenses about the axis: the same bits, the same draws. The reasons stand there.
import { coneAcross, coneIn, coneOut, NEVER } from './cone'
import * as C from './constants'
import { draw, draw24 } from './draws'
import { backOntoTip, backThroughTip } from './groovesBack'
import { absorb, scatterAlong } from './interface'
import { param, perPitch, ray, rings, set, single } from './memory'
import { outside, pastRim } from './outline'

const UNIT: f64 = 5.9604644775390625e-8

export function passFresnel(fromGrooves: bool, back: bool): i32 {
  const index = ray(C.INDEX)
  const pitch = param(C.P_lensPitch)
  const count = <i32>param(C.P_lensRings)
  const tanDraft = param(C.P_lensTanDraft)
  const tipShare: f64 = back ? 0 : param(C.P_lensTipShare)
  const backShare: f64 = back ? param(C.P_lensTipShare) : 0
  let x = ray(C.X)
  let y = ray(C.Y)
  let z = ray(C.Z)
  let dx = ray(C.DX)
  let dy = ray(C.DY)
  let dz = ray(C.DZ)
  let path: f64 = 0
  let ring = 0
  let state: i32 = C.S_BEFORE_FLAT
  if (fromGrooves) {
    ring = <i32>(Math.sqrt(x * x + y * y) * perPitch)
    state = ring < count ? C.S_AIR : C.S_BESIDE_RINGS
    if (backShare > 0 && state == C.S_AIR && z == param(C.P_lensLayer) && backThroughTip()) {
      state = C.S_BODY
      z = 0
      dx = ray(C.DX)
      dy = ray(C.DY)
      dz = ray(C.DZ)
    }
  }

  for (let step = 0; state >= C.S_BEFORE_FLAT; step++) {
    if (step >= C.S_LENS_STEP_LIMIT) {
      state = C.S_ENDS_AT_LIMIT
      break
    }
    let nx: f64 = 0
    let ny: f64 = 0
    let nz: f64 = 0
    let inGlass = true
    let refracted = state
    let reflected = state
    let ringRefracted = ring

    if (state == C.S_MATERIAL) {
      const at = ring * C.G_size
      const dr2 = dx * dx + dy * dy
      const xd = x * dx + y * dy
      const r2 = x * x + y * y
      const cot = single(rings, at + C.G_cot)
      const q = <f64>(ring + 1) * pitch - z * cot
      const dq = -dz * cot
      const fa = dr2 - dq * dq
      const fb = xd - q * dq
      const fc = r2 - q * q
      const disc = fb * fb - fa * fc
      let s: f64 = NEVER
      if (disc >= 0) {
        const root = Math.sqrt(disc)
        if (fb > 0) s = fc < 0 ? -fc / (fb + root) : 0
        else if (fa > 0) s = (root - fb) / fa
      }
      let hit = C.S_FACET
      if (ring > 0) {
        const qr = <f64>ring * pitch + z * tanDraft
        const dqr = dz * tanDraft
        const a = dr2 - dqr * dqr
        const b = xd - qr * dqr
        const c = r2 - qr * qr
        const clear = a < 0 ? c > 0 && (a * s + 2 * b) * s + c > 0 : b >= 0
        const sRiser = clear ? NEVER : coneIn(a, b, c)
        if (sRiser < s) {
          s = sRiser
          hit = C.S_OWN_RISER
        }
      }
      if (dz < 0 && z < s * -dz) {
        s = -z / dz
        hit = C.S_FLOOR
      }
      if (!(s < NEVER)) {
        state = C.S_ENDS_AT_LIMIT
        break
      }
      x += s * dx
      y += s * dy
      z = hit == C.S_FLOOR ? 0 : z + s * dz
      path += s
      if (hit == C.S_FLOOR) {
        state = C.S_BODY
        if (outside(x, y)) {
          path -= Math.min(s, pastRim(x, y, dx, dy))
          state = C.S_ENDS_AT_RIM
        }
        if (backShare > 0) set(C.W, ray(C.W) * (1 - backShare))
        continue
      }
      if (hit == C.S_FACET) {
        const sin = single(rings, at + C.G_sin) / Math.max(q + s * dq, 1e-12)
        nx = -sin * x
        ny = -sin * y
        nz = -single(rings, at + C.G_cos)
        refracted = C.S_AIR_OFF_FACET
      } else {
        set(C.RISER, 1)
        const perR = 1 / Math.max(Math.sqrt(x * x + y * y), 1e-12)
        const scale = 1 / Math.sqrt(1 + tanDraft * tanDraft)
        nx = x * perR * scale
        ny = y * perR * scale
        nz = -tanDraft * scale
        refracted = C.S_AIR
        if (tanDraft == 0) ringRefracted = ring - 1
      }
    } else if (state == C.S_BODY) {
      const up = dz > 0
      const s = ((up ? 0 : -param(C.P_lensThickness)) - z) / dz
      if (!(s < NEVER)) {
        state = C.S_ENDS_AT_RIM
        break
      }
      x += s * dx
      y += s * dy
      path += s
      const r2 = x * x + y * y
      if (outside(x, y)) {
        path -= Math.min(s, pastRim(x, y, dx, dy))
        state = C.S_ENDS_AT_RIM
        break
      }
      if (up) {
        z = 0
        ring = <i32>(Math.sqrt(r2) * perPitch)
        if (ring < count) {
          state = C.S_MATERIAL
          if (tipShare > 0 && draw() < tipShare) {
            z = param(C.P_lensLayer)
            scatterAlong(true)
            dx = ray(C.DX)
            dy = ray(C.DY)
            dz = ray(C.DZ)
            state = C.S_LEAVES_WORKED
          } else if (backShare > 0) {
            set(C.X, x)
            set(C.Y, y)
            if (backOntoTip(ring)) {
              z = ray(C.Z)
              dx = ray(C.DX)
              dy = ray(C.DY)
              dz = ray(C.DZ)
              state = C.S_AIR_OFF_FACET
            }
          }
          continue
        }
        nz = -1
        refracted = C.S_BESIDE_RINGS
      } else {
        z = -param(C.P_lensThickness)
        nz = 1
        refracted = C.S_LEAVES_FLAT
      }
      reflected = C.S_BODY
    } else if (state == C.S_BEFORE_FLAT) {
      inGlass = false
      nz = -1
      refracted = C.S_BODY
      reflected = C.S_LEAVES_FLAT
    } else if (state == C.S_BESIDE_RINGS) {
      const reach = <f64>count * pitch
      const sIn =
        count > 0 ? coneIn(dx * dx + dy * dy, x * dx + y * dy, Math.max(x * x + y * y - reach * reach, 0)) : NEVER
      const s = ((dz > 0 ? param(C.P_lensLayer) : 0) - z) / dz
      if (sIn < s) {
        x += sIn * dx
        y += sIn * dy
        z += sIn * dz
        ring = count - 1
        state = C.S_AIR
        continue
      }
      x += s * dx
      y += s * dy
      z += s * dz
      if (!(dz < 0) || outside(x, y)) {
        state = dz > 0 ? C.S_LEAVES_WORKED : C.S_ENDS_AT_RIM
        break
      }
      z = 0
      inGlass = false
      nz = 1
      refracted = C.S_BODY
      reflected = C.S_BESIDE_RINGS
    } else {
      inGlass = false
      const at = ring * C.G_size
      const outer = <f64>(ring + 1) * pitch
      const inner = <f64>ring * pitch
      const xd = x * dx + y * dy
      if (state == C.S_AIR_OFF_FACET && dz > 0) {
        const s = (param(C.P_lensLayer) - z) / dz
        const xTop = x + s * dx
        const yTop = y + s * dy
        const top2 = xTop * xTop + yTop * yTop
        const clear =
          top2 <= outer * outer && (ring == 0 || xd >= 0 || (top2 >= inner * inner && xTop * dx + yTop * dy <= 0))
        if (clear) {
          x = xTop
          y = yTop
          z = param(C.P_lensLayer)
          state = C.S_LEAVES_WORKED
          break
        }
      }
      const tip = single(rings, at + C.G_tip)
      const dr2 = dx * dx + dy * dy
      const r2 = x * x + y * y
      let s = coneOut(dr2, xd, Math.min(r2 - outer * outer, 0))
      let hit = C.S_OUTER
      if (ring > 0) {
        const sInner = coneIn(dr2, xd, r2 - inner * inner)
        if (sInner < s) {
          s = sInner
          hit = C.S_INNER
        }
      }
      if (dz > 0) {
        const sTop = (param(C.P_lensLayer) - z) / dz
        if (sTop < s) {
          s = sTop
          hit = C.S_TOP
        }
      }
      if (state == C.S_AIR) {
        const cot = single(rings, at + C.G_cot)
        const q = outer - z * cot
        const dq = -dz * cot
        const a = dr2 - dq * dq
        const b = xd - q * dq
        const c = r2 - q * q
        const sFacet = q < 0 && c < 0 ? coneAcross(a, b, c) : coneIn(a, b, Math.max(c, 0))
        if (sFacet < s && z + sFacet * dz <= tip) {
          s = sFacet
          hit = C.S_FACET
        }
      }
      if (ring > 0 && tanDraft > 0) {
        const q = inner + z * tanDraft
        const dq = dz * tanDraft
        const b = xd - q * dq
        const c = r2 - q * q
        if (c < 0 || b < 0) {
          const sRiser = coneOut(dr2 - dq * dq, b, c < 1e-9 * r2 ? Math.min(c, 0) : c)
          const zRiser = z + sRiser * dz
          if (sRiser < s && zRiser <= tip && zRiser >= 0) {
            s = sRiser
            hit = C.S_OWN_RISER
          }
        }
      }
      if (dz < 0 && z + s * dz < 0) {
        s = -z / dz
        hit = C.S_FACET
      }
      if (!(s < NEVER)) {
        state = C.S_ENDS_AT_LIMIT
        break
      }
      x += s * dx
      y += s * dy
      z += s * dz
      reflected = C.S_AIR
      refracted = C.S_MATERIAL
      if (hit == C.S_TOP) {
        z = param(C.P_lensLayer)
        state = C.S_LEAVES_WORKED
        break
      }
      if (hit == C.S_INNER) {
        ring = ring - 1
        state = C.S_AIR
        continue
      }
      const perR = 1 / Math.max(Math.sqrt(x * x + y * y), 1e-12)
      if (hit == C.S_FACET) {
        if (tipShare > 0 && draw() < tipShare) {
          z = 0
          scatterAlong(false)
          dx = ray(C.DX)
          dy = ray(C.DY)
          dz = ray(C.DZ)
          state = outside(x, y) ? C.S_ENDS_AT_RIM : C.S_BODY
          continue
        }
        const sin = single(rings, at + C.G_sin) * perR
        nx = sin * x
        ny = sin * y
        nz = single(rings, at + C.G_cos)
        reflected = C.S_AIR_OFF_FACET
      } else if (hit == C.S_OWN_RISER) {
        set(C.RISER, 1)
        const scale = 1 / Math.sqrt(1 + tanDraft * tanDraft)
        nx = -x * perR * scale
        ny = -y * perR * scale
        nz = tanDraft * scale
      } else {
        if (ring + 1 >= count) {
          state = dz > 0 ? C.S_LEAVES_WORKED : dz < 0 ? C.S_BESIDE_RINGS : C.S_ENDS_AT_RIM
          continue
        }
        if (tanDraft > 0 || z >= single(rings, at + C.G_size + C.G_tip)) {
          ring = ring + 1
          state = C.S_AIR
          continue
        }
        set(C.RISER, 1)
        nx = -x * perR
        ny = -y * perR
        ringRefracted = ring + 1
      }
    }

    step += C.S_INTERFACE_STEPS - 1
    const eta = inGlass ? index : 1 / index
    const cosIn = Math.max(0, -(dx * nx + dy * ny + dz * nz))
    const sin2 = eta * eta * (1 - cosIn * cosIn)
    if (sin2 < 1) {
      const cosOut = Math.sqrt(1 - sin2)
      const a = eta * cosIn - cosOut
      const b = eta * cosIn + cosOut
      const c = cosIn - eta * cosOut
      const d = cosIn + eta * cosOut
      const bb = b * b
      const dd = d * d
      if (2 * UNIT * (<f64>draw24() + 0.5) * bb * dd >= a * a * dd + c * c * bb) {
        const k = eta * cosIn - cosOut
        dx = eta * dx + k * nx
        dy = eta * dy + k * ny
        dz = eta * dz + k * nz
        const scale = 1.5 - 0.5 * (dx * dx + dy * dy + dz * dz)
        dx *= scale
        dy *= scale
        dz *= scale
        state = refracted
        ring = ringRefracted
        if (backShare > 0 && state == C.S_AIR_OFF_FACET) set(C.W, ray(C.W) * (1 - backShare))
        continue
      }
    }
    dx += 2 * cosIn * nx
    dy += 2 * cosIn * ny
    dz += 2 * cosIn * nz
    state = reflected
    if (backShare > 0 && state == C.S_AIR_OFF_FACET) set(C.W, ray(C.W) * (1 - backShare))
  }

  set(C.X, x)
  set(C.Y, y)
  set(C.Z, z)
  set(C.DX, dx)
  set(C.DY, dy)
  set(C.DZ, dz)
  set(C.PATH, path)
  absorb()
  return state
}
