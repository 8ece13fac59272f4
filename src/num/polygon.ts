// Closed polygons in the plane, convex or not, either way round, without repeated corners. No library: what the lamp asks of them is a few
// loops over the edges, in workers too; libraries for polygons (clipper2, polyclip) unite and offset them, which nothing here needs, and
// an index of boxes (flatbush) gains nothing at 400 edges.

import type { Box } from './grid.ts'

export type Corner = readonly [number, number]

/** Area by the shoelace formula; below zero when the corners run clockwise. */
export function signedArea(corners: readonly Corner[]): number {
  let twice = 0
  forEachEdge(corners, (x0, y0, x1, y1) => {
    twice += x0 * y1 - x1 * y0
  })
  return twice / 2
}

/** Centroid of the area, in the corners' unit; the first corner of one without area. Green's theorem, textbook. */
export function centroid(corners: readonly Corner[]): [number, number] {
  let [x, y] = [0, 0]
  forEachEdge(corners, (x0, y0, x1, y1) => {
    const cross = x0 * y1 - x1 * y0
    x += (x0 + x1) * cross
    y += (y0 + y1) * cross
  })
  const six = 6 * signedArea(corners)
  const [first] = corners
  return six === 0 ? [first?.[0] ?? 0, first?.[1] ?? 0] : [x / six, y / six]
}

/** Length of all edges together, in the corners' unit. */
export function perimeter(corners: readonly Corner[]): number {
  let sum = 0
  forEachEdge(corners, (x0, y0, x1, y1) => {
    sum += Math.hypot(x1 - x0, y1 - y0)
  })
  return sum
}

/** Even-odd rule: a ray from the point to +x crosses the edges an odd number of times. Points of an edge may fall on either side. */
export function isInPolygon(corners: readonly Corner[], x: number, y: number): boolean {
  let inside = false
  forEachEdge(corners, (x0, y0, x1, y1) => {
    if (y0 > y !== y1 > y && x < ((x1 - x0) * (y - y0)) / (y1 - y0) + x0) inside = !inside
  })
  return inside
}

/** Where the line along y at x runs through the polygon: from and to of each stretch, rising. */
export function stretchesAlongY(corners: readonly Corner[], x: number): [number, number][] {
  const crossings: number[] = []
  forEachEdge(corners, (x0, y0, x1, y1) => {
    if (x0 > x !== x1 > x) crossings.push(y0 + ((x - x0) * (y1 - y0)) / (x1 - x0))
  })
  crossings.sort((a, b) => a - b)
  return crossings.flatMap((y, i): [number, number][] => (i % 2 === 1 ? [[crossings[i - 1] ?? y, y]] : []))
}

/** Length of the polygon along y at x, all its stretches together; 0 beside it. */
export const chordAlongY = (corners: readonly Corner[], x: number): number =>
  stretchesAlongY(corners, x).reduce((sum, [from, to]) => sum + to - from, 0)

/** The box along the axes that holds all corners; infinite, the wrong way round, for none. */
export function boxOfCorners(corners: readonly Corner[]): Box {
  const box = { fromX: Infinity, toX: -Infinity, fromY: Infinity, toY: -Infinity }
  for (const [x, y] of corners) {
    box.fromX = Math.min(box.fromX, x)
    box.toX = Math.max(box.toX, x)
    box.fromY = Math.min(box.fromY, y)
    box.toY = Math.max(box.toY, y)
  }
  return box
}

/** Farthest corner from the origin. */
export const farthest = (corners: readonly Corner[]): number =>
  corners.reduce((most, [x, y]) => Math.max(most, Math.hypot(x, y)), 0)

/** The nearest point of a stretch. */
export function nearestOnEdge(x: number, y: number, x0: number, y0: number, x1: number, y1: number): [number, number] {
  const [dx, dy] = [x1 - x0, y1 - y0]
  const long = dx * dx + dy * dy
  const t = long > 0 ? Math.min(1, Math.max(0, ((x - x0) * dx + (y - y0) * dy) / long)) : 0
  return [x0 + t * dx, y0 + t * dy]
}

/** Distance to the nearest point of the edges, from inside or outside. */
export function distanceToEdges(corners: readonly Corner[], x: number, y: number): number {
  let least = Number.POSITIVE_INFINITY
  forEachEdge(corners, (x0, y0, x1, y1) => {
    const [qx, qy] = nearestOnEdge(x, y, x0, y0, x1, y1)
    least = Math.min(least, (qx - x) ** 2 + (qy - y) ** 2)
  })
  return Math.sqrt(least)
}

/** Two stretches that have a point in common, ends included. */
export function doMeet(a: Corner, b: Corner, c: Corner, d: Corner): boolean {
  const [abc, abd, cda, cdb] = [side(a, b, c), side(a, b, d), side(c, d, a), side(c, d, b)]
  if (abc * abd < 0 && cda * cdb < 0) return true
  return (
    (abc === 0 && isBetween(a, b, c)) ||
    (abd === 0 && isBetween(a, b, d)) ||
    (cda === 0 && isBetween(c, d, a)) ||
    (cdb === 0 && isBetween(c, d, b))
  )
}

/** Indices of the corners where two edges begin that cross, touch or fold back on each other; null: none do. */
export function findCrossing(corners: readonly Corner[]): [number, number] | null {
  const edges = edgesOf(corners)
  for (const [i, [a, b]] of edges.entries()) {
    for (const [j, [c, d]] of edges.entries()) {
      if (j <= i) continue
      const follows = j === i + 1
      const leads = i === 0 && j === edges.length - 1
      if (!follows && !leads) {
        if (doMeet(a, b, c, d)) return [i, j]
      } else if (foldsBack(...(follows ? ([a, b, d] as const) : ([c, a, b] as const)))) return [i, j]
    }
  }
  return null
}

/** Neighbours share a corner: the way may not turn about there. */
const foldsBack = (before: Corner, at: Corner, after: Corner): boolean =>
  side(before, at, after) === 0 &&
  (before[0] - at[0]) * (after[0] - at[0]) + (before[1] - at[1]) * (after[1] - at[1]) > 0

const side = (a: Corner, b: Corner, c: Corner): number =>
  Math.sign((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]))

const isBetween = (a: Corner, b: Corner, c: Corner): boolean =>
  Math.min(a[0], b[0]) <= c[0] &&
  c[0] <= Math.max(a[0], b[0]) &&
  Math.min(a[1], b[1]) <= c[1] &&
  c[1] <= Math.max(a[1], b[1])

/** Each corner with the next, in order. */
export const edgesOf = (corners: readonly Corner[]): [Corner, Corner][] =>
  corners.map((c, i): [Corner, Corner] => [c, corners[(i + 1) % corners.length] ?? c])

function forEachEdge(
  corners: readonly Corner[],
  visit: (x0: number, y0: number, x1: number, y1: number) => void,
): void {
  let last = corners.at(-1)
  for (const corner of corners) {
    if (last) visit(last[0], last[1], corner[0], corner[1])
    last = corner
  }
}
