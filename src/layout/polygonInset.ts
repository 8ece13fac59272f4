// The line that runs so far inside a polygon's edge, for drawings.
import { type Corner, distanceToEdges, isInPolygon, signedArea } from '../num/polygon.ts'
import { shareAt } from './polygonEdge.ts'

type Stretch = [Corner, Corner]

/** Chords of the arcs about corners that point inwards. */
const STEP_RAD = Math.PI / 18
const NEAR_MM = 1e-6

const known = new WeakMap<readonly Corner[], { insetMm: number; stretches: Stretch[] }>()

/** Stretches of the line, in the order of the polygon's edges; memoized, the last inset of each polygon. */
export function polygonInset(corners: readonly Corner[], insetMm: number): Stretch[] {
  const before = known.get(corners)
  if (before?.insetMm === insetMm) return before.stretches
  const stretches = makeInset(signedArea(corners) < 0 ? corners.toReversed() : corners, insetMm)
  known.set(corners, { insetMm, stretches })
  return stretches
}

/** Edges moved inwards and arcs about inward corners, cut where they meet, without what then lies too near to the edge. */
function makeInset(corners: readonly Corner[], insetMm: number): Stretch[] {
  const moved = corners.flatMap((c, i) => movedEdge(corners, i, c, insetMm))
  return moved.flatMap(([a, b]): Stretch[] => {
    const at = (t: number): Corner => [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]
    const cuts = moved.flatMap((other) => crossingOf(a, b, other)).sort((s, t) => s - t)
    const parts = [0, ...cuts, 1]
    return parts.slice(1).flatMap((to, k): Stretch[] => {
      const from = parts[k] ?? to
      if (to - from < 1e-9) return []
      const [x, y] = at((from + to) / 2)
      const isFree = isInPolygon(corners, x, y) && distanceToEdges(corners, x, y) >= insetMm - NEAR_MM
      return isFree ? [[at(from), at(to)]] : []
    })
  })
}

function movedEdge(corners: readonly Corner[], i: number, a: Corner, insetMm: number): Stretch[] {
  const before = corners.at(i - 1) ?? a
  const b = corners[(i + 1) % corners.length] ?? a
  const [normal, last] = [inward(a, b), inward(before, a)]
  const moved = (p: Corner, [x, y]: Corner): Corner => [p[0] + insetMm * x, p[1] + insetMm * y]
  const edge: Stretch = [moved(a, normal), moved(b, normal)]
  // A left turn points outwards: its moved edges meet. A right turn leaves a gap that an arc fills.
  const turn = Math.atan2(last[0] * normal[1] - last[1] * normal[0], last[0] * normal[0] + last[1] * normal[1])
  if (turn >= 0) return [edge]
  const from = Math.atan2(last[1], last[0])
  const steps = Math.ceil(-turn / STEP_RAD)
  // Tangents of the arc: nowhere nearer than it.
  const out = 1 / Math.cos(turn / steps / 2)
  const middles = Array.from({ length: steps }, (_, k): Corner => {
    const angle = from + (turn * (k + 0.5)) / steps
    return moved(a, [out * Math.cos(angle), out * Math.sin(angle)])
  })
  const arc = [moved(a, last), ...middles, moved(a, normal)]
  return [...arc.slice(1).map((to, k): Stretch => [arc[k] ?? to, to]), edge]
}

/** Of an edge of a polygon that runs anticlockwise. */
function inward(a: Corner, b: Corner): Corner {
  const long = Math.hypot(b[0] - a[0], b[1] - a[1])
  return [-(b[1] - a[1]) / long, (b[0] - a[0]) / long]
}

/** Where a stretch meets another, as a share of its way; none where they don't. */
function crossingOf(a: Corner, b: Corner, [c, d]: Stretch): number[] {
  const [t, u] = [shareAt(a, b, c, d), shareAt(c, d, a, b)]
  return t > 0 && t < 1 && u >= 0 && u <= 1 ? [t] : []
}
