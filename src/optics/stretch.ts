// A tunnel of several stretches: its sections, its walls' reflectance, and the steps where two stretches of different size meet.

import { draw } from './draws.ts'
import { lambertian } from './interface.ts'
import { DX, DY, DZ, NM_COUNT, NM_FIRST, NM_STEP, NX, NY, NZ, WAVELENGTH } from './records.ts'
import { scatterAbout } from './scatter.ts'
import * as STRETCH from './stretchRow.ts'
import { insideSection, RECTANGLE } from './wall.ts'

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
