// Twin of src/engine/backward/walk.ts, for a plain lamp whose emitters stand on the face: the same bits, the same draws. The reasons stand there.
import { passDirect } from '../../../optics/wasm/direct'
import { draw } from '../../../optics/wasm/draws'
import { passFresnel } from '../../../optics/wasm/grooves'
import { powHost } from '../../../optics/wasm/host'
import { passIdeal } from '../../../optics/wasm/idealLens'
import { lambertian } from '../../../optics/wasm/interface'
import { insideFace, insideSection, sectionAt, toWall } from '../../../optics/wasm/wall'
import { leaveWallBack } from '../../../optics/wasm/wallBack'
import * as C from './constants'
import { solidHost } from './host'
import { param, ray, set } from './memory'
import { descend } from './radiance'

const ENDED = 0
const GAP_BELOW = 1
const TUNNEL = 2
const GAP_ABOVE = 3
const LENS_FROM_FACE = 4
const LENS_FROM_TARGET = 5
const SMALL: f64 = 0.01

let rOut: f64 = 0

export function startWalks(): void {
  rOut = param(C.P_hasTunnel) > 0 ? sectionAt(param(C.P_zOut)) : 0
}

function moveTo(z: f64): void {
  const s = (z - ray(C.Z)) / ray(C.DZ)
  set(C.X, ray(C.X) + s * ray(C.DX))
  set(C.Y, ray(C.Y) + s * ray(C.DY))
  set(C.Z, z)
}

function survives(): bool {
  const w = ray(C.W)
  if (w >= SMALL) return true
  if (w == 0 || draw() < 0.5) return false
  set(C.W, 2 * w)
  return true
}

function onLens(): bool {
  const x = ray(C.X)
  const y = ray(C.Y)
  const half = param(C.P_lensHalf)
  return param(C.P_lensSquare) > 0 ? Math.abs(x) <= half && Math.abs(y) <= half : x * x + y * y <= half * half
}

function hitFace(): i32 {
  descend(0)
  moveTo(0)
  if (!insideFace(ray(C.X), ray(C.Y))) return ENDED
  set(C.W, ray(C.W) * param(C.P_faceRho))
  if (!survives()) return ENDED
  set(C.NX, 0)
  set(C.NY, 0)
  set(C.NZ, 1)
  lambertian()
  return GAP_BELOW
}

function crossGapBelow(): i32 {
  const dz = ray(C.DZ)
  if (dz < 0) return hitFace()
  if (dz == 0) return ENDED
  if (param(C.P_hasTunnel) == 0) return reachLens()
  moveTo(param(C.P_zIn))
  return insideSection(ray(C.X), ray(C.Y), param(C.P_rIn)) ? TUNNEL : ENDED
}

function reachLens(): i32 {
  if (param(C.P_lensKind) == 0) return ENDED
  moveTo(param(C.P_lensFront))
  return onLens() ? LENS_FROM_FACE : ENDED
}

function crossTunnel(): i32 {
  const dz = ray(C.DZ)
  if (dz != 0) {
    const zEnd = dz > 0 ? param(C.P_zOut) : param(C.P_zIn)
    const s = (zEnd - ray(C.Z)) / dz
    const x = ray(C.X) + s * ray(C.DX)
    const y = ray(C.Y) + s * ray(C.DY)
    if (insideSection(x, y, dz > 0 ? rOut : param(C.P_rIn))) {
      if (dz < 0) descend(zEnd)
      set(C.X, x)
      set(C.Y, y)
      set(C.Z, zEnd)
      return dz < 0 ? GAP_BELOW : GAP_ABOVE
    }
  }
  return meetWall()
}

function meetWall(): i32 {
  const zIn = param(C.P_zIn)
  const zOut = param(C.P_zOut)
  toWall()
  const s = ray(C.REACH)
  const z = ray(C.Z) + s * ray(C.DZ)
  if (!(z >= zIn - 1e-3 && z <= zOut + 1e-3)) return ENDED
  const zWall = Math.min(Math.max(z, zIn), zOut)
  if (ray(C.DZ) < 0) descend(zWall)
  set(C.X, ray(C.X) + s * ray(C.DX))
  set(C.Y, ray(C.Y) + s * ray(C.DY))
  set(C.Z, zWall)
  set(C.W, ray(C.W) * param(C.P_wallRho))
  if (!survives()) return ENDED
  leaveWallBack()
  return ray(C.W) > 0 ? TUNNEL : ENDED
}

function crossGapAbove(): i32 {
  const dz = ray(C.DZ)
  if (dz > 0) return reachLens()
  if (dz == 0) return ENDED
  if (param(C.P_hasTunnel) == 0) return GAP_BELOW
  const zOut = param(C.P_zOut)
  descend(zOut)
  moveTo(zOut)
  return insideSection(ray(C.X), ray(C.Y), rOut) ? TUNNEL : ENDED
}

function below(): i32 {
  return param(C.P_hasTunnel) > 0 ? GAP_ABOVE : GAP_BELOW
}

function crossLens(fromFace: bool): i32 {
  const kind = param(C.P_lensKind)
  if (kind == 1) {
    if (fromFace) return ENDED
    const before = ray(C.DZ)
    passIdeal()
    set(C.W, ray(C.W) * powHost(ray(C.DZ) / before, 4))
    return below()
  }
  const sign = param(C.P_lensSign)
  const lensZ = param(C.P_lensZ)
  const worked = fromFace == sign < 0
  set(C.Z, sign * (ray(C.Z) - lensZ))
  set(C.DZ, sign * ray(C.DZ))
  if (fromFace) set(C.Z, worked ? (kind == 3 ? param(C.P_lensLayer) : 0) : -param(C.P_lensThickness))
  let outcome = C.LEAVES_WORKED
  if (kind == 2) outcome = solidHost(worked ? 1 : 0)
  else if (worked || !passDirect()) outcome = passFresnel(worked, true)
  set(C.Z, lensZ + sign * ray(C.Z))
  set(C.DZ, sign * ray(C.DZ))
  if (outcome != C.LEAVES_WORKED && outcome != C.LEAVES_FLAT) return ENDED
  if ((outcome == C.LEAVES_WORKED) == sign > 0 || !(ray(C.DZ) < 0)) return ENDED
  moveTo(param(C.P_lensFront))
  if (!onLens()) return ENDED
  return survives() ? below() : ENDED
}

/** From the outermost opening on, which the ray stands in, pointing down. */
export function walk(): void {
  let zone = param(C.P_lensKind) > 0 ? LENS_FROM_TARGET : TUNNEL
  for (let step = 0; zone != ENDED && step < C.STEP_LIMIT; step++) {
    if (zone == TUNNEL) zone = crossTunnel()
    else if (zone == GAP_ABOVE) zone = crossGapAbove()
    else if (zone == GAP_BELOW) zone = crossGapBelow()
    else zone = crossLens(zone == LENS_FROM_FACE)
  }
}
