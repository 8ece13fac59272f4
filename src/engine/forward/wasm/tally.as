// Twin of src/engine/forward/tally.ts: where the kernel writes.
import * as C from './constants'
import { shareOfTurn } from '../../../optics/wasm/draws'
import { acosHost } from '../../../optics/wasm/host'
import { addMap, addSum, bin, count, keepExit, ray } from './memory'

/** Keep an exit record of the ray now traced: as it leaves, or as it comes in. */
let record: bool = false
let recordEntry: bool = false
export function setRecord(leaving: bool, entering: bool): void {
  record = leaving
  recordEntry = entering
}

export function book(line: i32): void {
  const w = ray(C.LOSS)
  addSum(C.T_fateW + line, w)
  addSum(C.T_fateLm + line, w * ray(C.LUM))
}

export function deliver(): void {
  const line = ray(C.RISER) > 0 ? C.F_deliveredViaRiser : C.F_delivered
  const w = ray(C.W)
  const lm = w * ray(C.LUM)
  addSum(C.T_fateW + line, w)
  addSum(C.T_fateLm + line, lm)
  const dx = ray(C.DX)
  const dy = ray(C.DY)
  const dz = ray(C.DZ)
  const sin2 = dx * dx + dy * dy
  const sin = Math.sqrt(sin2)
  const near = sin2 < 0.04
  const scale = near
    ? 1 + sin2 * (1.0 / 6 + sin2 * (3.0 / 40 + sin2 * (5.0 / 112 + sin2 * (35.0 / 1152))))
    : acosHost(Math.max(-1, dz)) / Math.max(sin, 1e-12)
  const theta = sin * scale
  if (sin < bin(C.B_axialSin)) addSum(C.T_axialLm, lm)
  let at: i32
  const fineHalf = bin(C.B_fineHalfRad)
  const fineBins = count(C.N_fineBins)
  if (theta < fineHalf) at = <i32>(theta * bin(C.B_finePerRad))
  else {
    at = fineBins + min(count(C.N_coarseBins) - 1, <i32>((theta - fineHalf) * bin(C.B_coarsePerRad)))
    const gamma = min(count(C.N_sphereGamma) - 1, <i32>(theta * bin(C.B_gammaPerRad)))
    const sphereC = count(C.N_sphereC)
    const round = min(sphereC - 1, <i32>(shareOfTurn(dx, dy) * <f64>sphereC))
    addMap(count(C.N_sphereAt) + gamma * sphereC + round, lm)
  }
  addSum(C.T_profileLm + at, lm)
  if (ray(C.RISER) > 0) addSum(count(C.N_profileRiserLm) + at, lm)
  const n = count(C.N_windowN)
  const u = (dx * scale + fineHalf) * bin(C.B_windowPerRad)
  const v = (dy * scale + fineHalf) * bin(C.B_windowPerRad)
  if (u >= 0 && v >= 0 && u < <f64>n && v < <f64>n) addMap(<i32>v * n + <i32>u, lm)
  onTarget(lm)
  if (record) keepExit()
}

/** Sun: the ray has come in through the lens. */
export function enter(): void {
  if (recordEntry) keepExit()
}

/** Whether a ray lands there falls at random: one branch for all that it hangs on. */
function onTarget(lm: f64): void {
  const dz = ray(C.DZ)
  const ahead = (bin(C.B_targetZMm) - ray(C.Z)) / dz
  const x = ray(C.X) + ahead * ray(C.DX)
  const y = ray(C.Y) + ahead * ray(C.DY)
  const n = count(C.N_targetN)
  const u = (x + bin(C.B_targetHalfX)) * bin(C.B_targetPerX)
  const v = (y + bin(C.B_targetHalfY)) * bin(C.B_targetPerY)
  const on = <i32>(dz > 1e-6) & <i32>(u >= 0) & <i32>(v >= 0) & <i32>(u < <f64>n) & <i32>(v < <f64>n)
  if (!on) return
  addSum(count(C.N_targetLm) + <i32>v * n + <i32>u, lm)
  if (x * x + y * y <= bin(C.B_centreSquare)) addSum(C.T_targetCentreLm, lm)
}

export function onLens(): void {
  const n = count(C.N_lensN)
  if (n == 0) return
  const u = (ray(C.X) + bin(C.B_lensHalfMm)) * bin(C.B_lensPerMm)
  const v = (ray(C.Y) + bin(C.B_lensHalfMm)) * bin(C.B_lensPerMm)
  if (u >= 0 && v >= 0 && u < <f64>n && v < <f64>n) addMap(count(C.N_lensAt) + <i32>v * n + <i32>u, ray(C.W))
}

export function onWall(): void {
  const along = count(C.N_wallAlong)
  if (along == 0) return
  const nRound = count(C.N_wallRound)
  const round = min(nRound - 1, <i32>(shareOfTurn(ray(C.X), ray(C.Y)) * <f64>nRound))
  const z = (ray(C.Z) - bin(C.B_wallZIn)) * bin(C.B_alongPerMm)
  addMap(count(C.N_wallAt) + min(along - 1, max(0, <i32>z)) * nRound + round, ray(C.W))
}

export function onFace(): void {
  const n = count(C.N_faceN)
  const u = (ray(C.X) + bin(C.B_faceHalfMm)) * bin(C.B_facePerMm)
  const v = (ray(C.Y) + bin(C.B_faceHalfMm)) * bin(C.B_facePerMm)
  if (u >= 0 && v >= 0 && u < <f64>n && v < <f64>n) addMap(count(C.N_faceAt) + <i32>v * n + <i32>u, ray(C.W))
}
