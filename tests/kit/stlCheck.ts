// STL read by three's loader, an implementation of its own, and judged from its corners alone.
import { STLLoader } from 'three/examples/jsm/loaders/STLLoader.js'

export interface StlReport {
  triangles: number
  volumeMm3: number
  /** Edges that don't have exactly one other in the opposite direction. */
  openEdges: number
  /** Triangles whose stated normal isn't that of their corners. */
  wrongNormals: number
  /** Openings that go right through, of a closed surface: V − E + F = 2 · (bodies − openings), by L. Euler and S. L'Huilier (any book on topology). */
  openings: number
  size: [number, number, number]
  from: [number, number, number]
}

/** Corners are one where their coordinates are the same bits: STL has no other way to say so. */
export function stlReport(bytes: Uint8Array): StlReport {
  const buffer = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer
  const geometry = new STLLoader().parse(buffer)
  const position = geometry.getAttribute('position')
  const normal = geometry.getAttribute('normal')
  const at = (i: number): [number, number, number] => [position.getX(i), position.getY(i), position.getZ(i)]
  const corners = new Map<string, number>()
  // The bits as text: four times as fast as decimals. −0 is 0.
  const place = new Float32Array(3)
  const halves = new Uint16Array(place.buffer)
  const cornerOf = ([x, y, z]: V): number => {
    place.set([x + 0, y + 0, z + 0])
    const key = String.fromCharCode(...halves)
    const found = corners.get(key) ?? corners.size
    corners.set(key, found)
    return found
  }
  // Edges by their two corners, as one number.
  const edges = new Map<number, number>()
  // Corners of one body lead to the same one.
  const leads: number[] = []
  const leadOf = (i: number): number => {
    let at = i
    for (let next = leads[at] ?? at; next !== at; next = leads[at] ?? at) at = next
    leads[i] = at
    return at
  }
  const MANY = 2 ** 26
  let [volumeMm3, wrongNormals] = [0, 0]
  for (let i = 0; i < position.count; i += 3) {
    const [a, b, c] = [at(i), at(i + 1), at(i + 2)]
    volumeMm3 += dot(a, cross(b, c)) / 6
    const across = cross(minus(b, a), minus(c, a))
    const area = Math.hypot(...across)
    const stated = dot(across, [normal.getX(i), normal.getY(i), normal.getZ(i)])
    // Slivers have no direction in single precision.
    if (area > 1e-3 && stated < 0.98 * area) wrongNormals++
    const [p, q, r] = [cornerOf(a), cornerOf(b), cornerOf(c)]
    for (const other of [q, r]) leads[leadOf(other)] = leadOf(p)
    for (const edge of [p * MANY + q, q * MANY + r, r * MANY + p]) edges.set(edge, (edges.get(edge) ?? 0) + 1)
  }
  let openEdges = 0
  for (const [edge, n] of edges) if (edges.get((edge % MANY) * MANY + Math.floor(edge / MANY)) !== n) openEdges++
  const euler = corners.size - edges.size / 2 + position.count / 3
  const bodies = new Set(Array.from({ length: corners.size }, (_, i) => leadOf(i))).size
  geometry.computeBoundingBox()
  const box = geometry.boundingBox
  if (!box) throw new Error('no box')
  return {
    ...{ triangles: position.count / 3, volumeMm3, openEdges, wrongNormals, openings: bodies - euler / 2 },
    size: [box.max.x - box.min.x, box.max.y - box.min.y, box.max.z - box.min.z],
    from: [box.min.x, box.min.y, box.min.z],
  }
}

type V = readonly [number, number, number]
const minus = (a: V, b: V): V => [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
const cross = (a: V, b: V): V => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
const dot = (a: V, b: V): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
