// The sums of the searches in air, straight from what they mean: point by point and cell by cell, segment by segment.
import type { Segments } from '../../src/run/segments.ts'

type V3 = readonly [number, number, number]

const columns = (s: Segments) => [s.xMm, s.yMm, s.zMm] as const
const slopes = (s: Segments) => [s.dx, s.dy, s.dz] as const

/**
 * Watts of the segments whose line passes within `radius` of a point and that reach across its plane: the one square to the axis that the
 * segment runs along most (of equal ones the first).
 */
export function slowBallW(segments: Segments, [px, py, pz]: V3, radius: number): number {
  let sum = 0
  for (let i = 0; i < segments.count; i++) {
    const [dx, dy, dz] = [segments.dx[i]!, segments.dy[i]!, segments.dz[i]!]
    const [x, y, z] = [segments.xMm[i]! - px, segments.yMm[i]! - py, segments.zMm[i]! - pz]
    const along = x * dx + y * dy + z * dz
    if (x * x + y * y + z * z - along * along > 1.01 * radius * radius) continue
    const [ax, ay, az] = [Math.abs(dx), Math.abs(dy), Math.abs(dz)]
    const most = Math.max(ax, ay, az)
    const [from, d] = ax === most ? [x, dx] : ay === most ? [y, dy] : [z, dz]
    const t = -from / d
    if (t < -1e-9 || t > segments.lengthMm[i]! + 1e-9) continue
    const [qx, qy, qz] = [x + t * dx, y + t * dy, z + t * dz]
    const off = qx * dx + qy * dy + qz * dz
    if (qx * qx + qy * qy + qz * qz - off * off <= radius * radius * (1 + 1e-9)) sum += segments.watts[i]!
  }
  return sum
}

/** Watts times path in the box from `low` to `low` + `size`, W mm. */
export function slowFluence(segments: Segments, low: V3, size: number): number {
  let sum = 0
  for (let i = 0; i < segments.count; i++) {
    let [from, to] = [0, segments.lengthMm[i]!]
    for (let k = 0; k < 3; k++) {
      const [x, d] = [columns(segments)[k]![i]! - low[k]!, slopes(segments)[k]![i]!]
      if (d === 0) {
        if (x < 0 || x > size) to = from
        continue
      }
      const [a, b] = [-x / d, (size - x) / d]
      from = Math.max(from, Math.min(a, b))
      to = Math.min(to, Math.max(a, b))
    }
    sum += segments.watts[i]! * Math.max(0, to - from)
  }
  return sum
}
