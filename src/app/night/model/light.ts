// Illuminance of a surface far from the lamp from the traced intensity: E = I(direction) cos / d².
import { linear } from '../../../num/interpolate.ts'
import type { GridMap } from '../../../run/figure.ts'

export interface NightLight {
  /** Intensity over (θ cos φ, θ sin φ), deg, near the axis. */
  directionMap: GridMap
  /** Mean over azimuth, used outside that window. */
  profile: { thetaDeg: ArrayLike<number>; cd: ArrayLike<number> }
}

/** Outer share of the window over which the map blends into the profile, so that no edge shows. */
export const BLEND = 0.1

/** Bilinear between bin centres; constant from the border bins to the edge. */
export function mapAt(map: GridMap, x: number, y: number): number {
  const c = ((x - map.fromX) / (map.toX - map.fromX)) * map.columns - 0.5
  const r = ((y - map.fromY) / (map.toY - map.fromY)) * map.rows - 0.5
  const c0 = Math.floor(c)
  const r0 = Math.floor(r)
  const at = (column: number, row: number) =>
    map.values[Math.min(map.rows - 1, Math.max(0, row)) * map.columns + Math.min(map.columns - 1, Math.max(0, column))]!
  const tc = c - c0
  const tr = r - r0
  return (
    (at(c0, r0) * (1 - tc) + at(c0 + 1, r0) * tc) * (1 - tr) +
    (at(c0, r0 + 1) * (1 - tc) + at(c0 + 1, r0 + 1) * tc) * tr
  )
}

/** Candela towards a direction of the lamp's frame (any length). */
export function intensityTowards(light: NightLight, x: number, y: number, z: number): number {
  const thetaDeg = (Math.atan2(Math.hypot(x, y), z) * 180) / Math.PI
  const flat = Math.hypot(x, y)
  // The backward axis has no azimuth: any will do, as long as it is not taken for the forward axis.
  const u = flat > 0 ? (thetaDeg * x) / flat : thetaDeg
  const v = flat > 0 ? (thetaDeg * y) / flat : 0
  const { directionMap: map, profile } = light
  const out = Math.max(Math.abs(u) / Math.abs(map.toX), Math.abs(v) / Math.abs(map.toY))
  const far = linear(profile.thetaDeg, profile.cd, thetaDeg)
  if (out >= 1) return far
  const share = smooth(1 - BLEND, 1, out)
  return mapAt(map, u, v) * (1 - share) + far * share
}

function smooth(from: number, to: number, x: number): number {
  const t = Math.min(1, Math.max(0, (x - from) / (to - from)))
  return t * t * (3 - 2 * t)
}

/** lx at a point of the lamp's frame (metres from the lamp) on a surface with that unit normal. */
export function illuminanceAt(
  light: NightLight,
  at: readonly [number, number, number],
  normal: readonly [number, number, number],
): number {
  const d2 = at[0] ** 2 + at[1] ** 2 + at[2] ** 2
  const cos = Math.abs(at[0] * normal[0] + at[1] * normal[1] + at[2] * normal[2]) / Math.sqrt(d2)
  return (intensityTowards(light, ...at) * cos) / d2
}

/** Mean over the target's rectangle square to the beam, for exposure. */
export function meanOnTarget(light: NightLight, distanceM: number, widthM: number, heightM: number, n = 11): number {
  let sum = 0
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const x = ((i + 0.5) / n - 0.5) * widthM
      const y = ((j + 0.5) / n - 0.5) * heightM
      sum += illuminanceAt(light, [x, y, distanceM], [0, 0, 1])
    }
  }
  return sum / (n * n)
}
