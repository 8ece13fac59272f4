// A simple polygon cut into convex parts: earcut's triangles, joined across their common edges while the union stays convex (S. Hertel and
// K. Mehlhorn, 1983: at most four times as many parts as the fewest). Distances between outlines with notches are then those between parts.
import earcut from 'earcut'
import { edgesOf, signedArea } from '../num/polygon.ts'
import type { Point } from './shape.ts'

/** Anticlockwise parts that together make the polygon; its corners anticlockwise too, its edges not crossing. */
export function convexParts(corners: readonly Point[]): Point[][] {
  if (isConvex(corners)) return [[...corners]]
  const pointsOf = (part: readonly number[]) => part.flatMap((k) => corners.slice(k, k + 1))
  let parts = trianglesOf(corners).filter((t) => isConvex(pointsOf(t)))
  for (let joined = joinTwo(parts, pointsOf); joined; joined = joinTwo(parts, pointsOf)) parts = joined
  return parts.map(pointsOf)
}

/** Indices of corners, each triangle anticlockwise. */
function trianglesOf(corners: readonly Point[]): number[][] {
  const flat = earcut(corners.flat())
  return Array.from({ length: flat.length / 3 }, (_, i) => {
    const three = flat.slice(3 * i, 3 * i + 3)
    return signedArea(three.flatMap((k) => corners.slice(k, k + 1))) < 0 ? three.reverse() : three
  })
}

/** The parts with the first two joined whose union is convex; null where there are none. */
function joinTwo(parts: number[][], pointsOf: (part: readonly number[]) => Point[]): number[][] | null {
  for (const a of parts) {
    for (const b of parts) {
      const union = a === b ? null : joinParts(a, b)
      if (union && isConvex(pointsOf(union))) return [...parts.filter((p) => p !== a && p !== b), union]
    }
  }
  return null
}

/** Anticlockwise, once round, no area nor turn below zero. */
function isConvex(corners: readonly Point[]): boolean {
  if (!(signedArea(corners) > 0)) return false
  const edges = edgesOf(corners)
  let before = edges.at(-1)
  let turned = 0
  for (const edge of edges) {
    const [ux, uy] = wayOf(before ?? edge)
    const [vx, vy] = wayOf(edge)
    const turn = Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy)
    if (turn < 0) return false
    turned += turn
    before = edge
  }
  return turned < 3 * Math.PI
}

const wayOf = ([a, b]: readonly [Point, Point]): Point => [b[0] - a[0], b[1] - a[1]]

/** Two anticlockwise parts across an edge that both have, once each way; null without one. */
function joinParts(a: readonly number[], b: readonly number[]): number[] | null {
  for (const [i, from] of a.entries()) {
    const to = a[(i + 1) % a.length] ?? from
    const j = b.indexOf(to)
    if (j < 0 || b[(j + 1) % b.length] !== from) continue
    // From `to` round a to `from`, then on round b without both ends.
    const ofA = [...a.slice(i + 1), ...a.slice(0, i + 1)]
    const ofB = [...b.slice(j + 1), ...b.slice(0, j + 1)].slice(1, -1)
    return [...ofA, ...ofB]
  }
  return null
}
