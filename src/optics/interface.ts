// Light at a smooth boundary between two media.
// References: [1] M. Born, E. Wolf, Principles of Optics, 7th ed., 1.5.2 (Fresnel formulae), 1.5.3 (unpolarised light).
import { draw } from './draws.ts'
import * as P from './params.ts'
import {
  DX,
  DY,
  DZ,
  ETA,
  NM_COUNT,
  NM_FIRST,
  NM_STEP,
  NX,
  NY,
  NZ,
  PATH,
  RISER,
  TX,
  TY,
  TZ,
  W,
  WAVELENGTH,
} from './records.ts'
import { turnOf } from './turn.ts'

/**
 * Reflectance for unpolarised light, the mean of both polarisations [1], 0 to 1. cosIn in [0, 1]; gives 1 from the
 * critical angle on.
 */
export function fresnelMean(cosIn: number, nIn: number, nOut: number): number {
  const eta = nIn / nOut
  const sin2 = eta * eta * (1 - cosIn * cosIn)
  if (sin2 >= 1) return 1
  const cosOut = Math.sqrt(1 - sin2)
  const s = (nIn * cosIn - nOut * cosOut) / (nIn * cosIn + nOut * cosOut)
  const p = (nOut * cosIn - nIn * cosOut) / (nOut * cosIn + nIn * cosOut)
  return 0.5 * (s * s + p * p)
}

/**
 * True when the draw u is at least the mean reflectance: u ≥ ½ (A²/B² + C²/D²) [1], multiplied out so that nothing is
 * divided. eta = n(from)/n(to), cosines ≥ 0; not for total reflection.
 */
export function refracts(u: number, cosIn: number, cosOut: number, eta: number): boolean {
  const a = eta * cosIn - cosOut
  const b = eta * cosIn + cosOut
  const c = cosIn - eta * cosOut
  const d = cosIn + eta * cosOut
  const bb = b * b
  const dd = d * d
  return 2 * u * bb * dd >= a * a * dd + c * c * bb
}

/**
 * Reflects or refracts by a draw, in place: Snell, Fresnel [1], total reflection when it holds. Normal slots: unit
 * normal on the side the ray comes FROM; ETA: n(from)/n(to). True when refracted.
 */
export function cross(ray: Float64Array, stream: Int32Array): boolean {
  const dx = ray[DX]!
  const dy = ray[DY]!
  const dz = ray[DZ]!
  const nx = ray[NX]!
  const ny = ray[NY]!
  const nz = ray[NZ]!
  const eta = ray[ETA]!
  let cosIn = -(dx * nx + dy * ny + dz * nz)
  if (cosIn < 0) cosIn = 0
  const sin2 = eta * eta * (1 - cosIn * cosIn)
  if (sin2 < 1) {
    const cosOut = Math.sqrt(1 - sin2)
    if (refracts(draw(stream), cosIn, cosOut, eta)) {
      const k = eta * cosIn - cosOut
      const x = eta * dx + k * nx
      const y = eta * dy + k * ny
      const z = eta * dz + k * nz
      const scale = 1.5 - 0.5 * (x * x + y * y + z * z) // one Newton step keeps the length at 1
      ray[DX] = x * scale
      ray[DY] = y * scale
      ray[DZ] = z * scale
      return true
    }
  }
  ray[DX] = dx + 2 * cosIn * nx
  ray[DY] = dy + 2 * cosIn * ny
  ray[DZ] = dz + 2 * cosIn * nz
  return false
}

/** As `cross`, at a plane square to the axis: the normal is taken from the sign of dz. True when refracted. */
export function crossPlane(ray: Float64Array, stream: Int32Array): boolean {
  const eta = ray[ETA]!
  const dz = ray[DZ]!
  const cosIn = dz < 0 ? -dz : dz
  const sin2 = eta * eta * (1 - cosIn * cosIn)
  if (sin2 < 1) {
    const cosOut = Math.sqrt(1 - sin2)
    if (refracts(draw(stream), cosIn, cosOut, eta)) {
      ray[DX] = eta * ray[DX]!
      ray[DY] = eta * ray[DY]!
      ray[DZ] = dz < 0 ? -cosOut : cosOut
      return true
    }
  }
  ray[DZ] = -dz
  return false
}

/**
 * Bulk absorption over the PATH slot (mm): weight × exp(−a s) (Beer–Lambert law), a in 1/mm from the parameters: one value, or where it
 * varies, linear between those of the spectral grid at the ray's wavelength.
 * Short paths by the series, next term below 3e-9: a lens absorbs a per cent or two.
 */
export function absorb(ray: Float64Array, p: Float32Array): void {
  let a = p[P.lensAbsorption]!
  if (p[P.lensAbsorptionVaries]! > 0) {
    const s = (ray[WAVELENGTH]! - NM_FIRST) * (1 / NM_STEP)
    const i = Math.max(0, Math.min(NM_COUNT - 2, s | 0))
    const below = p[P.lensAbsorptionTable + i]!
    a = below + (s - i) * (p[P.lensAbsorptionTable + i + 1]! - below)
  }
  const x = a * ray[PATH]!
  ray[W]! *= x < 0.05 ? 1 - x * (1 - x * (1 / 2 - x * (1 / 6 - x * (1 / 24)))) : Math.exp(-x)
}

/**
 * A Lambertian direction about the unit normal in the axis slots, into the direction slots: cosθ = √u (inverse
 * transform, textbook).
 */
export function lambertian(ray: Float64Array, stream: Int32Array): void {
  const u = draw(stream)
  turnOf(ray, draw(stream))
  const sin = Math.sqrt(1 - u)
  ray[TX]! *= sin
  ray[TY]! *= sin
  ray[TZ] = Math.sqrt(u)
  tilt(ray)
}

/**
 * A rounded tip scatters the ray Lambertian into the half space ahead (`up`: +z of the local frame), in place, and
 * marks it as having met a tip. Our model, no source.
 */
export function scatterAlong(ray: Float64Array, stream: Int32Array, up: boolean): void {
  ray[RISER] = 1
  ray[NX] = 0
  ray[NY] = 0
  ray[NZ] = up ? 1 : -1
  lambertian(ray, stream)
}

/**
 * Turns the direction in the frame slots TX, TY, TZ into the frame about the unit axis slots (Duff et al., J. Comput.
 * Graph. Tech. 6 (2017) 1, branchless frame).
 */
export function tilt(ray: Float64Array): void {
  const nx = ray[NX]!
  const ny = ray[NY]!
  const nz = ray[NZ]!
  const a = ray[TX]!
  const b = ray[TY]!
  const c = ray[TZ]!
  const sign = nz >= 0 ? 1 : -1
  const p = -1 / (sign + nz)
  const q = nx * ny * p
  ray[DX] = a * (1 + sign * nx * nx * p) + b * q + c * nx
  ray[DY] = a * sign * q + b * (sign + ny * ny * p) + c * ny
  ray[DZ] = -a * sign * nx - b * ny + c * nz
}
