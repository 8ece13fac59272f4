// Twin of src/optics/wallBack.ts: the same bits. The derivation stands there.
import * as C from './constants'
import { expHost } from './host'
import { param, ray, set, sideCos, sideSin, wallScale } from './memory'
import { leaveWall } from './wall'

const TURN: f64 = 6.283185307179586

function normalBelow(x: f64): f64 {
  const a = x < 0 ? -x : x
  if (a > 8) return x < 0 ? 0 : 1
  const t = 1 / (1 + 0.2316419 * a)
  const poly = t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))))
  const above = (poly * expHost(-0.5 * a * a)) / Math.sqrt(TURN)
  return x < 0 ? above : 1 - above
}

function staysOff(cos: f64, sigma: f64): f64 {
  const sin2 = Math.max(1e-300, 1 - cos * cos)
  if (cos > 0 && cos * cos > 64.0001 * sigma * sigma * sin2) return 1
  return normalBelow(cos / (sigma * Math.sqrt(sin2)))
}

export function leaveWallBack(): void {
  const sigma = param(C.P_wallScatter)
  const specular = param(C.P_wallSpecular)
  if (sigma == 0 || specular == 0) {
    leaveWall()
    return
  }
  const bx = ray(C.DX)
  const by = ray(C.DY)
  const bz = ray(C.DZ)
  leaveWall()
  let cx: f64
  let cy: f64
  if (param(C.P_sides) == 0) {
    const r = Math.max(Math.sqrt(ray(C.X) * ray(C.X) + ray(C.Y) * ray(C.Y)), 1e-12)
    cx = ray(C.X) / r
    cy = ray(C.Y) / r
  } else {
    cx = sideCos(<i32>ray(C.SIDE))
    cy = sideSin(<i32>ray(C.SIDE))
  }
  const nx = -cx * wallScale
  const ny = -cy * wallScale
  const nz = param(C.P_tanFlare) * wallScale
  const dx = ray(C.DX)
  const dy = ray(C.DY)
  const dz = ray(C.DZ)
  const cosO = Math.max(1e-9, -(bx * nx + by * ny + bz * nz))
  const cosI = Math.max(0, dx * nx + dy * ny + dz * nz)
  const mx = bx + 2 * cosO * nx
  const my = by + 2 * cosO * ny
  const mz = bz + 2 * cosO * nz
  const ex = dy * mz - dz * my
  const ey = dz * mx - dx * mz
  const ez = dx * my - dy * mx
  const cosDelta = dx * mx + dy * my + dz * mz
  const aI = staysOff(cosI, sigma)
  const aO = staysOff(cosO, sigma)
  if (specular >= 1) {
    set(C.W, ray(C.W) * ((cosI * aO) / (cosO * aI)))
    return
  }
  let g: f64 = 0
  if (cosDelta > 0) {
    const tan2 = (ex * ex + ey * ey + ez * ez) / (cosDelta * cosDelta)
    g = (specular * expHost((-0.5 * tan2) / (sigma * sigma))) / (TURN * sigma * sigma * (cosDelta * cosDelta * cosDelta))
  }
  const diffuse = ((1 - specular) * 2) / TURN
  set(C.W, ray(C.W) * (((diffuse * cosO + g / aI) * cosI) / ((diffuse * cosI + g / aO) * cosO)))
}
