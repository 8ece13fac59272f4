// Lenses of the planted sets, walked surface by surface: physics.md, section 5. At a surface the ray is split while both parts carry
// enough; else one of them is drawn. Local frame of a real lens: z = 0 in the plane of the groove valleys or of the vertex, the body
// from z = −t to 0, the flat side at −t.
import type { Lens } from '../../src/lamp/schema.ts'
import { makeGrooves } from './grooves.ts'
import type { Ray } from './ray.ts'
import { makeSolid } from './solid.ts'
import type { Fate, Split } from './split.ts'

interface LensOut {
  /** It leaves the lens, towards the target or back. */
  leaves(ray: Ray, up: boolean): void
  ends(fate: Fate, watts: number): void
}

export interface PlacedLens {
  frontMm: number
  backMm: number
  radiusMm: number
  /** The ray stands on the front or the back plane, inside the aperture. */
  pass(ray: Ray, split: Split, out: LensOut): void
}

export interface Body {
  thickness: number
  /** Height of the worked side over z = 0. */
  layer: number
  pass(ray: Ray, fromWorked: boolean, split: Split, out: BodyOut): void
}

export interface BodyOut {
  leaves(ray: Ray, worked: boolean): void
  ends(fate: Fate, watts: number): void
}

export function placeLens(lens: Lens): PlacedLens {
  const radiusMm = lens.diameterMm / 2
  if (lens.kind === 'ideal') return idealLens(lens.zMm, lens.focalMm, radiusMm)
  const body = lens.kind === 'solid' ? makeSolid(lens) : makeGrooves(lens)
  const worked = lens.kind === 'solid' ? lens.curved : lens.grooves
  const sign = worked === 'target' ? 1 : -1
  // zMm is the flat side, or the plane of the valleys where grooves face the source.
  const origin = lens.kind === 'fresnel' && worked === 'source' ? lens.zMm : lens.zMm + sign * body.thickness
  const ends = [origin - sign * body.thickness, origin + sign * body.layer]
  return {
    frontMm: Math.min(...ends),
    backMm: Math.max(...ends),
    radiusMm,
    pass(ray, split, out) {
      const toLocal = (r: Ray) => ({ ...r, z: (r.z - origin) * sign, dz: r.dz * sign })
      const fromWorked = ray.dz * sign < 0
      const local = toLocal(ray)
      local.z = fromWorked ? body.layer : -body.thickness
      body.pass(local, fromWorked, split, {
        ends: out.ends,
        leaves(r, atWorked) {
          const up = atWorked === sign > 0
          const dz = r.dz * sign
          // Light scattered along the lens by its outermost grooves stays a loss of the rim.
          if (up ? dz <= 0 : dz >= 0) out.ends('lensRim', r.watts)
          else out.leaves({ ...r, z: origin + sign * r.z, dz }, up)
        },
      })
    },
  }
}

/** Slopes change by −x/f and −y/f; nothing is lost. */
const idealLens = (zMm: number, focalMm: number, radiusMm: number): PlacedLens => ({
  frontMm: zMm,
  backMm: zMm,
  radiusMm,
  pass(ray, _split, out) {
    const up = ray.dz > 0
    const along = Math.abs(ray.dz)
    const [u, v] = [ray.dx / along - ray.x / focalMm, ray.dy / along - ray.y / focalMm]
    const scale = 1 / Math.sqrt(1 + u * u + v * v)
    out.leaves({ ...ray, dx: u * scale, dy: v * scale, dz: up ? scale : -scale }, up)
  },
})
