// A tunnel of several stretches: its sections, its walls' reflectance, and the steps where two stretches of different size meet.

import { draw } from './draws.ts'
import { lambertian } from './interface.ts'
import { DX, DY, DZ, NM_COUNT, NM_FIRST, NM_STEP, NX, NY, NZ, WAVELENGTH } from './records.ts'
import { scatterAbout } from './scatter.ts'
import * as STRETCH from './stretchRow.ts'
import { shareOfTurn } from './turn.ts'
import { insideSection, RECTANGLE } from './wall.ts'

const TURN = 6.283185307179586

/** Whether (x, y), mm, lies inside the stretch's section at height z, edge included. `row`: stretchRow.ts. Definition. */
export function insideStretch(row: Float32Array, x: number, y: number, z: number): boolean {
  const along = z - row[STRETCH.zIn]!
  const half = row[STRETCH.rIn]! + along * row[STRETCH.tanFlare]!
  const sides = row[STRETCH.sides]!
  if (sides !== RECTANGLE) return insideSection(x, y, half, sides)
  return Math.abs(x) <= half && Math.abs(y) <= row[STRETCH.halfYIn]! + along * row[STRETCH.tanFlareY]!
}

/** Reflectance of the stretch's finish at the ray's wavelength, 0 to 1: one value, or linear between those of the spectral grid. */
export function stretchReflectance(ray: Float64Array, row: Float32Array): number {
  if (row[STRETCH.rhoVaries]! === 0) return row[STRETCH.wallRho]!
  const s = (ray[WAVELENGTH]! - NM_FIRST) * (1 / NM_STEP)
  const i = Math.max(0, Math.min(NM_COUNT - 2, s | 0))
  const below = row[STRETCH.rhoTable + i]!
  return below + Math.max(0, Math.min(1, s - i)) * (row[STRETCH.rhoTable + i + 1]! - below)
}

/**
 * Draws the new direction after a step, a wall square to the axis, in place: as leaveWall with the normal against the ray. `row`: the
 * stretch that the ray is in, the wider of the two there, whose finish the step has. Which side it is lit from follows from dz, not 0.
 */
export function leaveStep(ray: Float64Array, stream: Int32Array, row: Float32Array): void {
  const up = ray[DZ]! < 0 ? 1 : -1
  if (row[STRETCH.wallSpecular]! < 1 && draw(stream) >= row[STRETCH.wallSpecular]!) {
    ray[NX] = 0
    ray[NY] = 0
    ray[NZ] = up
    lambertian(ray, stream)
    return
  }
  ray[DZ] = -ray[DZ]!
  if (row[STRETCH.wallScatter]! === 0) return
  const mx = ray[DX]!
  const my = ray[DY]!
  const mz = ray[DZ]!
  for (let tries = 0; tries < 16; tries++) {
    scatterAbout(ray, stream, mx, my, mz, row[STRETCH.wallScatter]!)
    if (ray[DZ]! * up > 0) return
  }
  ray[DX] = mx // sixteen times across the wall: only at grazing light; keep the mirror direction
  ray[DY] = my
  ray[DZ] = mz
}

/** Half the section at height z, mm: along x, or radius, or apothem; `odd`: of a rectangle along y. Linear. */
function halfAt(row: Float32Array, z: number, odd: boolean): number {
  const along = z - row[STRETCH.zIn]!
  return odd
    ? row[STRETCH.halfYIn]! + along * row[STRETCH.tanFlareY]!
    : row[STRETCH.rIn]! + along * row[STRETCH.tanFlare]!
}

/**
 * How far (x, y), mm, on the step at the upper end of `below` lies from the section below to that above, 0 to 1: on the outline that is so far
 * between the two. Of a rectangle by the pair of sides that comes last. Derived.
 */
export function shareOfStep(below: Float32Array, above: Float32Array, x: number, y: number): number {
  const z = below[STRETCH.zOut]!
  const sides = below[STRETCH.sides]!
  const from = halfAt(below, z, false)
  const to = halfAt(above, z, false)
  if (sides !== RECTANGLE) return Math.max(0, Math.min(1, (acrossSection(x, y, sides) - from) / (to - from)))
  const fromY = halfAt(below, z, true)
  const toY = halfAt(above, z, true)
  // Beside the narrower in x, in y, or in both.
  const besideX = Math.abs(x) > Math.min(from, to)
  const besideY = Math.abs(y) > Math.min(fromY, toY)
  const inX = (Math.abs(x) - from) / (to - from)
  const inY = (Math.abs(y) - fromY) / (toY - fromY)
  let share = besideY ? inY : inX
  if (besideX && besideY) share = from > to && fromY > toY ? Math.min(inX, inY) : Math.max(inX, inY)
  return Math.max(0, Math.min(1, share))
}

/** Radius, or the distance across a polygon's flats, mm. */
function acrossSection(x: number, y: number, sides: number): number {
  if (sides === 0) return Math.sqrt(x * x + y * y)
  let most = 0
  for (let i = 0; i < sides; i++) {
    const phi = (TURN * i) / sides
    most = Math.max(most, x * Math.cos(phi) + y * Math.sin(phi))
  }
  return most
}

/**
 * Share of the way round the section, [0, 1), from the middle of the flat at +x anticlockwise: of the azimuth; on a rectangle a quarter for each
 * flat, even along it, so that a narrow flat is resolved as well as a wide one. `z`: height whose section counts. Our choice.
 */
export function shareRound(row: Float32Array, x: number, y: number, z: number): number {
  if (row[STRETCH.sides]! !== RECTANGLE) return shareOfTurn(x, y)
  const u = x / halfAt(row, z, false)
  const v = y / halfAt(row, z, true)
  const au = Math.abs(u)
  const av = Math.abs(v)
  const share =
    av > au ? (v > 0 ? 0.25 - u / (8 * av) : 0.75 + u / (8 * av)) : u > 0 ? v / (8 * au) : 0.5 - v / (8 * au)
  return share < 0 ? Math.min(share + 1, 0.9999999) : share
}
