// Boards that are tilted so far that they stop light themselves: plane pieces, met from either side.
import * as BOARD from './boardRow.ts'
import * as FRAME from './frameRow.ts'
import * as P from './params.ts'
import { DX, DY, DZ, NX, NY, NZ, REACH, X, Y, Z } from './records.ts'
import { insideSection, sectionAt } from './wall.ts'

/** A board's plane lies so far under its surface, mm, that rounding keeps no emitter's own light back. */
export const UNDER = 0.01
const HEX = 0.8660254037844386
/** Less than this is the place that the ray stands on, mm. */
const AWAY = 1e-6

/**
 * Whether the ray meets a board before anything else of the lamp: the distance (mm) is then in its slot and the board's normal, on the side
 * that the ray comes from, in the axis slots. `p`: scene parameters; `boards`: records (boardRow.ts). Plane against line: textbook geometry.
 * A frustum is convex: what lies inside it at both ends of a straight way has met no wall.
 */
export function meetsBoard(ray: Float64Array, p: Float32Array, boards: Float32Array): boolean {
  return findBoard(ray, boards) && isClear(ray, p, ray[REACH]!)
}

/** The nearest board ahead, whatever stands before it: distance and normal as of meetsBoard; false: none. */
export function findBoard(ray: Float64Array, boards: Float32Array): boolean {
  let nearest = Number.POSITIVE_INFINITY
  for (let at = 0; at < boards.length; at += BOARD.size) {
    const m = at + FRAME.rotation
    const nx = boards[m + 2]!
    const ny = boards[m + 5]!
    const nz = boards[m + 8]!
    const x = ray[X]! - boards[at + FRAME.x]!
    const y = ray[Y]! - boards[at + FRAME.y]!
    const z = ray[Z]! - boards[at + FRAME.z]!
    const along = ray[DX]! * nx + ray[DY]! * ny + ray[DZ]! * nz
    const s = (-UNDER - (x * nx + y * ny + z * nz)) / along
    if (!(s > AWAY && s < nearest)) continue
    const qx = x + s * ray[DX]!
    const qy = y + s * ray[DY]!
    const qz = z + s * ray[DZ]!
    const u = boards[m]! * qx + boards[m + 3]! * qy + boards[m + 6]! * qz
    const v = boards[m + 1]! * qx + boards[m + 4]! * qy + boards[m + 7]! * qz
    if (!insideBoard(u, v, boards, at)) continue
    nearest = s
    const side = along > 0 ? -1 : 1
    ray[NX] = side * nx
    ray[NY] = side * ny
    ray[NZ] = side * nz
  }
  ray[REACH] = nearest
  return nearest < Number.POSITIVE_INFINITY
}

/** Whether a point of a board's own frame (mm) lies within its outline. */
export function insideBoard(u: number, v: number, boards: Float32Array, at: number): boolean {
  const shape = boards[at + BOARD.shape]!
  const halfX = boards[at + BOARD.halfX]!
  if (shape === 2) return u * u + v * v <= halfX * halfX
  if (Math.abs(u) > halfX || Math.abs(v) > boards[at + BOARD.halfY]!) return false
  return shape === 0 || 0.5 * Math.abs(u) + HEX * Math.abs(v) <= halfX
}

/** Whether neither face, wall nor lens stands in the straight way of length s, mm. */
function isClear(ray: Float64Array, p: Float32Array, s: number): boolean {
  const from = ray[Z]!
  const to = from + s * ray[DZ]!
  if (to < 0) return false
  if (p[P.lensKind]! > 0 && to >= p[P.lensFront]!) return false
  if (p[P.hasTunnel] === 0) return true
  const sides = p[P.sides]!
  for (let end = 0; end < 2; end++) {
    const z = end === 0 ? p[P.zIn]! : p[P.zOut]!
    if (from < z === to < z) continue
    const t = (z - from) / ray[DZ]!
    if (!insideSection(ray[X]! + t * ray[DX]!, ray[Y]! + t * ray[DY]!, sectionAt(p, z), sides)) return false
  }
  if (to < p[P.zIn]! || to > p[P.zOut]!) return true
  return insideSection(ray[X]! + s * ray[DX]!, ray[Y]! + s * ray[DY]!, sectionAt(p, to), sides)
}
