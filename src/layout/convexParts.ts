// A simple polygon cut into convex parts: earcut's triangles, joined across their common edges while the union stays convex (S. Hertel and
// K. Mehlhorn, 1983: at most four times as many parts as the fewest). Distances between outlines with notches are then those between parts.
import earcut from 'earcut'
import { edgesOf, signedArea } from '../num/polygon.ts'
import type { Point } from './shape.ts'

/** Anticlockwise parts that together make the polygon; its corners anticlockwise too, its edges not crossing. */
export function convexParts(corners: readonly Point[]): Point[][] {
  if (isConvex(corners)) return [[...corners]]
  const pointsOf = (part: readonly number[]) => part.flatMap((k) => corners.slice(k, k + 1))
  /** By the edge that it runs along, in its own sense. */
  const partAt = new Map<string, number[]>()
  const own = (part: number[]) => {
    for (const [i, from] of part.entries()) partAt.set(`${from} ${part[(i + 1) % part.length]}`, part)
  }
  for (const triangle of trianglesOf(corners)) if (isConvex(pointsOf(triangle))) own(triangle)
  for (const key of [...partAt.keys()]) {
    const [from, to] = key.split(' ')
    const [a, b] = [partAt.get(key), partAt.get(`${to} ${from}`)]
    const union = a && b && a !== b ? joinParts(a, b, Number(from), Number(to)) : null
    if (union && isConvex(pointsOf(union))) own(union)
  }
  // Edges within a union keep the part that it came from; those about it name the union.
  return [...new Set(partAt.values())].filter((p) => isWhole(p, partAt)).map(pointsOf)
}

const isWhole = (part: readonly number[], partAt: ReadonlyMap<string, number[]>): boolean =>
  part.every((from, i) => partAt.get(`${from} ${part[(i + 1) % part.length]}`) === part)

/** Indices of corners, each triangle anticlockwise. */
function trianglesOf(corners: readonly Point[]): number[][] {
  const flat = earcut(corners.flat())
  return Array.from({ length: flat.length / 3 }, (_, i) => {
    const three = flat.slice(3 * i, 3 * i + 3)
    return signedArea(three.flatMap((k) => corners.slice(k, k + 1))) < 0 ? three.reverse() : three
  })
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

/** Two anticlockwise parts across an edge that runs from `from` to `to` in a, and back in b. */
function joinParts(a: readonly number[], b: readonly number[], from: number, to: number): number[] {
  const startingAt = (part: readonly number[], k: number) => [
    ...part.slice(part.indexOf(k)),
    ...part.slice(0, part.indexOf(k)),
  ]
  // From `to` round a to `from`, then on round b without both ends.
  return [...startingAt(a, to), ...startingAt(b, from).slice(1, -1)]
}
