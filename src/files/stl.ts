// Binary STL, as printing programs read it: 80 bytes of head, the count of triangles, and for each its normal, three corners and two bytes,
// all little-endian single precision. Of no unit: everyone takes mm. Own code: the format is these lines, and a package brings none fewer.
import type { Mesh } from '../solids/mesh.ts'

const HEAD = 80
const EACH = 50

/** Of the meshes together, one behind the other. The head must not begin with "solid", which would say that it is text. */
export function writeStl(meshes: readonly Mesh[], title: string): Uint8Array {
  const count = meshes.reduce((n, m) => n + m.index.length / 3, 0)
  const bytes = new Uint8Array(HEAD + 4 + EACH * count)
  const head = `STL, mm: ${title.replace(/[^\x20-\x7e]/g, '_')}`.slice(0, HEAD)
  for (let i = 0; i < head.length; i++) bytes[i] = head.charCodeAt(i)
  const view = new DataView(bytes.buffer)
  view.setUint32(HEAD, count, true)
  let at = HEAD + 4
  for (const mesh of meshes)
    for (let i = 0; i < mesh.index.length; i += 3) {
      putTriangle(view, at, mesh, i)
      at += EACH
    }
  return bytes
}

function putTriangle(view: DataView, at: number, { position, index }: Mesh, first: number): void {
  const corner = (k: number): readonly [number, number, number] => {
    const v = 3 * (index[first + k] ?? 0)
    return [position[v] ?? 0, position[v + 1] ?? 0, position[v + 2] ?? 0]
  }
  const [a, b, c] = [corner(0), corner(1), corner(2)]
  const [ux, uy, uz] = [b[0] - a[0], b[1] - a[1], b[2] - a[2]]
  const [vx, vy, vz] = [c[0] - a[0], c[1] - a[1], c[2] - a[2]]
  const n = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx] as const
  const long = Math.hypot(...n) || 1
  for (const [k, v] of [...n.map((x) => x / long), ...a, ...b, ...c].entries()) view.setFloat32(at + 4 * k, v, true)
}
