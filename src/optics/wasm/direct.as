// Twin of src/optics/direct.ts: the same bits, the same draws. The reasons stand there.
import { NEVER } from './cone'
import * as C from './constants'
import { draw24 } from './draws'
import { absorb } from './interface'
import { param, perPitch, ray, rings, set, setStream, single, stream } from './memory'
import { outside } from './outline'

const UNIT: f64 = 5.9604644775390625e-8

export function passDirect(): bool {
  if (param(C.P_lensTipShare) > 0) return false
  const firstDraw = stream(2)
  const index = ray(C.INDEX)

  const etaIn = 1 / index
  let dx = ray(C.DX)
  let dy = ray(C.DY)
  const cosFlat = Math.max(0, ray(C.DZ))
  const cosGlass = Math.sqrt(1 - etaIn * etaIn * (1 - cosFlat * cosFlat))
  let a = etaIn * cosFlat - cosGlass
  let b = etaIn * cosFlat + cosGlass
  let c = cosFlat - etaIn * cosGlass
  let d = cosFlat + etaIn * cosGlass
  let bb = b * b
  let dd = d * d
  if (2 * UNIT * (<f64>draw24() + 0.5) * bb * dd < a * a * dd + c * c * bb) {
    setStream(2, firstDraw)
    return false
  }
  dx = etaIn * dx
  dy = etaIn * dy
  let dz = etaIn * ray(C.DZ) - (etaIn * cosFlat - cosGlass)
  let scale = 1.5 - 0.5 * (dx * dx + dy * dy + dz * dz)
  dx *= scale
  dy *= scale
  dz *= scale

  const sBody = (0 - ray(C.Z)) / dz
  let x = ray(C.X) + sBody * dx
  let y = ray(C.Y) + sBody * dy
  const r2 = x * x + y * y
  const pitch = param(C.P_lensPitch)
  const ring = <i32>(Math.sqrt(r2) * perPitch)
  if (outside(x, y) || <f64>ring >= param(C.P_lensRings) || ring == 0) {
    setStream(2, firstDraw)
    return false
  }

  const at = ring * C.G_size
  const dr2 = dx * dx + dy * dy
  const xd = x * dx + y * dy
  const cot = single(rings, at + C.G_cot)
  const outer = <f64>(ring + 1) * pitch
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
  const inner = <f64>ring * pitch
  const dqr = dz * param(C.P_lensTanDraft)
  const ra = dr2 - dqr * dqr
  const rb = xd - inner * dqr
  const rc = r2 - inner * inner
  const clear = ra < 0 ? rc > 0 && (ra * s + 2 * rb) * s + rc > 0 : rb >= 0
  if (!clear || !(s < NEVER)) {
    setStream(2, firstDraw)
    return false
  }
  x += s * dx
  y += s * dy
  const z = s * dz
  const sin = single(rings, at + C.G_sin) / Math.max(outer + s * dq, 1e-12)
  const nx = -sin * x
  const ny = -sin * y
  const nz = -single(rings, at + C.G_cos)
  const cosIn = Math.max(0, -(dx * nx + dy * ny + dz * nz))
  const sin2 = index * index * (1 - cosIn * cosIn)
  const cosOut = Math.sqrt(1 - sin2)
  a = index * cosIn - cosOut
  b = index * cosIn + cosOut
  c = cosIn - index * cosOut
  d = cosIn + index * cosOut
  bb = b * b
  dd = d * d
  if (!(sin2 < 1) || 2 * UNIT * (<f64>draw24() + 0.5) * bb * dd < a * a * dd + c * c * bb) {
    setStream(2, firstDraw)
    return false
  }
  dx = index * dx + a * nx
  dy = index * dy + a * ny
  dz = index * dz + a * nz
  scale = 1.5 - 0.5 * (dx * dx + dy * dy + dz * dz)
  dx *= scale
  dy *= scale
  dz *= scale

  const layer = param(C.P_lensLayer)
  const sTop = (layer - z) / dz
  const xTop = x + sTop * dx
  const yTop = y + sTop * dy
  const top2 = xTop * xTop + yTop * yTop
  const climbs =
    dz > 0 && top2 <= outer * outer && (x * dx + y * dy >= 0 || (top2 >= inner * inner && xTop * dx + yTop * dy <= 0))
  if (!climbs) {
    setStream(2, firstDraw)
    return false
  }
  set(C.X, xTop)
  set(C.Y, yTop)
  set(C.Z, layer)
  set(C.DX, dx)
  set(C.DY, dy)
  set(C.DZ, dz)
  set(C.PATH, sBody + s)
  absorb()
  return true
}
