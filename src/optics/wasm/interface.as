// Twin of src/optics/interface.ts, what the compiled ways need of it: the same bits.
import * as C from './constants'
import { draw, turnOf } from './draws'
import { expHost } from './host'
import { param, ray, set } from './memory'

export function absorb(): void {
  let a = param(C.P_lensAbsorption)
  if (param(C.P_lensAbsorptionVaries) > 0) {
    const s = (ray(C.WAVELENGTH) - <f64>C.NM_FIRST) * (1 / <f64>C.NM_STEP)
    const i = max(0, min(C.NM_COUNT - 2, <i32>s))
    const below = param(C.P_lensAbsorptionTable + i)
    a = below + (s - <f64>i) * (param(C.P_lensAbsorptionTable + i + 1) - below)
  }
  const x = a * ray(C.PATH)
  set(C.W, ray(C.W) * (x < 0.05 ? 1 - x * (1 - x * (0.5 - x * (1.0 / 6 - x * (1.0 / 24)))) : expHost(-x)))
}

export function tilt(): void {
  const nx = ray(C.NX)
  const ny = ray(C.NY)
  const nz = ray(C.NZ)
  const a = ray(C.TX)
  const b = ray(C.TY)
  const c = ray(C.TZ)
  const sign: f64 = nz >= 0 ? 1 : -1
  const p = -1 / (sign + nz)
  const q = nx * ny * p
  set(C.DX, a * (1 + sign * nx * nx * p) + b * q + c * nx)
  set(C.DY, a * sign * q + b * (sign + ny * ny * p) + c * ny)
  set(C.DZ, -a * sign * nx - b * ny + c * nz)
}
export function lambertian(): void {
  const u = draw()
  turnOf(draw())
  const sin = Math.sqrt(1 - u)
  set(C.TX, ray(C.TX) * sin)
  set(C.TY, ray(C.TY) * sin)
  set(C.TZ, Math.sqrt(u))
  tilt()
}

export function scatterAlong(up: bool): void {
  set(C.RISER, 1)
  set(C.NX, 0)
  set(C.NY, 0)
  set(C.NZ, up ? 1 : -1)
  lambertian()
}
