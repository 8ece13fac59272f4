// Mass of a lens or a cover from its outline: what may fall, burn or drip.
import { pieceHalves, pieceReachMm } from '../lamp/assembly.ts'
import type { Element, Lens } from '../lamp/schema.ts'
import { materialOf } from '../library/lensMaterial.ts'

/**
 * Mass of a lens or a cover, kg: a plate of its thickness; of a round solid lens about its own axis the curved side is cut to a sphere of
 * its radius (conic left out). 0 for an ideal lens, which is of no material, and for a film, whose thickness isn't in the document.
 * Grooves stand on the thickness, which is measured to their valleys: as triangles of 45°, half a pitch over all of it; rim and the curve of other
 * pieces are left out: the heavier side. Density: src/library/materials.ts, or as stated.
 */
export function lensKg(lens: Lens | Element): number {
  if (lens.kind === 'ideal' || lens.kind === 'diffuser') return 0
  const { round, xMm, yMm } = pieceHalves(lens)
  const area = round ? Math.PI * xMm ** 2 : 4 * xMm * yMm
  const isCut = lens.kind === 'solid' && round && pieceReachMm(lens) === xMm
  const groovesMm = lens.kind === 'fresnel' ? lens.pitchMm / 2 : 0
  const volumeMm3 = area * (lens.thicknessMm + groovesMm) - (isCut ? cutAwayMm3(lens.radiusMm, xMm) : 0)
  return Math.max(0, volumeMm3) * 1e-9 * materialOf(lens).densityKgM3
}

/** Between the vertex plane and a sphere, within radius a: πa²s − πs²(3R − s)/3, s the sag at the edge. */
function cutAwayMm3(radiusMm: number, halfMm: number): number {
  const a = Math.min(halfMm, radiusMm)
  const sag = radiusMm - Math.sqrt(radiusMm ** 2 - a ** 2)
  return Math.PI * (a ** 2 * sag - (sag ** 2 * (3 * radiusMm - sag)) / 3)
}
