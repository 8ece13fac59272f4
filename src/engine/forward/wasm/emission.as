// Twin of src/optics/emission.ts, rayTable.ts and of cFromTable in profiles.ts, for emitters without cups and profiles without azimuth: the same bits.
import * as C from './constants'
import { seedStream, turnOf, unit } from '../../../optics/wasm/draws'
import { whichEmitter } from '../../../optics/wasm/emission'
import { powHost } from '../../../optics/wasm/host'
import { leaveSun } from '../../../optics/wasm/sun'
import {
  addSum,
  emitters,
  kinds,
  lensIndex,
  lumPerWatt,
  point,
  profiles,
  quantiles,
  ray,
  set,
  single,
} from './memory'

const GUIDE: f64 = 2048

function cFromTable(u: f64, at: i32): f64 {
  const n = <i32>single(profiles, at)
  const below = at + 2 + 2 * n
  let cell = <i32>single(profiles, at + 2 + 4 * n + <i32>(u * GUIDE))
  while (cell < n - 2 && single(profiles, below + cell + 1) < u) cell++
  const c0 = single(profiles, at + 2 + cell)
  const width = single(profiles, at + 3 + cell) - c0
  const i0 = single(profiles, at + 2 + n + cell)
  const need = Math.max(0, u - single(profiles, below + cell))
  const root = Math.sqrt(Math.max(0, i0 * i0 + single(profiles, at + 2 + 3 * n + cell) * need))
  const s = i0 + root > 0 ? (2 * need) / (i0 + root) : width
  return c0 + Math.min(s, width)
}

function leaveEmitter(at: i32, kind: i32): void {
  const pointU = unit(point(C.pointU))
  const pointV = unit(point(C.pointV))
  const cos = single(emitters, at + C.E_cos)
  const sin = single(emitters, at + C.E_sin)
  let u: f64
  let v: f64
  if (single(kinds, kind + C.K_disc) > 0) {
    turnOf(pointV)
    const r = Math.sqrt(pointU) * single(kinds, kind + C.K_halfX)
    u = r * ray(C.TX)
    v = r * ray(C.TY)
  } else {
    u = (2 * pointU - 1) * single(kinds, kind + C.K_halfX)
    v = (2 * pointV - 1) * single(kinds, kind + C.K_halfY)
  }
  set(C.X, single(emitters, at + C.E_x) + cos * u - sin * v)
  set(C.Y, single(emitters, at + C.E_y) + sin * u + cos * v)
  set(C.Z, single(kinds, kind + C.K_z))
  const polar = unit(point(C.polar))
  let cosTheta: f64
  let sinTheta: f64
  if (single(kinds, kind + C.K_profile) == 0) {
    const inverse = single(kinds, kind + C.K_profileAt)
    cosTheta = inverse == 0.5 ? Math.sqrt(polar) : powHost(polar, inverse)
    sinTheta = Math.sqrt(Math.max(0, 1 - cosTheta * cosTheta))
  } else {
    const c = cFromTable(polar, <i32>single(kinds, kind + C.K_profileAt))
    cosTheta = 1 - c
    sinTheta = Math.sqrt(c * (2 - c))
  }
  turnOf(unit(point(C.azimuth)))
  const a = sinTheta * ray(C.TX)
  const b = sinTheta * ray(C.TY)
  set(C.DX, cos * a - sin * b)
  set(C.DY, sin * a + cos * b)
  set(C.DZ, cosTheta)
}

function takeWavelength(): void {
  const s = (ray(C.WAVELENGTH) - <f64>C.NM_FIRST) * (1 / <f64>C.NM_STEP)
  const i = max(0, min(C.NM_COUNT - 2, <i32>s))
  const f = s - <f64>i
  set(C.INDEX, single(lensIndex, i) + f * (single(lensIndex, i + 1) - single(lensIndex, i)))
  set(C.LUM, single(lumPerWatt, i) + f * (single(lumPerWatt, i + 1) - single(lumPerWatt, i)))
}

