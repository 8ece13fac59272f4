// The thresholds as outlines in front of the lamp: which are drawn, their labels, and their course.
import { findEnvelope, traceRingContours } from '../../hazard/contours.ts'
import type { FrontVolume } from '../../hazard/volume.ts'
import type { ClearOf } from '../../job/danger/result.ts'

export interface DangerLevel {
  kWm2: number
  /** All materials that share the threshold. */
  names: string[]
  /** The threshold is for ignition or charring: drawn stronger than those for pain or damage. */
  burns: boolean
  /** Any of the thresholds was changed by the user. */
  changed: boolean
  reachMm: number
  dash: readonly number[]
}

/** Dashes distinguish the lines without colour. */
const DASHES: readonly (readonly number[])[] = [
  [],
  [9, 4],
  [3, 3],
  [12, 3, 2, 3],
  [6, 2, 2, 2, 2, 2],
  [1, 4],
  [16, 6],
  [4, 8],
  [14, 2],
  [10, 2, 10, 8],
  [2, 2, 2, 7],
  [20, 3, 4, 3],
]

/** One level for each distinct threshold that the light reaches, the farthest first. */
export function levelsOf(clear: readonly ClearOf[]): DangerLevel[] {
  const by = new Map<number, DangerLevel>()
  for (const c of clear) {
    if (c.clearDistanceMm <= 0) continue
    const burns = c.harm === 'catches fire' || c.harm === 'chars and glows'
    const known = by.get(c.kWm2)
    if (!known) {
      const { kWm2, clearDistanceMm: reachMm } = c
      by.set(kWm2, { kWm2, names: [c.name], burns, changed: c.changedFrom !== null, reachMm, dash: [] })
      continue
    }
    known.names.push(c.name)
    known.burns ||= burns
    known.changed ||= c.changedFrom !== null
  }
  const levels = [...by.values()].sort((a, b) => b.reachMm - a.reachMm || a.kWm2 - b.kWm2)
  return levels.map((level, k) => ({ ...level, dash: DASHES[k % DASHES.length]! }))
}

export const levelWords = (l: DangerLevel): string =>
  l.names.map((name, i) => (i === 0 ? name : name.toLowerCase())).join(', ')

/** Pairs of z in the lamp's frame and distance from the axis. For a lamp that isn't round: the largest distance of each plane. */
export function outlineOf(volume: FrontVolume, kWm2: number): Float32Array[] {
  if (volume.round) return traceRingContours(volume, kWm2)
  const runs: number[][] = [[]]
  for (const { distanceMm, radiusMm } of findEnvelope(volume, kWm2)) {
    if (radiusMm > 0) runs.at(-1)!.push(volume.frontZMm + distanceMm, radiusMm)
    else if (runs.at(-1)!.length > 0) runs.push([])
  }
  return runs.filter((run) => run.length > 2).map((run) => Float32Array.from(run))
}

/**
 * The highest irradiance at each distance from the front and from the axis, kW/m², upper end of ±; between two planes the higher one.
 * Round lamps by their rings, others by their cells.
 */
export function hottestAt(volume: FrontVolume): (distanceMm: number, radiusMm: number) => number {
  const { planes, ringMap } = volume
  const rings = volume.round ? ringMap.kWm2 : hottestRings(volume)
  const at = (plane: number, radiusMm: number) => {
    const ring = Math.floor(radiusMm / ringMap.ringMm[plane]!)
    return ring < ringMap.rings ? rings[plane * ringMap.rings + ring]! : 0
  }
  return (distanceMm, radiusMm) => {
    const next = planes.findIndex((p) => p.distanceMm >= distanceMm)
    if (next < 0) return 0
    return Math.max(at(next, radiusMm), next > 0 ? at(next - 1, radiusMm) : 0)
  }
}

function hottestRings({ planes, ringMap }: FrontVolume): Float32Array {
  const out = new Float32Array(planes.length * ringMap.rings)
  for (const [p, { n, halfMm, kWm2 }] of planes.entries()) {
    const size = (2 * halfMm) / n
    for (const [i, value] of kWm2.entries()) {
      const [x, y] = [((i % n) + 0.5) * size - halfMm, (Math.floor(i / n) + 0.5) * size - halfMm]
      const r = Math.hypot(x, y)
      const first = Math.max(0, Math.floor((r - 0.71 * size) / ringMap.ringMm[p]!))
      const last = Math.min(ringMap.rings - 1, Math.floor((r + 0.71 * size) / ringMap.ringMm[p]!))
      for (let k = first; k <= last; k++) {
        const slot = p * ringMap.rings + k
        out[slot] = Math.max(out[slot]!, value)
      }
    }
  }
  return out
}
