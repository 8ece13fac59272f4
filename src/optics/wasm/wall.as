// Twin of src/optics/wall.ts and face.ts: the same bits. A polygon's cosines and sines are the host's, kept in a table (memory.as).
import { coneOut, NEVER } from './cone'
import * as C from './constants'
import { draw, turnOf } from './draws'
import { logHost } from './host'
import { lambertian, tilt } from './interface'
import { faceCorners, param, ray, set, sideCos, sideSin, single, wallScale } from './memory'

const HEX: f64 = 0.8660254037844386

export function insideSection(x: f64, y: f64, half: f64): bool {
  const sides = param(C.P_sides)
  if (sides == 0) return x * x + y * y <= half * half
  for (let i = 0; i < <i32>sides; i++) if (x * sideCos(i) + y * sideSin(i) > half) return false
  return true
}

export function sectionAt(z: f64): f64 {
  return param(C.P_rIn) + (z - param(C.P_zIn)) * param(C.P_tanFlare)
}

export function toWall(): void {
  const half = sectionAt(ray(C.Z))
  const dHalf = ray(C.DZ) * param(C.P_tanFlare)
  const x = ray(C.X)
  const y = ray(C.Y)
  const dx = ray(C.DX)
  const dy = ray(C.DY)
  const sides = param(C.P_sides)
  if (sides == 0) {
    set(C.REACH, coneOut(dx * dx + dy * dy - dHalf * dHalf, x * dx + y * dy - half * dHalf, x * x + y * y - half * half))
    return
  }
  let nearest = NEVER
  for (let i = 0; i < <i32>sides; i++) {
    const c = sideCos(i)
    const s = sideSin(i)
    const toward = dx * c + dy * s - dHalf
    if (toward <= 0) continue
    const t = (half - x * c - y * s) / toward
    if (t < nearest) {
      nearest = t
      set(C.SIDE, <f64>i)
    }
  }
  set(C.REACH, Math.max(nearest, 0))
}

export function leaveWall(): void {
  let cx: f64
  let cy: f64
  if (param(C.P_sides) == 0) {
    const r = Math.max(Math.sqrt(ray(C.X) * ray(C.X) + ray(C.Y) * ray(C.Y)), 1e-12)
    const half = sectionAt(ray(C.Z))
    cx = ray(C.X) / r
    cy = ray(C.Y) / r
    set(C.X, cx * half)
    set(C.Y, cy * half)
  } else {
    cx = sideCos(<i32>ray(C.SIDE))
    cy = sideSin(<i32>ray(C.SIDE))
  }
  const nx = -cx * wallScale
  const ny = -cy * wallScale
  const nz = param(C.P_tanFlare) * wallScale
  const specular = param(C.P_wallSpecular)
  if (specular < 1 && draw() >= specular) {
    set(C.NX, nx)
    set(C.NY, ny)
    set(C.NZ, nz)
    lambertian()
    return
  }
  const cos = ray(C.DX) * nx + ray(C.DY) * ny + ray(C.DZ) * nz
  const mx = ray(C.DX) - 2 * cos * nx
  const my = ray(C.DY) - 2 * cos * ny
  const mz = ray(C.DZ) - 2 * cos * nz
  const sigma = param(C.P_wallScatter)
  set(C.DX, mx)
  set(C.DY, my)
  set(C.DZ, mz)
  if (sigma == 0) return
  set(C.NX, mx)
  set(C.NY, my)
  set(C.NZ, mz)
  for (let tries = 0; tries < 16; tries++) {
    const radius = sigma * Math.sqrt(-2 * logHost(draw()))
    turnOf(draw())
    const length = 1 / Math.sqrt(1 + radius * radius)
    set(C.TX, ray(C.TX) * (radius * length))
    set(C.TY, ray(C.TY) * (radius * length))
    set(C.TZ, length)
    tilt()
    if (ray(C.DX) * nx + ray(C.DY) * ny + ray(C.DZ) * nz > 0) return
  }
  set(C.DX, mx)
  set(C.DY, my)
  set(C.DZ, mz)
}

export function insideFace(x: f64, y: f64): bool {
  const shape = param(C.P_faceShape)
  const half = param(C.P_faceHalf)
  if (shape == 0) return x * x + y * y <= half * half
  const ax = Math.abs(x)
  const ay = Math.abs(y)
  if (shape == 1) return ax <= half && ay <= half
  if (shape == 2) return ax <= half && 0.5 * ax + HEX * ay <= half
  const halfY = param(C.P_faceHalfY)
  if (shape == 3) return ax <= half && ay <= halfY
  const square = x * x + y * y
  if (square > half * half) return false
  return square < halfY * halfY || insideCorners(x, y)
}

function insideCorners(x: f64, y: f64): bool {
  const n = <i32>param(C.P_faceCorners)
  let inside = false
  let x0 = single(faceCorners, 2 * n - 2)
  let y0 = single(faceCorners, 2 * n - 1)
  for (let i = 0; i < 2 * n; i += 2) {
    const x1 = single(faceCorners, i)
    const y1 = single(faceCorners, i + 1)
    if (y0 > y != y1 > y && x < ((x1 - x0) * (y - y0)) / (y1 - y0) + x0) inside = !inside
    x0 = x1
    y0 = y1
  }
  return inside
}
