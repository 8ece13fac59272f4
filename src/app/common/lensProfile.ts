// The lens in section: points (z, r) in mm. Facet slopes follow from Snell's law at the mid radius of each ring.
import type { FresnelLens, Lens } from '../../lamp/schema.ts'
import { cutIndex, lensFocalMm, lensIndex } from '../../library/lensMaterial.ts'

export type Point = readonly [zMm: number, rMm: number]

/** tan of the slope of ring `ring`'s facet; the same law as src/optics/slopes.ts. */
export function facetSlopeTan(lens: FresnelLens, ring: number): number {
  const n = cutIndex(lens)
  const r = (ring + 0.5) * lens.pitchMm
  if (lens.grooves === 'source') {
    const theta = Math.atan2(r, lens.focalMm)
    return Math.sin(theta) / (n - Math.cos(theta))
  }
  // f·tanθ + t·tanθ' = r with sinθ' = sinθ/n: monotonic in sinθ, so bisection solves it.
  let low = 0
  let high = 1
  for (let i = 0; i < 50; i++) {
    const s = (low + high) / 2
    const inside = s / n
    const reached =
      (lens.focalMm * s) / Math.sqrt(1 - s * s) + (lens.thicknessMm * inside) / Math.sqrt(1 - inside * inside)
    if (reached < r) low = s
    else high = s
  }
  const inside = low / n
  return (n * inside) / (n * Math.sqrt(1 - inside * inside) - 1)
}

/** z of the flat side and of the valleys, and the direction in which the facets rise. */
export function fresnelPlanes(lens: FresnelLens): { flatMm: number; valleyMm: number; rise: 1 | -1 } {
  return lens.grooves === 'target'
    ? { flatMm: lens.zMm, valleyMm: lens.zMm + lens.thicknessMm, rise: 1 }
    : { flatMm: lens.zMm + lens.thicknessMm, valleyMm: lens.zMm, rise: -1 }
}

/** Height of ring k's crest over the valleys; the riser leans by the draft angle, at the expense of its own facet. */
export function crestMm(lens: FresnelLens, ring: number): number {
  const slope = facetSlopeTan(lens, ring)
  return ring === 0
    ? lens.pitchMm * slope
    : (lens.pitchMm * slope) / (1 + slope * Math.tan((lens.draftDeg * Math.PI) / 180))
}

/**
 * The focal point on the side of the face: a source there gives a parallel beam.
 * Plano-convex, f = R/(n − 1): f − t/n before the flat side, or f before the vertex (paraxial, surface by surface).
 */
export function focusZMm(lens: Lens): number {
  const f = lensFocalMm(lens)
  if (lens.kind !== 'solid') return lens.zMm - f
  const n = lensIndex(lens, 587.6)
  return lens.curved === 'target' ? lens.zMm - (f - lens.thicknessMm / n) : lens.zMm - lens.thicknessMm - f
}

/** The lens as text. */
export function lensWords(lens: Lens): string {
  if (lens.kind === 'ideal') return 'Ideal lens'
  if (lens.kind === 'solid') return `Plano-convex lens, curve to the ${lens.curved}`
  return `Fresnel lens, grooves to the ${lens.grooves}`
}
