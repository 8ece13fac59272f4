// What single numbers of a lens's material can't say alone: rising columns, an index that light can be traced with, facets that can be cut.
import { pieceReachMm } from './assembly.ts'
import { LIMITS } from './limits.ts'
import { INDEX_BOUNDS, LEAST_INDEX, type OwnMaterial, ownIndex } from './material.ts'
import type { Cover, FresnelLens, Lens } from './schema.ts'

/** All light that is traced, the sun's included, nm. */
const NM_FROM = 380
const NM_TO = 780
const NM_STEP = 5
/** Wavelengths at which the index is read by itself: d for focal lengths, 550 nm for absorbed shares. */
const READ_AT_NM = [587.5618, 587.6, 550]
/** Steepest facet, degrees: from 90° on there is none (our choice of margin). */
const STEEPEST_DEG = 85

/** Of a lens or a cover written at `where`: a sentence for each fault of what it is made of and cut for. */
export function findLensMaterialFaults(lens: Lens | Cover, where = 'lens'): string[] {
  if (lens.kind === 'ideal') return []
  const { material, ownMaterial: own } = lens
  const cutFor = lens.kind === 'fresnel' ? lens.cutFor : undefined
  if (!own && (material === 'own' || cutFor === 'own'))
    return [
      `${where}.ownMaterial: nothing stands here; expected the material that ${where}.${material === 'own' ? 'material' : 'cutFor'} names.`,
    ]
  const alsoNm = lens.kind === 'fresnel' ? [...READ_AT_NM, lens.designNm] : READ_AT_NM
  const why = own ? findMaterialFaults(own, `${where}.ownMaterial`, alsoNm) : []
  return why.length > 0 || lens.kind !== 'fresnel' ? why : findFacetFaults(lens, where)
}

/**
 * Grooves to the target bend the ray at sinθ' = sinθ/n out by tanα = sinθ/(√(n² − sin²θ) − 1) (src/optics/slopes.ts): where
 * n² ≤ 1 + sin²θ no facet can. θ is taken without the sheet's thickness: the steeper side.
 */
function findFacetFaults(lens: FresnelLens, where: string): string[] {
  if (lens.grooves !== 'target') return []
  const cut = lens.cutFor ?? lens.material
  const index = cut === 'own' ? ownIndex(lens.ownMaterial!)(lens.designNm) : LEAST_INDEX[cut]
  const reach = pieceReachMm(lens)
  const sin = Math.sin(Math.atan2(reach, lens.focalMm))
  const slopeDeg = (Math.atan2(sin, Math.sqrt(index * index - sin * sin) - 1) * 180) / Math.PI
  if (slopeDeg <= STEEPEST_DEG) return []
  // The most that sinθ can be: (1 + s·cot 85°)² + s² = n².
  const cot = 1 / Math.tan((STEEPEST_DEG * Math.PI) / 180)
  const sum = 1 + cot * cot
  const most = (Math.sqrt(cot * cot + sum * (index * index - 1)) - cot) / sum
  const leastMm = Math.ceil((reach * Math.sqrt(1 - most * most)) / most)
  return [
    `${where}.focalMm: ${lens.focalMm} does not fit; no facet of an index of ${Number(index.toPrecision(3))} bends light that far at the edge: expected at least ${leastMm}.`,
  ]
}

/** What is wrong with an own material beyond its single numbers: one sentence for each, with its place. */
function findMaterialFaults(own: OwnMaterial, where: string, alsoNm: readonly number[]): string[] {
  const rising = (rows: readonly { wavelengthNm: number }[], place: string): string[] =>
    rows.flatMap(({ wavelengthNm: nm }, i) =>
      i > 0 && nm < rows[i - 1]!.wavelengthNm + LIMITS.tableStep
        ? [`${where}.${place}.rows[${i}].wavelengthNm: ${nm} does not fit; the column must rise.`]
        : [],
    )
  const why: string[] = []
  if (own.index.by === 'table') why.push(...rising(own.index.rows, 'index'))
  if (own.absorption.by !== 'value') why.push(...rising(own.absorption.rows, 'absorption'))
  if (why.length > 0) return why
  return own.index.by === 'table' ? [] : findIndexFaults(own, where, alsoNm)
}

/** A pole of Sellmeier's formula, µm², among the traced wavelengths or close to them, where the grid could step over it. */
const nearLight = (cUm2: number): boolean => cUm2 > 0.3 ** 2 && cUm2 < 0.9 ** 2

function findIndexFaults(own: OwnMaterial, where: string, alsoNm: readonly number[]): string[] {
  if (own.index.by === 'sellmeier') {
    const at = own.index.terms.findIndex((t) => nearLight(t.cUm2))
    if (at >= 0)
      return [
        `${where}.index.terms[${at}].cUm2: ${own.index.terms[at]!.cUm2} does not fit; it is the square of a wavelength in µm, expected at most 0.09 or at least 0.81, out of the light.`,
      ]
  }
  const of = ownIndex(own)
  const nms = [...alsoNm]
  for (let nm = NM_FROM; nm <= NM_TO; nm += NM_STEP) nms.push(nm)
  const { least, most } = INDEX_BOUNDS
  const bad = nms.find((nm) => !(of(nm) >= least && of(nm) <= most))
  if (bad === undefined) return []
  const n = of(bad)
  return [
    `${where}.index: gives ${Number.isFinite(n) ? Number(n.toPrecision(5)) : 'no number'} at ${bad} nm; expected ${least} to ${most} from ${NM_FROM} to ${NM_TO} nm.`,
  ]
}
