// Orbit camera of the solid view about a point of the lamp. y is up; the elevation is limited, so that the camera never turns over.
import type { Lamp } from '../../../lamp/schema.ts'
import { extentOf } from '../../common/extent.ts'

export interface Orbit {
  /** About the vertical through the orbit's centre; 0 looks at the face from the target's side. */
  azimuthDeg: number
  elevationDeg: number
  distanceMm: number
  atMm: readonly [number, number, number]
}

export const FIELD_OF_VIEW_DEG = 32

/** From the front and a little above, light going to the right, the whole lamp in view. */
export function homeOrbit(lamp: Lamp, aspect: number): Orbit {
  const { zFromMm, zToMm: drawnMm, rMm } = extentOf(lamp)
  const zToMm = drawnMm + 0.16 * (drawnMm - zFromMm)
  const tan = Math.tan((FIELD_OF_VIEW_DEG * Math.PI) / 360)
  const long = (zToMm - zFromMm) / 2
  const distanceMm = Math.max((long * 0.82 + rMm * 0.4) / (tan * aspect), (rMm * 1.15 + long * 0.2) / tan) * 1.02
  return { azimuthDeg: -58, elevationDeg: 14, distanceMm, atMm: [0, 0, (zFromMm + zToMm) / 2] }
}

export function eyeOf(o: Orbit): [number, number, number] {
  const az = (o.azimuthDeg * Math.PI) / 180
  const el = (o.elevationDeg * Math.PI) / 180
  const flat = o.distanceMm * Math.cos(el)
  return [o.atMm[0] + flat * Math.sin(az), o.atMm[1] + o.distanceMm * Math.sin(el), o.atMm[2] + flat * Math.cos(az)]
}

export const turned = (o: Orbit, azimuthDeg: number, elevationDeg: number): Orbit => ({
  ...o,
  azimuthDeg: ((((o.azimuthDeg + azimuthDeg + 180) % 360) + 360) % 360) - 180,
  elevationDeg: Math.min(89, Math.max(-89, o.elevationDeg + elevationDeg)),
})

export const nearer = (o: Orbit, factor: number): Orbit => ({
  ...o,
  distanceMm: Math.min(60_000, Math.max(20, o.distanceMm / factor)),
})

/** Pans: moves the centre across the line of sight, in shares of the picture's height. */
export function slid(o: Orbit, right: number, up: number): Orbit {
  const az = (o.azimuthDeg * Math.PI) / 180
  const el = (o.elevationDeg * Math.PI) / 180
  const tall = 2 * o.distanceMm * Math.tan((FIELD_OF_VIEW_DEG * Math.PI) / 360)
  const across = [Math.cos(az), 0, -Math.sin(az)] as const
  const upright = [-Math.sin(el) * Math.sin(az), Math.cos(el), -Math.sin(el) * Math.cos(az)] as const
  const at = o.atMm.map((v, i) => v + tall * (right * across[i]! + up * upright[i]!))
  return { ...o, atMm: [at[0]!, at[1]!, at[2]!] }
}
