// How far a tunnel alone concentrates the sun, before any sunlight is traced: rays parallel to the axis through its profile.
import { type Stretch, stretchesOf } from '../lamp/assembly.ts'
import type { Tunnel } from '../lamp/schema.ts'

const RAYS = 256
const HEIGHTS = 128
const MOST_BOUNCES = 60
const LEAST_WEIGHT = 0.02

interface Leg {
  z: number
  r: number
  dz: number
  dr: number
  toZ: number
  watts: number
}

const known = new WeakMap<Tunnel, Map<number, TunnelGain>>()

interface TunnelGain {
  /** Irradiance over the disc, of the sun's own. */
  gain: number
  /** Height of the disc's middle above the face, mm. */
  zMm: number
}

/**
 * Concentration of sunlight along the axis over a disc of `discMm` on the axis, at the height between face and mouth where it is greatest.
 * Meridional rays through a round profile of the same widths (of a rectangle the one along x), reflected by the mirror share of each stretch
 * alone; the sun is a point and the wall doesn't scatter: the hot side. Light from other sides is left to the trace. Geometrical optics.
 */
export function tunnelGain(tunnel: Tunnel, discMm: number): TunnelGain {
  const byDisc = known.get(tunnel) ?? new Map<number, TunnelGain>()
  known.set(tunnel, byDisc)
  const found = byDisc.get(discMm) ?? strongest(tunnel, discMm)
  byDisc.set(discMm, found)
  return found
}

function strongest(tunnel: Tunnel, discMm: number): TunnelGain {
  const stretches = stretchesOf(tunnel)
  const radiusMm = tunnel.outMm / 2
  const legs: Leg[] = []
  for (let i = 0; i < RAYS; i++) {
    const [inner, outer] = [(radiusMm * i) / RAYS, (radiusMm * (i + 1)) / RAYS]
    legs.push(...legsOf(stretches, tunnel, (inner + outer) / 2, outer ** 2 - inner ** 2))
  }
  const half = discMm / 2
  let best: TunnelGain = { gain: 0, zMm: 0 }
  for (let k = 0; k < HEIGHTS; k++) {
    const zMm = (tunnel.zOutMm * k) / HEIGHTS
    const through = legs.reduce((sum, leg) => sum + (crossesWithin(leg, zMm, half) ? leg.watts : 0), 0)
    const gain = through / half ** 2
    if (gain > best.gain) best = { gain, zMm }
  }
  return best
}

function crossesWithin({ z, r, dz, dr, toZ }: Leg, at: number, half: number): boolean {
  if (dz === 0 || at > Math.max(z, toZ) || at < Math.min(z, toZ)) return false
  return Math.abs(r + ((at - z) / dz) * dr) <= half
}

/** The way of one ray down from the mouth until it lands on the face's plane, leaves by the mouth, or is too weak to count. */
function legsOf(stretches: readonly Stretch[], tunnel: Tunnel, fromMm: number, weight: number): Leg[] {
  const legs: Leg[] = []
  let [z, r, dz, dr, watts] = [tunnel.zOutMm, fromMm, -1, 0, weight]
  for (let bounce = 0; bounce < MOST_BOUNCES; bounce++) {
    const hit = nearestWall(stretches, z, r, dz, dr)
    if (!hit) {
      if (dz < 0) legs.push({ z, r, dz, dr, toZ: 0, watts })
      break
    }
    const { s, side, stretch } = hit
    legs.push({ z, r, dz, dr, toZ: z + s * dz, watts })
    z += s * dz
    r += s * dr
    // The wall runs along (dzWall, side · drWall); its normal points inwards.
    const [along, across] = [stretch.zOutMm - stretch.zInMm, (side * (stretch.outMm - stretch.inMm)) / 2]
    const length = Math.hypot(along, across)
    const [nz, nr] = [across / length, -along / length]
    const into = dz * nz + dr * nr
    dz -= 2 * into * nz
    dr -= 2 * into * nr
    watts *= mirrorShare(stretch)
    if (watts < LEAST_WEIGHT * weight) break
  }
  return legs
}

/** Share of the light that a stretch throws on as a mirror, at its best wavelength, 0 to 1. */
export const mirrorShare = ({ reflectance, reflectanceByNm, specularShare }: Stretch): number =>
  specularShare * Math.max(reflectance, ...(reflectanceByNm ?? []).map((row) => row.reflectance))

/** Where the ray meets the profile on either side of the axis; steps across the axis send no light on. */
function nearestWall(stretches: readonly Stretch[], z: number, r: number, dz: number, dr: number) {
  let nearest: { s: number; side: number; stretch: Stretch } | null = null
  for (const stretch of stretches) {
    const slope = (stretch.outMm - stretch.inMm) / 2 / (stretch.zOutMm - stretch.zInMm)
    for (const side of [1, -1]) {
      // r + s dr = side (in/2 + slope (z + s dz − zIn))
      const closing = dr - side * slope * dz
      if (closing === 0) continue
      const s = (side * (stretch.inMm / 2 + slope * (z - stretch.zInMm)) - r) / closing
      if (!(s > 1e-9) || (nearest && s >= nearest.s)) continue
      const at = z + s * dz
      if (at >= stretch.zInMm && at <= stretch.zOutMm) nearest = { s, side, stretch }
    }
  }
  return nearest
}
