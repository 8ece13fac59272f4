// Perspective between a picture and the wall, from marks seen in it.
// Own code: packages for this bring a whole library of computer vision; with the project's own eigenvectors it is thirty lines.
import { symmetricEigen } from '../../num/symmetricEigen.ts'

export type Point = readonly [x: number, y: number]

/** Row by row: (x, y, 1) goes to (h0 x + h1 y + h2, h3 x + h4 y + h5) / (h6 x + h7 y + h8). */
export type Homography = readonly number[]

/**
 * The homography that takes each point of `from` to its partner in `to`, four pairs or more: the direct linear transform in normalised coordinates (R.
 * Hartley, A. Zisserman, Multiple View Geometry in Computer Vision, 2nd ed. 2004, 4.1 and 4.4; from memory), the vector of least |Ah| being the
 * eigenvector of AᵀA. More than four: the least algebraic error. Null where the pairs give none: fewer than four, or three of four in a line.
 */
export function homographyFrom(from: readonly Point[], to: readonly Point[]): Homography | null {
  if (from.length < 4 || from.length !== to.length) return null
  if (from.length === 4 && (hasLine(from) || hasLine(to))) return null
  const [a, b] = [normaliser(from), normaliser(to)]
  if (!a || !b) return null
  const rows = from.flatMap((point, i) => {
    const [x, y] = a.apply(point)
    const [u, v] = b.apply(to[i] ?? [0, 0])
    return [
      [0, 0, 0, -x, -y, -1, v * x, v * y, v],
      [x, y, 1, 0, 0, 0, -u * x, -u * y, -u],
    ]
  })
  const nine = Array.from({ length: 9 }, (_, i) => i)
  const square = nine.map((i) => nine.map((j) => rows.reduce((sum, row) => sum + (row[i] ?? 0) * (row[j] ?? 0), 0)))
  const { values, vectors } = symmetricEigen(square)
  const least = vectors[values.indexOf(Math.min(...values))]
  if (!least) return null
  // to = T_b⁻¹ · H · T_a · from
  const [s, cx, cy] = [b.scale, b.centre[0], b.centre[1]]
  const back = [1 / s, 0, cx, 0, 1 / s, cy, 0, 0, 1]
  const there = [a.scale, 0, -a.scale * a.centre[0], 0, a.scale, -a.scale * a.centre[1], 0, 0, 1]
  const h = times(times(back, least), there)
  const size = Math.hypot(...h)
  return size > 0 && h.every(Number.isFinite) ? h.map((value) => value / size) : null
}

/** Where a point goes, in the units of the homography's second side; NaN on the line that goes to infinity. */
export function mapped(h: Homography, [x, y]: Point): Point {
  const [h0 = 0, h1 = 0, h2 = 0, h3 = 0, h4 = 0, h5 = 0, h6 = 0, h7 = 0, h8 = 0] = h
  const w = h6 * x + h7 * y + h8
  return [(h0 * x + h1 * y + h2) / w, (h3 * x + h4 * y + h5) / w]
}

/** True for four corners in turn of a quadrilateral that is convex: what a rectangle on a wall looks like from in front of it, whichever way round. */
export function isConvex(corners: readonly Point[]): boolean {
  const turns = corners.map((corner, i) => turn(corner, at(corners, i + 1), at(corners, i + 2)))
  return corners.length === 4 && (turns.every((t) => t > 0) || turns.every((t) => t < 0))
}

const at = (points: readonly Point[], i: number): Point => points[i % points.length] ?? [0, 0]
const turn = (a: Point, b: Point, c: Point): number => (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])

/** Three of four points lie in a line, to a thousandth of their extent squared. */
function hasLine(points: readonly Point[]): boolean {
  const xs = points.map((p) => p[0])
  const ys = points.map((p) => p[1])
  const extent = Math.max(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys))
  return points.some((_, skipped) => {
    const [a, b, c] = points.filter((_, i) => i !== skipped)
    return !a || !b || !c || Math.abs(turn(a, b, c)) <= 1e-3 * extent * extent
  })
}

interface Normaliser {
  scale: number
  centre: Point
  apply(p: Point): Point
}

/** Mean at zero, mean distance from it √2: Hartley & Zisserman 4.4.4. */
function normaliser(points: readonly Point[]): Normaliser | null {
  const n = points.length
  const cx = points.reduce((sum, p) => sum + p[0], 0) / n
  const cy = points.reduce((sum, p) => sum + p[1], 0) / n
  const mean = points.reduce((sum, p) => sum + Math.hypot(p[0] - cx, p[1] - cy), 0) / n
  if (!(mean > 0)) return null
  const scale = Math.SQRT2 / mean
  return { scale, centre: [cx, cy], apply: ([x, y]) => [scale * (x - cx), scale * (y - cy)] }
}

const times = (a: Homography, b: Homography): number[] =>
  [0, 1, 2].flatMap((i) =>
    [0, 1, 2].map((j) => [0, 1, 2].reduce((sum, k) => sum + (a[3 * i + k] ?? 0) * (b[3 * k + j] ?? 0), 0)),
  )
