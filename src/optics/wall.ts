// The tunnel: a frustum about the axis, round or a regular polygon, met from inside.
// References: [1] Box & Muller, Ann. Math. Statist. 29 (1958) 610, normal deviates.
import { coneOut, NEVER } from './cone.ts'
import { draw } from './draws.ts'
import { lambertian, tilt } from './interface.ts'
import * as P from './params.ts'
import { DX, DY, DZ, NX, NY, NZ, REACH, SIDE, TX, TY, TZ, X, Y, Z } from './records.ts'
import * as STRETCH from './stretchRow.ts'
import { turnOf } from './turn.ts'

const TURN = 6.283185307179586
/** In place of a number of sides: two pairs of flat walls, the first facing +x, each pair with a size and a slope of its own (stretchRow.ts). */
export const RECTANGLE = -1

/**
 * True when (x, y) lies inside the tunnel's section, edge included. `half`: radius or apothem, mm; sides: 0 round,
 * else a regular polygon with its first flat facing +x.
 */
export function insideSection(x: number, y: number, half: number, sides: number): boolean {
  if (sides === 0) return x * x + y * y <= half * half
  for (let i = 0; i < sides; i++) {
    const phi = (TURN * i) / sides
    if (x * Math.cos(phi) + y * Math.sin(phi) > half) return false
  }
  return true
}

/** Half size of the section at z (radius or apothem), mm: r_in + (z − z_in) tanγ. */
export function sectionAt(p: Float32Array, z: number): number {
  return p[P.rIn]! + (z - p[P.zIn]!) * p[P.tanFlare]!
}

/**
 * Distance to the wall from inside (mm, NEVER when it isn't met) and the polygon's side that is met, into their
 * slots.
 */
export function toWall(ray: Float64Array, p: Float32Array): void {
  const half = sectionAt(p, ray[Z]!)
  const dHalf = ray[DZ]! * p[P.tanFlare]!
  const x = ray[X]!
  const y = ray[Y]!
  const dx = ray[DX]!
  const dy = ray[DY]!
  const sides = p[P.sides]!
  if (sides === 0) {
    ray[REACH] = coneOut(dx * dx + dy * dy - dHalf * dHalf, x * dx + y * dy - half * dHalf, x * x + y * y - half * half)
    return
  }
  if (sides === RECTANGLE) {
    toRectangle(ray, p)
    return
  }
  let nearest = NEVER
  for (let i = 0; i < sides; i++) {
    const phi = (TURN * i) / sides
    const c = Math.cos(phi)
    const s = Math.sin(phi)
    const toward = dx * c + dy * s - dHalf
    if (toward <= 0) continue
    const t = (half - x * c - y * s) / toward
    if (t < nearest) {
      nearest = t
      ray[SIDE] = i
    }
  }
  ray[REACH] = Math.max(nearest, 0)
}

/** As toWall, between two pairs of flat walls: each goes away from the axis by dz tanγ, and the ray towards it by its own share. */
function toRectangle(ray: Float64Array, p: Float32Array): void {
  const along = ray[Z]! - p[STRETCH.zIn]!
  const x = ray[X]!
  const y = ray[Y]!
  const dx = ray[DX]!
  const dy = ray[DY]!
  const awayX = ray[DZ]! * p[STRETCH.tanFlare]!
  const awayY = ray[DZ]! * p[STRETCH.tanFlareY]!
  const halfX = p[STRETCH.rIn]! + along * p[STRETCH.tanFlare]!
  const halfY = p[STRETCH.halfYIn]! + along * p[STRETCH.tanFlareY]!
  let nearest = NEVER
  for (let i = 0; i < 4; i++) {
    const sign = i < 2 ? 1 : -1
    const odd = (i & 1) === 1
    const toward = sign * (odd ? dy : dx) - (odd ? awayY : awayX)
    if (toward <= 0) continue
    const t = ((odd ? halfY : halfX) - sign * (odd ? y : x)) / toward
    if (t < nearest) {
      nearest = t
      ray[SIDE] = i
    }
  }
  ray[REACH] = Math.max(nearest, 0)
}

/** Tangent of the flare of the wall that the SIDE slot names. */
export function flareAt(ray: Float64Array, p: Float32Array): number {
  return p[P.sides]! === RECTANGLE && (ray[SIDE]! & 1) === 1 ? p[STRETCH.tanFlareY]! : p[P.tanFlare]!
}

/**
 * Draws the new direction after the wall, in place; the ray stands on the wall and its weight is the caller's.
 * Mirror-like with Gaussian slopes of standard deviation `wallScatter` (rad, redrawn until off the wall, Box and
 * Muller [1]), or Lambertian.
 */
export function leaveWall(ray: Float64Array, stream: Int32Array, p: Float32Array): void {
  const tan = flareAt(ray, p)
  const scale = 1 / Math.sqrt(1 + tan * tan)
  let cx: number
  let cy: number
  if (p[P.sides]! === 0) {
    const r = Math.max(Math.sqrt(ray[X]! * ray[X]! + ray[Y]! * ray[Y]!), 1e-12)
    const half = sectionAt(p, ray[Z]!)
    cx = ray[X]! / r
    cy = ray[Y]! / r
    ray[X] = cx * half // back onto the wall exactly
    ray[Y] = cy * half
  } else {
    const phi = (TURN * ray[SIDE]!) / (p[P.sides]! === RECTANGLE ? 4 : p[P.sides]!)
    cx = Math.cos(phi)
    cy = Math.sin(phi)
  }
  const nx = -cx * scale
  const ny = -cy * scale
  const nz = tan * scale
  if (p[P.wallSpecular]! < 1 && draw(stream) >= p[P.wallSpecular]!) {
    ray[NX] = nx
    ray[NY] = ny
    ray[NZ] = nz
    lambertian(ray, stream)
    return
  }
  const cos = ray[DX]! * nx + ray[DY]! * ny + ray[DZ]! * nz
  const mx = ray[DX]! - 2 * cos * nx
  const my = ray[DY]! - 2 * cos * ny
  const mz = ray[DZ]! - 2 * cos * nz
  const sigma = p[P.wallScatter]!
  ray[DX] = mx
  ray[DY] = my
  ray[DZ] = mz
  if (sigma === 0) return
  ray[NX] = mx
  ray[NY] = my
  ray[NZ] = mz
  for (let tries = 0; tries < 16; tries++) {
    const radius = sigma * Math.sqrt(-2 * Math.log(draw(stream))) // [1]
    turnOf(ray, draw(stream))
    const length = 1 / Math.sqrt(1 + radius * radius)
    ray[TX]! *= radius * length
    ray[TY]! *= radius * length
    ray[TZ] = length
    tilt(ray)
    if (ray[DX]! * nx + ray[DY]! * ny + ray[DZ]! * nz > 0) return
  }
  ray[DX] = mx // sixteen times across the wall: only at grazing light; keep the mirror direction
  ray[DY] = my
  ray[DZ] = mz
}
