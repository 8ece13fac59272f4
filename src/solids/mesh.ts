// Triangles of a solid: plain arrays, mm, closed and seen anticlockwise from outside.
import { NO_TURN, turnVector } from '../num/rotation.ts'
import type { Place } from './shape.ts'

export interface Mesh {
  position: Float32Array
  index: Uint32Array
}

export interface MeshBox {
  from: [number, number, number]
  to: [number, number, number]
}

/** The box about a mesh; of none an empty one, from above to. */
export function meshBox({ position }: Mesh): MeshBox {
  const box: MeshBox = { from: [Infinity, Infinity, Infinity], to: [-Infinity, -Infinity, -Infinity] }
  for (const [i, at] of position.entries()) {
    const k = (i % 3) as 0 | 1 | 2
    box.from[k] = Math.min(box.from[k], at)
    box.to[k] = Math.max(box.to[k], at)
  }
  return box
}

export const triangles = ({ index }: Mesh): number => index.length / 3

/** Corner of a triangle: index into `position` by 3. */
const at = (position: Float32Array, corner: number, k: number): number => position[3 * corner + k] ?? Number.NaN

/** Volume, mm³, by the divergence theorem: a sixth of the sum of each triangle's box product; below zero inside out. */
export function meshVolume({ position, index }: Mesh): number {
  let six = 0
  for (let i = 0; i < index.length; i += 3) {
    const [a, b, c] = [index[i]!, index[i + 1]!, index[i + 2]!]
    const [bx, by, bz] = [at(position, b, 0), at(position, b, 1), at(position, b, 2)]
    const [cx, cy, cz] = [at(position, c, 0), at(position, c, 1), at(position, c, 2)]
    six +=
      at(position, a, 0) * (by * cz - bz * cy) +
      at(position, a, 1) * (bz * cx - bx * cz) +
      at(position, a, 2) * (bx * cy - by * cx)
  }
  return six / 6
}

/** Where its place puts it. */
export function placedMesh({ position, index }: Mesh, { rotation, shiftMm: [dx, dy, dz] }: Place): Mesh {
  const moved = new Float32Array(position.length)
  for (let i = 0; i < position.length; i += 3) {
    const [x, y, z] = turnVector(rotation, [position[i]!, position[i + 1]!, position[i + 2]!])
    moved[i] = x + dx
    moved[i + 1] = y + dy
    moved[i + 2] = z + dz
  }
  return { position: moved, index }
}

/** On the bed: its box from the origin on. */
export function onBed(mesh: Mesh): Mesh {
  const [x, y, z] = meshBox(mesh).from
  return placedMesh(mesh, { rotation: NO_TURN, shiftMm: [-x, -y, -z] })
}
