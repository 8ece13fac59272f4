// Curves of drawings as chords that stay within a tolerance.
import { type Corner, nearestOnEdge } from '../num/polygon.ts'

/** No chord lies farther from its curve, mm. */
export const CHORD_MM = 0.02

export type Point = Corner

/** Plane affine map: x' = a x + c y + e, y' = b x + d y + f, as SVG's matrix() has it. */
export type Affine = readonly [a: number, b: number, c: number, d: number, e: number, f: number]

/** First `inner`, then `outer`. */
export const compose = (outer: Affine, inner: Affine): Affine => [
  outer[0] * inner[0] + outer[2] * inner[1],
  outer[1] * inner[0] + outer[3] * inner[1],
  outer[0] * inner[2] + outer[2] * inner[3],
  outer[1] * inner[2] + outer[3] * inner[3],
  outer[0] * inner[4] + outer[2] * inner[5] + outer[4],
  outer[1] * inner[4] + outer[3] * inner[5] + outer[5],
]

export const move = ([a, b, c, d, e, f]: Affine, [x, y]: Point): Point => [a * x + c * y + e, b * x + d * y + f]

/** Largest stretch of the map: its greater singular value. */
export function stretchOf([a, b, c, d]: Affine): number {
  const sum = a * a + b * b + c * c + d * d
  const det = a * d - b * c
  return Math.sqrt((sum + Math.sqrt(Math.max(0, sum * sum - 4 * det * det))) / 2)
}

/** Enough for a tolerance: the sagitta of a chord over the angle δ is r (1 − cos δ/2). */
export function arcSteps(radius: number, sweepRad: number, tolerance: number): number {
  const most = radius > tolerance ? 2 * Math.acos(1 - tolerance / radius) : Math.PI / 2
  return Math.max(1, Math.ceil(Math.abs(sweepRad) / Math.min(most, Math.PI / 2) - 1e-9))
}

/** Points of an elliptical arc (parametric angles, rad), both ends included. `u`, `v`: its half axes. */
export function ellipseArc(centre: Point, u: Point, v: Point, from: number, sweep: number, tolerance: number): Point[] {
  const n = arcSteps(Math.max(Math.hypot(...u), Math.hypot(...v)), sweep, tolerance)
  return Array.from({ length: n + 1 }, (_, i): Point => {
    const [c, s] = [Math.cos(from + (sweep * i) / n), Math.sin(from + (sweep * i) / n)]
    return [centre[0] + c * u[0] + s * v[0], centre[1] + c * u[1] + s * v[1]]
  })
}

const DEEPEST = 12

/** Points of a smooth curve over [from, to], both ends included, halved until the middle and the quarters of each chord are near enough. */
export function curve(at: (t: number) => Point, from: number, to: number, tolerance: number): Point[] {
  const points: Point[] = [at(from)]
  const halve = (t0: number, a: Point, t1: number, b: Point, depth: number) => {
    const middle = (t0 + t1) / 2
    const m = at(middle)
    const isNear = [m, at((t0 + middle) / 2), at((middle + t1) / 2)].every(([x, y]) => {
      const [qx, qy] = nearestOnEdge(x, y, a[0], a[1], b[0], b[1])
      return Math.hypot(qx - x, qy - y) <= tolerance
    })
    if (isNear && depth > 0) points.push(b)
    else if (depth >= DEEPEST) points.push(b)
    else {
      halve(t0, a, middle, m, depth + 1)
      halve(middle, m, t1, b, depth + 1)
    }
  }
  halve(from, points[0]!, to, at(to), 0)
  return points
}

/** Bézier curve of any degree (de Casteljau). */
export const bezier =
  (control: readonly Point[]) =>
  (t: number): Point => {
    let row = control
    while (row.length > 1) row = row.slice(1).map((p, i): Point => mix(row[i]!, p, t))
    return row[0]!
  }

const mix = (a: Point, b: Point, t: number): Point => [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]
