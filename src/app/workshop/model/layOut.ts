// Where pieces of a solid are shown: of a lamp as they stand, printed ones side by side on the bed; y up.
import { type Mesh, meshBox } from '../../../solids/mesh.ts'
import type { MadePiece } from '../../../solids/parts.ts'

export interface LaidOut {
  pieces: Mesh[]
  /** Of the box about all of them, and half its diagonal, mm. */
  middle: [number, number, number]
  radius: number
}

const APART_MM = 10

export function laidOut(pieces: readonly MadePiece[], isPrinted: boolean): LaidOut {
  const placed = isPrinted ? inRows(pieces.map((p) => p.mesh)) : pieces.map((p) => p.mesh)
  const boxes = placed.map(meshBox)
  const low = (k: 0 | 1 | 2) => Math.min(...boxes.map((b) => b.from[k]))
  const high = (k: 0 | 1 | 2) => Math.max(...boxes.map((b) => b.to[k]))
  const sides = ([0, 1, 2] as const).map((k) => [low(k), high(k)] as const)
  const [sx, sy, sz] = sides as [readonly [number, number], readonly [number, number], readonly [number, number]]
  return {
    pieces: placed,
    middle: [(sx[0] + sx[1]) / 2, (sy[0] + sy[1]) / 2, (sz[0] + sz[1]) / 2],
    radius: Math.max(1, Math.hypot(sx[1] - sx[0], sy[1] - sy[0], sz[1] - sz[0]) / 2),
  }
}

/** In rows that are together about as long as they are deep. */
function inRows(meshes: readonly Mesh[]): Mesh[] {
  const sizes = meshes.map((mesh) => {
    const { from, to } = meshBox(mesh)
    return { from, wide: to[0] - from[0] + APART_MM, deep: to[1] - from[1] + APART_MM }
  })
  const rowMm = Math.max(
    Math.sqrt(sizes.reduce((sum, { wide, deep }) => sum + wide * deep, 0)),
    ...sizes.map((s) => s.wide),
  )
  let [x, y, deepest] = [0, 0, 0]
  return meshes.map((mesh, i): Mesh => {
    const { from, wide, deep } = sizes[i] ?? { from: [0, 0, 0], wide: 0, deep: 0 }
    if (x > 0 && x + wide > rowMm) [x, y, deepest] = [0, y + deepest, 0]
    const at = onFloor(mesh.position, x - (from[0] ?? 0), y - (from[1] ?? 0))
    x += wide
    deepest = Math.max(deepest, deep)
    return { position: at, index: mesh.index }
  })
}

/** The bed's z becomes y, its y goes away from the eye. */
function onFloor(position: Float32Array, shiftX: number, shiftY: number): Float32Array {
  const out = new Float32Array(position.length)
  for (let i = 0; i + 2 < position.length; i += 3) {
    out[i] = (position[i] ?? 0) + shiftX
    out[i + 1] = position[i + 2] ?? 0
    out[i + 2] = -(position[i + 1] ?? 0) - shiftY
  }
  return out
}
