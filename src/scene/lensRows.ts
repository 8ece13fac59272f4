// Lens parameters and the ring table of a Fresnel lens.

import { pieceHalves, pieceReachMm } from '../lamp/assembly.ts'
import type { Cover, Element, FresnelLens, Lens, RefractingLens } from '../lamp/schema.ts'
import { cutIndex, lensAbsorption, lensIndex } from '../library/lensMaterial.ts'
import * as P from '../optics/params.ts'
import { NM_COUNT, NM_FIRST, NM_STEP } from '../optics/records.ts'
import * as RING from '../optics/ringRow.ts'
import { slopeToSource, slopeToTarget } from '../optics/slopes.ts'

/**
 * Refractive index on the spectral grid, NM_COUNT values from 380 to 780 nm; all 1 without a lens, for an ideal
 * one or a film. Dispersion formulas: src/library/materials.ts, of own materials src/lamp/material.ts.
 */
export function lensIndexTable(lens: Element | Lens | null): Float32Array {
  const table = new Float32Array(NM_COUNT).fill(1)
  if (!lens || lens.kind === 'ideal' || lens.kind === 'diffuser') return table
  for (let i = 0; i < NM_COUNT; i++) table[i] = lensIndex(lens, NM_FIRST + NM_STEP * i)
  return table
}

/** Number of whole rings: ⌊reach/p⌋, D/2p of a round lens on its axis, a square one counted to its corners. */
export const ringCount = (lens: FresnelLens): number => Math.floor(pieceReachMm(lens) / lens.pitchMm + 1e-9)

/**
 * Facet slope of ring k, rad, for the ray through the middle of the ring at the lens's design wavelength, in the material
 * the facets are cut for: vector Snell, see src/optics/slopes.ts. 0 ≤ k < ringCount.
 */
export function facetSlope(lens: FresnelLens, k: number): number {
  const n = cutIndex(lens)
  const r = (k + 0.5) * lens.pitchMm
  return lens.grooves === 'target'
    ? slopeToTarget(r, lens.focalMm, lens.thicknessMm, n)
    : slopeToSource(r, lens.focalMm, n)
}

/**
 * Ring records (src/optics/ringRow.ts) of a Fresnel lens, ring 0 first: sine, cosine, tangent, cotangent of the
 * slope, and height of the tip in mm. At least one record long.
 */
export function ringTable(lens: FresnelLens): Float32Array {
  const count = ringCount(lens)
  const tanDraft = Math.tan((lens.draftDeg * Math.PI) / 180)
  const rings = new Float32Array(Math.max(1, count) * RING.size)
  for (let k = 0; k < count; k++) {
    const alpha = facetSlope(lens, k)
    const tan = Math.tan(alpha)
    rings[k * RING.size + RING.tan] = tan
    rings[k * RING.size + RING.sin] = Math.sin(alpha)
    rings[k * RING.size + RING.cos] = Math.cos(alpha)
    rings[k * RING.size + RING.cot] = 1 / tan
    rings[k * RING.size + RING.tip] = (lens.pitchMm * tan) / (1 + (k > 0 ? tan * tanDraft : 0))
  }
  return rings
}

/**
 * Writes the lens's part of `params` (mm, rad, 1/mm) and returns the ring records; one empty record for a lens
 * without rings or no lens.
 */
export function writeLens(params: Float32Array, lens: Lens | null): Float32Array {
  const none = new Float32Array(RING.size)
  if (!lens) return none
  params[P.lensHalf] = lens.diameterMm / 2
  params[P.lensFront] = lens.zMm
  params[P.lensBack] = lens.zMm
  params[P.lensSign] = 1
  params[P.lensZ] = lens.zMm
  if (lens.kind === 'ideal') {
    params[P.lensKind] = 1
    params[P.lensFocal] = lens.focalMm
    return none
  }
  params[P.lensThickness] = lens.thicknessMm
  writeAbsorption(params, lens)
  if (lens.kind === 'solid') {
    const sign = lens.curved === 'target' ? 1 : -1
    params[P.lensKind] = 2
    params[P.lensSign] = sign
    params[P.lensZ] = lens.zMm + sign * lens.thicknessMm
    params[P.lensFront] = Math.min(lens.zMm, lens.zMm + sign * lens.thicknessMm)
    params[P.lensBack] = Math.max(lens.zMm, lens.zMm + sign * lens.thicknessMm)
    params[P.lensCurvature] = 1 / lens.radiusMm
    params[P.lensConic] = lens.conic
    return none
  }
  const rings = ringTable(lens)
  const count = ringCount(lens)
  let layer = 0
  for (let k = 0; k < count; k++) layer = Math.max(layer, rings[k * RING.size + RING.tip]!)
  params[P.lensKind] = 3
  params[P.lensSquare] = lens.aperture === 'square' ? 1 : 0
  params[P.lensFocal] = lens.focalMm
  params[P.lensPitch] = lens.pitchMm
  params[P.lensRings] = count
  params[P.lensLayer] = layer
  params[P.lensTanDraft] = Math.tan((lens.draftDeg * Math.PI) / 180)
  params[P.lensTipShare] = lens.tipShare
  if (lens.grooves === 'target') {
    params[P.lensZ] = lens.zMm + lens.thicknessMm
    params[P.lensBack] = lens.zMm + lens.thicknessMm + layer
  } else {
    params[P.lensSign] = -1
    params[P.lensFront] = lens.zMm - layer
    params[P.lensBack] = lens.zMm + lens.thicknessMm
  }
  return rings
}

/** The outline of a piece whose middle need not be on the optical axis (src/optics/outline.ts): of an assembly's elements. */
export function writePiece(params: Float32Array, of: Element | Lens): void {
  const { round, xMm, yMm } = pieceHalves(of)
  params[P.lensSquare] = round ? 3 : 2
  params[P.lensHalf] = xMm
  params[P.lensHalfY] = yMm
  if (of.kind === 'cover' || of.kind === 'diffuser') return
  params[P.lensMidX] = -(of.centreXMm ?? 0)
  params[P.lensMidY] = -(of.centreYMm ?? 0)
}

/** The part of `params` of a plane parallel plate (mm, 1/mm): a body between the planes z and z + thickness. */
export function writeCover(params: Float32Array, cover: Cover): void {
  params[P.lensSign] = 1
  params[P.lensFront] = cover.zMm
  params[P.lensZ] = cover.zMm + cover.thicknessMm
  params[P.lensBack] = cover.zMm + cover.thicknessMm
  params[P.lensThickness] = cover.thicknessMm
  writeAbsorption(params, cover)
}

/** Absorption of the lens into `params`, 1/mm: one value, or one for each wavelength of the spectral grid. */
function writeAbsorption(params: Float32Array, lens: RefractingLens | Cover): void {
  const absorption = lensAbsorption(lens)
  if (typeof absorption === 'number') {
    params[P.lensAbsorption] = absorption
    return
  }
  params[P.lensAbsorption] = absorption(550)
  params[P.lensAbsorptionVaries] = 1
  for (let i = 0; i < NM_COUNT; i++) params[P.lensAbsorptionTable + i] = absorption(NM_FIRST + NM_STEP * i)
}
