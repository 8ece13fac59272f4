// Mass of a lens from its outline: what may fall, burn or drip.
import type { Lens } from '../lamp/schema.ts'
import { materialOf } from '../library/lensMaterial.ts'

/**
 * Mass of a lens, kg: a Fresnel lens as a plate of its thickness; a solid one as a plate whose curved side is cut to a
 * sphere of its radius (conic left out). 0 for an ideal lens, which is of no material. Grooves and rim are left out: the
 * heavier side. Density: src/library/materials.ts, or as stated.
 */
export function lensKg(lens: Lens): number {
  if (lens.kind === 'ideal') return 0
  const half = lens.diameterMm / 2
  const square = lens.kind === 'fresnel' && lens.aperture === 'square'
  const area = square ? lens.diameterMm ** 2 : Math.PI * half ** 2
  const volumeMm3 = area * lens.thicknessMm - (lens.kind === 'solid' ? cutAwayMm3(lens.radiusMm, half) : 0)
  return Math.max(0, volumeMm3) * 1e-9 * materialOf(lens).densityKgM3
}

/** Between the vertex plane and a sphere, within radius a: πa²s − πs²(3R − s)/3, s the sag at the edge. */
function cutAwayMm3(radiusMm: number, halfMm: number): number {
  const a = Math.min(halfMm, radiusMm)
  const sag = radiusMm - Math.sqrt(radiusMm ** 2 - a ** 2)
  return Math.PI * (a ** 2 * sag - (sag ** 2 * (3 * radiusMm - sag)) / 3)
}
