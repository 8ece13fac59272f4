// Flat shapes as rounded convex polygons: the points of a convex core and a radius grown around it. A disc is one point, a slot
// with round ends two, a plate its corners with radius 0. One distance serves them all; an outline with notches is cut into convex parts.
import type { Box } from '../num/grid.ts'

export type Point = readonly [number, number]

export interface Shape {
  /** Anticlockwise; convex, unless there are parts. */
  core: readonly Point[]
  radiusMm: number
  /** Convex parts that make up the core. */
  parts?: readonly (readonly Point[])[]
}

export interface Gap {
  /** Shortest distance; below zero: the least shift that would part the two, or, with notches, the two parts that overlap most. */
  gapMm: number
  /** Midway between the nearest points, or inside what they share. */
  xMm: number
  yMm: number
}

export function shapeBox({ core, radiusMm }: Shape): Box {
  const box = { fromX: Infinity, fromY: Infinity, toX: -Infinity, toY: -Infinity }
  for (const [x, y] of core) {
    box.fromX = Math.min(box.fromX, x - radiusMm)
    box.fromY = Math.min(box.fromY, y - radiusMm)
    box.toX = Math.max(box.toX, x + radiusMm)
    box.toY = Math.max(box.toY, y + radiusMm)
  }
  return box
}

/** Farthest reach of the shape along a unit direction. */
export function support({ core, radiusMm }: Shape, nx: number, ny: number): number {
  let most = Number.NEGATIVE_INFINITY
  for (const [x, y] of core) most = Math.max(most, x * nx + y * ny)
  return most + radiusMm
}

export function gapBetween(a: Shape, b: Shape): Gap {
  if (!a.parts && !b.parts) return convexGap(a, b)
  let worst: Gap = { gapMm: Infinity, xMm: 0, yMm: 0 }
  const others = convexShapes(b).map((shape) => ({ shape, box: shapeBox(shape) }))
  for (const one of convexShapes(a)) {
    const box = shapeBox(one)
    for (const other of others) {
      if (boxGap(box, other.box) > worst.gapMm) continue
      const gap = convexGap(one, other.shape)
      if (gap.gapMm < worst.gapMm) worst = gap
    }
  }
  return worst
}

const convexShapes = (s: Shape): Shape[] => (s.parts ? s.parts.map((core) => ({ core, radiusMm: s.radiusMm })) : [s])

/** No more than the distance between what two boxes hold; below zero when they overlap. */
const boxGap = (a: Box, b: Box): number => Math.max(a.fromX - b.toX, b.fromX - a.toX, a.fromY - b.toY, b.fromY - a.toY)

/** The shape with each of its points moved. */
export const mapShape = ({ core, radiusMm, parts }: Shape, move: (x: number, y: number) => Point): Shape => ({
  core: core.map(([x, y]) => move(x, y)),
  radiusMm,
  ...(parts && { parts: parts.map((part) => part.map(([x, y]) => move(x, y))) }),
})

function convexGap(a: Shape, b: Shape): Gap {
  const inside = penetration(a.core, b.core)
  const near = inside ?? nearest(a.core, b.core)
  const [ax, ay, bx, by] = near
  const core = Math.hypot(bx - ax, by - ay) * (inside ? -1 : 1)
  // From a's nearest point towards b; within each other the two points lie crosswise, so the way is turned about.
  const ux = core === 0 ? 1 : (bx - ax) / core
  const uy = core === 0 ? 0 : (by - ay) / core
  return {
    gapMm: core - a.radiusMm - b.radiusMm,
    xMm: (ax + bx + ux * (a.radiusMm - b.radiusMm)) / 2,
    yMm: (ay + by + uy * (a.radiusMm - b.radiusMm)) / 2,
  }
}

type Pair = [ax: number, ay: number, bx: number, by: number]

/** Nearest points of two cores that lie apart: always a corner of one and an edge (or corner) of the other. */
function nearest(a: readonly Point[], b: readonly Point[]): Pair {
  let best: Pair = [0, 0, 0, 0]
  let least = Number.POSITIVE_INFINITY
  const tryOut = (corners: readonly Point[], edges: readonly Point[], swapped: boolean) => {
    for (const [px, py] of corners) {
      for (let i = 0; i < edges.length; i++) {
        const [x0, y0] = edges[i]!
        const [x1, y1] = edges[(i + 1) % edges.length]!
        const [dx, dy] = [x1 - x0, y1 - y0]
        const long = dx * dx + dy * dy
        const t = long > 0 ? Math.min(1, Math.max(0, ((px - x0) * dx + (py - y0) * dy) / long)) : 0
        const [qx, qy] = [x0 + t * dx, y0 + t * dy]
        const off = (px - qx) ** 2 + (py - qy) ** 2
        if (off >= least) continue
        least = off
        best = swapped ? [qx, qy, px, py] : [px, py, qx, qy]
      }
    }
  }
  tryOut(a, b, false)
  tryOut(b, a, true)
  return best
}

/** Null when the cores lie apart; else the pair of points along the least parting shift. (Separating axes.) */
function penetration(a: readonly Point[], b: readonly Point[]): Pair | null {
  let least = Number.POSITIVE_INFINITY
  let best: Pair | null = null
  const tryEdges = (own: readonly Point[], other: readonly Point[], swapped: boolean): boolean => {
    if (own.length < 2) return true
    for (let i = 0; i < own.length; i++) {
      const [x0, y0] = own[i]!
      const [x1, y1] = own[(i + 1) % own.length]!
      const long = Math.hypot(x1 - x0, y1 - y0)
      const [nx, ny] = [(y1 - y0) / long, (x0 - x1) / long]
      let deepest = Number.NEGATIVE_INFINITY
      let [dx, dy] = [0, 0]
      for (const [x, y] of other) {
        const depth = (x0 - x) * nx + (y0 - y) * ny
        if (depth > deepest) [deepest, dx, dy] = [depth, x, y]
      }
      if (deepest <= 0) return false
      if (deepest >= least) continue
      least = deepest
      // The deepest corner of the other, and its foot on this edge's line.
      const foot: [number, number] = [dx + nx * deepest, dy + ny * deepest]
      best = swapped ? [dx, dy, ...foot] : [...foot, dx, dy]
    }
    return true
  }
  if (!tryEdges(a, b, false) || !tryEdges(b, a, true)) return null
  return best
}
