// Twin of src/engine/backward/openings.ts and of the aim in estimator.ts, for a plain lamp: the same bits, the same draws.
import { coneIn } from '../../../optics/wasm/cone'
import { draw, turnOf, unit } from '../../../optics/wasm/draws'
import * as C from './constants'
import { count, own, param, point, ray, set, sideCos, sideSin } from './memory'

/** The area that the point stands for; 0 for none. */
export function chooseOpening(): f64 {
  const kind = param(C.P_lensKind)
  const outward = param(C.P_lensSign) > 0
  if (kind == 0) return mouth()
  if (kind == 3 && outward) return grooves()
  if (kind == 2 && outward) return conic()
  flat(own(C.O_half), param(C.P_lensSquare) > 0)
  set(C.Z, param(kind == 1 ? C.P_lensZ : C.P_lensBack))
  return own(C.O_areaMm2)
}

function flat(half: f64, square: bool): void {
  const u = unit(point(C.pointU))
  const v = unit(point(C.pointV))
  if (square) {
    set(C.X, (2 * u - 1) * half)
    set(C.Y, (2 * v - 1) * half)
  } else {
    turnOf(v)
    const r = Math.sqrt(u) * half
    set(C.X, r * ray(C.TX))
    set(C.Y, r * ray(C.TY))
  }
  set(C.NX, 0)
  set(C.NY, 0)
  set(C.NZ, 1)
}

function mouth(): f64 {
  const sides = param(C.P_sides)
  const half = own(C.O_half)
  flat(half, false)
  if (sides > 0) {
    const along = unit(point(C.pointV)) * sides
    const side = min(<i32>along, <i32>sides - 1)
    const r = Math.sqrt(unit(point(C.pointU))) * half
    const t = r * own(C.O_sideTan) * (2 * (along - <f64>side) - 1)
    const cos = sideCos(side)
    const sin = sideSin(side)
    set(C.X, r * cos - t * sin)
    set(C.Y, r * sin + t * cos)
  }
  set(C.Z, param(C.P_zOut))
  return own(C.O_areaMm2)
}

function grooves(): f64 {
  const z = param(C.P_lensZ)
  const layer = param(C.P_lensLayer)
  const reach = own(C.O_reach)
  const sideShare = own(C.O_edgeShare)
  if (sideShare > 0 && draw() < sideShare) {
    turnOf(unit(point(C.pointV)))
    set(C.NX, ray(C.TX))
    set(C.NY, ray(C.TY))
    set(C.NZ, 0)
    set(C.X, reach * (1 - 1e-9) * ray(C.TX))
    set(C.Y, reach * (1 - 1e-9) * ray(C.TY))
    set(C.Z, z + unit(point(C.pointU)) * layer)
    return own(C.O_edgeAreaMm2) / sideShare
  }
  const square = param(C.P_lensSquare) > 0
  flat(own(C.O_half), square)
  const x = ray(C.X)
  const y = ray(C.Y)
  const rest = x * x + y * y >= reach * reach
  set(C.Z, rest ? z : z + layer)
  const half = param(C.P_lensHalf)
  if (rest && square && (Math.abs(x) > half || Math.abs(y) > half)) return 0
  return own(C.O_areaMm2) / (1 - sideShare)
}

function conic(): f64 {
  const half = param(C.P_lensHalf)
  const c = param(C.P_lensCurvature)
  const k = 1 + param(C.P_lensConic)
  flat(half, false)
  const x = ray(C.X)
  const y = ray(C.Y)
  const r2 = x * x + y * y
  const sag = (c * r2) / (1 + Math.sqrt(Math.max(0, 1 - k * c * c * r2)))
  const nz = 1 - c * k * sag
  const length = Math.sqrt(c * c * r2 + nz * nz)
  set(C.NX, (c * x) / length)
  set(C.NY, (c * y) / length)
  set(C.NZ, nz / length)
  set(C.Z, param(C.P_lensZ) - sag)
  return (own(C.O_areaMm2) * length) / nz
}

/** Whether a forward ray that leaves the chosen point in the ray's direction is out of the lamp by that. */
export function leavesOpening(): bool {
  if (param(C.P_lensKind) != 3 || !(param(C.P_lensSign) > 0)) return true
  const reach = own(C.O_reach)
  if (ray(C.Z) != param(C.P_lensZ) || !(reach > 0)) return true
  const x = ray(C.X)
  const y = ray(C.Y)
  const dx = ray(C.DX)
  const dy = ray(C.DY)
  const sIn = coneIn(dx * dx + dy * dy, x * dx + y * dy, Math.max(x * x + y * y - reach * reach, 0))
  return sIn * ray(C.DZ) >= param(C.P_lensLayer)
}

/** A direction of the aim into the ray's slots; gives what the point counts for besides area and its own cosine. */
export function sampleAim(): f64 {
  const kind = count(C.N_aimKind)
  const polar = unit(point(C.polar))
  turnOf(unit(point(C.azimuth)))
  if (kind == C.A_disc) {
    const r = Math.sqrt(polar) * own(C.O_discHalfMm)
    const dx = own(C.O_discX) + r * ray(C.TX) - ray(C.X)
    const dy = own(C.O_discY) + r * ray(C.TY) - ray(C.Y)
    const dz = own(C.O_discZ) - ray(C.Z)
    const d2 = dx * dx + dy * dy + dz * dz
    const d = Math.sqrt(d2)
    set(C.DX, dx / d)
    set(C.DY, dy / d)
    set(C.DZ, dz / d)
    return ray(C.DZ) / d2
  }
  const c = own(C.O_fromC) + polar * own(C.O_widthC)
  const sin = Math.sqrt(c * (2 - c))
  const a = sin * ray(C.TX)
  const b = sin * ray(C.TY)
  let cosPhi = own(C.O_cosPhi)
  let sinPhi = own(C.O_sinPhi)
  if (kind == C.A_ring) {
    turnOf(unit(point(C.whichEmitter)))
    cosPhi = ray(C.TX)
    sinPhi = ray(C.TY)
  }
  const cosTheta = own(C.O_cosTheta)
  const sinTheta = own(C.O_sinTheta)
  const out = (1 - c) * sinTheta + a * cosTheta
  set(C.DX, out * cosPhi - b * sinPhi)
  set(C.DY, out * sinPhi + b * cosPhi)
  set(C.DZ, (1 - c) * cosTheta - a * sinTheta)
  return 1
}
