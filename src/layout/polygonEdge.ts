// Room from a shape to the edge of a polygon that it should lie in.
import { type Corner, distanceToEdges, doMeet, edgesOf, isInPolygon, nearestOnEdge } from '../num/polygon.ts'
import { type Gap, type Point, type Shape, shapeBox } from './shape.ts'

type Edge = [Corner, Corner]

/**
 * Exact for a shape inside. Below zero it overhangs: by its point farthest out, or the polygon's corner farthest in it.
 */
export function polygonEdgeGap(corners: readonly Corner[], shape: Shape): Gap {
  const { core, radiusMm } = shape
  const near = nearEdges(corners, shape)
  const solid = core.length > 2
  let worst: Gap = { gapMm: Infinity, xMm: 0, yMm: 0 }
  const hear = (gapMm: number, xMm: number, yMm: number) => {
    if (gapMm < worst.gapMm) worst = { gapMm, xMm, yMm }
  }
  for (const [x, y] of core) {
    const away = distanceToNear(near, x, y)
    hear(isInPolygon(corners, x, y) ? away : -away, x, y)
  }
  if (core.length > 1) {
    for (const [[x, y]] of near) {
      const away = distanceToEdges(core, x, y)
      hear(solid && isInPolygon(core, x, y) ? -away : away, x, y)
    }
    const crossed = crossingDepth(corners, near, core)
    if (crossed) hear(crossed.gapMm, crossed.xMm, crossed.yMm)
  }
  return { ...worst, gapMm: worst.gapMm - radiusMm }
}

/** Edges that can hold the nearest point of the polygon: no farther than the nearest one from the shape's middle and twice its reach. */
function nearEdges(corners: readonly Corner[], shape: Shape): Edge[] {
  const box = shapeBox(shape)
  const [x, y] = [(box.fromX + box.toX) / 2, (box.fromY + box.toY) / 2]
  const reach = Math.hypot(box.toX - x, box.toY - y)
  const edges = edgesOf(corners)
  const least = distanceToEdges(corners, x, y)
  return edges.filter((edge) => distanceToNear([edge], x, y) <= least + 2 * reach)
}

function distanceToNear(edges: readonly Edge[], x: number, y: number): number {
  let least = Number.POSITIVE_INFINITY
  for (const [[x0, y0], [x1, y1]] of edges) {
    const [qx, qy] = nearestOnEdge(x, y, x0, y0, x1, y1)
    least = Math.min(least, (qx - x) ** 2 + (qy - y) ** 2)
  }
  return Math.sqrt(least)
}

/** Where the shape's sides run out over the edge and back in, as over a notch: the middle of the stretch outside, and how far out it lies. */
function crossingDepth(corners: readonly Corner[], near: readonly Edge[], core: readonly Point[]): Gap | null {
  let worst: Gap | null = null
  for (const [a, b] of edgesOf(core)) {
    const at = near.flatMap(([c, d]) => (doMeet(a, b, c, d) ? [shareAt(a, b, c, d)] : [])).sort((s, t) => s - t)
    for (const [i, before] of at.entries()) {
      const t = (before + (at[i + 1] ?? before)) / 2
      const [x, y] = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]
      if (isInPolygon(corners, x, y)) continue
      const gapMm = -distanceToNear(near, x, y)
      if (!worst || gapMm < worst.gapMm) worst = { gapMm, xMm: x, yMm: y }
    }
  }
  return worst
}

/** Of the way from a to b, up to the line through c and d; 0 where it runs along that. */
export function shareAt(a: Point, b: Point, c: Point, d: Point): number {
  const across = (b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0])
  return across === 0 ? 0 : ((c[0] - a[0]) * (d[1] - c[1]) - (c[1] - a[1]) * (d[0] - c[0])) / across
}