function chooseWavelength(at: i32): void {
  const q = unit(point(C.wavelength)) * <f64>C.QUANTILES
  const cell = <i32>q
  const below = single(quantiles, at + cell)
  const nm = below + (q - <f64>cell) * (single(quantiles, at + cell + 1) - below)
  set(C.WAVELENGTH, nm)
  takeWavelength()
}

function leaveByRay(at: i32, kind: i32, batch: i32): void {
  const table = <i32>single(kinds, kind + C.K_profileAt)
  const start = table + <i32>single(profiles, table + 2 * batch)
  const count = <i32>single(profiles, table + 2 * batch + 1)
  const scaled = unit(point(C.pointU)) * <f64>count
  const cell = min(<i32>scaled, count - 1)
  let row = start + cell * C.R_ROW_SIZE
  if (scaled - <f64>cell >= single(profiles, row + C.R_ROW_SHARE))
    row = start + <i32>single(profiles, row + C.R_ROW_ALIAS) * C.R_ROW_SIZE
  const cos = single(emitters, at + C.E_cos)
  const sin = single(emitters, at + C.E_sin)
  const x = single(profiles, row + C.R_ROW_X)
  const y = single(profiles, row + C.R_ROW_X + 1)
  set(C.X, single(emitters, at + C.E_x) + cos * x - sin * y)
  set(C.Y, single(emitters, at + C.E_y) + sin * x + cos * y)
  set(C.Z, single(kinds, kind + C.K_z) + single(profiles, row + C.R_ROW_X + 2))
  const dx = single(profiles, row + C.R_ROW_DX)
  const dy = single(profiles, row + C.R_ROW_DX + 1)
  const dz = single(profiles, row + C.R_ROW_DX + 2)
  const scale = 1 / Math.sqrt(dx * dx + dy * dy + dz * dz)
  set(C.DX, (cos * dx - sin * dy) * scale)
  set(C.DY, (sin * dx + cos * dy) * scale)
  set(C.DZ, dz * scale)
  set(C.WAVELENGTH, single(profiles, row + C.R_ROW_NM))
}

function start(run: i32, index: i32): void {
  seedStream(run, index)
  set(C.W, 1)
  set(C.RISER, 0)
  set(C.STEPS, 0)
  set(C.RETURNED, 0)
  set(C.ENTERED, 0)
}

function bookEmitted(): void {
  addSum(C.T_emitted, 1)
  addSum(C.T_emitted + 1, ray(C.LUM))
}

/** A ray of the sun in the batch whose key is `run`, on the outermost opening. */
export function emitSun(run: i32, index: i32): void {
  start(run, index)
  leaveSun()
  chooseWavelength(0)
  bookEmitted()
}

/** A ray of the batch whose key is `run`: place, direction, wavelength; booked as emitted, and what its optic takes. False where it starts under the face. */
export function emitRay(run: i32, batch: i32, index: i32, count: i32): bool {
  start(run, index)
  const at = whichEmitter(unit(point(C.whichEmitter)), count) * C.E_size
  const kind = <i32>single(emitters, at + C.E_kind) * C.K_size
  const byRays = single(kinds, kind + C.K_profile) == C.R_BY_RAYS
  if (byRays) leaveByRay(at, kind, batch)
  else leaveEmitter(at, kind)
  if (byRays && ray(C.WAVELENGTH) > 0) takeWavelength()
  else chooseWavelength(<i32>single(kinds, kind + C.K_spectrumAt))
  bookEmitted()
  const passes = single(kinds, kind + C.K_efficiency)
  if (passes < 1) {
    const loss = 1 - passes
    addSum(C.T_fateW + C.F_opticLoss, loss)
    addSum(C.T_fateLm + C.F_opticLoss, loss * ray(C.LUM))
    set(C.W, passes)
  }
  return !byRays || ray(C.Z) >= 0
}
