// A simple polygon cut into convex parts: earcut's triangles, joined across their common edges while the union stays convex (S. Hertel and
// K. Mehlhorn, 1983: at most four times as many parts as the fewest). Distances between outlines with notches are then those between parts.
import earcut from 'earcut'
import type { Point } from './shape.ts'

/** Anticlockwise parts that together make the polygon; its corners anticlockwise too, its edges not crossing. */
export function convexParts(corners: readonly Point[]): Point[][] {
  if (isConvex(corners)) return [[...corners]]
  const triangles = earcut(corners.flat())
  let parts: number[][] = []
  for (let i = 0; i < triangles.length; i += 3) {
    const [a, b, c] = [triangles[i]!, triangles[i + 1]!, triangles[i + 2]!]
    const turn = turnAt(corners[a]!, corners[b]!, corners[c]!)
    if (turn !== 0) parts.push(turn > 0 ? [a, b, c] : [a, c, b])
  }
  for (let joined = true; joined; ) {
    joined = false
    for (let i = 0; i < parts.length && !joined; i++) {
      for (let j = i + 1; j < parts.length && !joined; j++) {
        const union = joinParts(parts[i]!, parts[j]!)
        if (!union || !isConvex(union.map((k) => corners[k]!))) continue
        parts = [...parts.slice(0, i), union, ...parts.slice(i + 1, j), ...parts.slice(j + 1)]
        joined = true
      }
    }
  }
  return parts.map((part) => part.map((k) => corners[k]!))
}

/** Twice the area of the triangle; above zero where the way turns left. */
const turnAt = (a: Point, b: Point, c: Point): number => (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])

const isConvex = (corners: readonly Point[]): boolean => {
  const n = corners.length
  let turns = 0
  for (let i = 0; i < n; i++) {
    const [a, b, c] = [corners[i]!, corners[(i + 1) % n]!, corners[(i + 2) % n]!]
    if (turnAt(a, b, c) < 0) return false
    turns += Math.atan2(turnAt(a, b, c), (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1]))
  }
  return turns < 3 * Math.PI // once round, not twice
}

/** Two anticlockwise parts across an edge that both have, once each way; null without one. */
function joinParts(a: readonly number[], b: readonly number[]): number[] | null {
  for (let i = 0; i < a.length; i++) {
    const [from, to] = [a[i]!, a[(i + 1) % a.length]!]
    const j = b.indexOf(to)
    if (j < 0 || b[(j + 1) % b.length] !== from) continue
    // From `to` round a to `from`, then on round b without both ends.
    const ofA = [...a.slice(i + 1), ...a.slice(0, i + 1)]
    const ofB = [...b.slice(j + 1), ...b.slice(0, j + 1)].slice(1, -1)
    return [...ofA, ...ofB]
  }
  return null
}
