// What a lens is made of, whether built in or the lamp's own: index, absorption, limits.
import { type OwnMaterial, ownAbsorption, ownIndex } from '../lamp/material.ts'
import type { Element, FresnelLens, Lens, LensMaterial, RefractingLens } from '../lamp/schema.ts'
import { linear } from '../num/interpolate.ts'
import { ignitionMaterial, leastKWm2 } from './ignition.ts'
import { LENS_MATERIALS, type LensMaterialRow, refractiveIndex } from './materials.ts'

/** Of the plastics known here, PVC gives way first. */
const LOWEST_KEEP_C = LENS_MATERIALS.pvc.keepBelowC!

type OfNm = (nm: number) => number

interface Dispersed {
  index: OfNm
  absorption: OfNm
}
const known = new WeakMap<OwnMaterial, Dispersed>()

/** Kept for each own material: a table's slopes are worked out once, not for each groove. */
function dispersed(own: OwnMaterial): Dispersed {
  const found = known.get(own) ?? { index: ownIndex(own), absorption: ownAbsorption(own) }
  known.set(own, found)
  return found
}

/** A lens, or a cover. */
export type Refracting = Pick<RefractingLens, 'material' | 'ownMaterial'>

const ownOf = (lens: Refracting): OwnMaterial => {
  if (!lens.ownMaterial) throw new Error('lens: no material of its own')
  return lens.ownMaterial
}

const indexOf = (lens: Refracting, material: LensMaterial, nm: number): number =>
  material === 'own' ? dispersed(ownOf(lens)).index(nm) : refractiveIndex(material, nm)

/** Refractive index of a lens against air at room temperature; nm from 380 to 780. Sources: materials.ts; own: src/lamp/material.ts. */
export const lensIndex = (lens: Refracting, nm: number): number => indexOf(lens, lens.material, nm)

/** Refractive index that the facets of a Fresnel lens are cut for: of its own material, or of the one it was first cut for, at `designNm`. */
export const cutIndex = (lens: FresnelLens): number => indexOf(lens, lens.cutFor ?? lens.material, lens.designNm)

/**
 * Focal length for yellow light (587.6 nm), mm: R/(n − 1) of a solid lens (thin plano-convex lens, textbook); of a Fresnel lens whose facets
 * were cut for another index n', f (n' − 1)/(n − 1), by the same formula; else the stated one.
 */
export function lensFocalMm(lens: Lens): number {
  if (lens.kind === 'solid') return lens.radiusMm / (lensIndex(lens, 587.6) - 1)
  if (lens.kind === 'ideal' || !lens.cutFor) return lens.focalMm
  return (lens.focalMm * (cutIndex(lens) - 1)) / (lensIndex(lens, lens.designNm) - 1)
}

/** Bulk absorption of a lens, 1/mm: one number, or a function of the wavelength in nm where it is known over wavelengths. */
export function lensAbsorption(lens: Refracting): number | OfNm {
  if (lens.material === 'own') {
    const own = ownOf(lens)
    return own.absorption.by === 'value' ? own.absorption.perMm : dispersed(own).absorption
  }
  const { absorptionByNm: rows, absorptionPerMm } = LENS_MATERIALS[lens.material]
  if (!rows) return absorptionPerMm
  const nms = rows.map(([nm]) => nm)
  const values = rows.map(([, perMm]) => perMm)
  return (nm) => linear(nms, values, nm)
}

/** Limits of a lens's material. What an own one doesn't state is taken as the weakest material built in has it, and the sources say so. */
export const materialOf = (lens: Refracting): LensMaterialRow =>
  lens.material === 'own' ? ownRow(ownOf(lens)) : LENS_MATERIALS[lens.material]

/** The same of any piece that light passes; null: an ideal lens, which is of none. */
export const materialOfPiece = (piece: Element | Lens): LensMaterialRow | null =>
  piece.kind === 'ideal' ? null : piece.kind === 'diffuser' ? film() : materialOf(piece)

/** What isn't known of an own material, in words that follow “it isn’t known”; empty for a built-in one. */
export function unknownOf(lens: Refracting): string[] {
  if (lens.material !== 'own') return []
  const { family, keepBelowC, deflectionC, ignitionC } = ownOf(lens)
  if (family === 'glass') return keepBelowC === null ? ['which temperature it bears'] : []
  return [
    ...(keepBelowC === null ? ['which temperature it bears for long'] : []),
    ...(deflectionC === null ? ['at which it sags'] : []),
    ...(ignitionC === null ? ['at which it ignites'] : []),
  ]
}

function ownRow(own: OwnMaterial): LensMaterialRow {
  const at550 = dispersed(own).absorption(550)
  const plain = {
    label: own.name,
    absorptionPerMm: at550,
    absorptionHighPerMm: at550,
    densityKgM3: own.densityKgM3,
    family: own.family,
  }
  const stated = 'As stated in the document'
  const sources = { index: stated, absorption: stated, density: stated }
  if (own.family === 'glass') {
    const { cracksFromK } = LENS_MATERIALS.float
    const temperature = `${own.keepBelowC === null ? 'Which temperature this glass bears isn’t in the document' : `${own.keepBelowC} °C as stated in the document`}; it is taken to crack where one place is ${cracksFromK} K hotter than the rest, as plain float glass does (EN 572-1: memory).`
    return {
      ...plain,
      ...{ keepBelowC: own.keepBelowC, deflectionC: null, ignites: null, burns: null, cracksFromK },
      sources: { ...sources, temperature },
    }
  }
  const keepBelowC = own.keepBelowC ?? Math.min(LOWEST_KEEP_C, own.deflectionC ?? Number.POSITIVE_INFINITY)
  const deflectionC = own.deflectionC ?? keepBelowC
  return {
    ...plain,
    keepBelowC,
    deflectionC,
    ignites: ownIgnition(own),
    burns: unknownBurns(own.name),
    cracksFromK: null,
    sources: { ...sources, temperature: plasticWords(own, keepBelowC, deflectionC) },
  }
}

/** A film's material isn't in the document: of each limit the lowest of the plastics known here. Its absorption is what it neither passes nor sends back. */
function film(): LensMaterialRow {
  const { pvc } = LENS_MATERIALS
  const unsaid = { keepBelowC: null, deflectionC: null, ignitionC: null }
  const keepBelowC = LOWEST_KEEP_C
  return {
    ...pvc,
    label: 'Film of a plastic that isn’t stated',
    deflectionC: keepBelowC,
    ignites: ownIgnition(unsaid),
    burns: unknownBurns('plastic film'),
    sources: {
      index: 'A film is traced as thin',
      absorption: 'As stated in the document',
      temperature: plasticWords(unsaid, keepBelowC, keepBelowC),
      density: pvc.sources.density,
    },
  }
}

function unknownBurns(name: string): LensMaterialRow['burns'] {
  const { mjKg } = LENS_MATERIALS.polystyrene.burns!
  return {
    mjKg,
    name,
    drips: true,
    how: 'molten drops may burn as they fall',
    source: `not in the document; polystyrene’s ${mjKg} MJ/kg is taken, the most of the plastics known here (Tewarson: memory)`,
  }
}

type Limits = Pick<OwnMaterial, 'keepBelowC' | 'deflectionC' | 'ignitionC'>

function plasticWords(
  own: Pick<Limits, 'keepBelowC' | 'deflectionC'>,
  keepBelowC: number,
  deflectionC: number,
): string {
  const keep =
    own.keepBelowC === null
      ? `Which temperature it bears isn’t in the document: ${keepBelowC} °C is taken, the least of the plastics known here`
      : `${keepBelowC} °C as stated in the document`
  const sag =
    own.deflectionC === null
      ? 'at which it sags isn’t in the document either: at once is taken'
      : `it sags at ${deflectionC} °C, as stated`
  return `${keep}; ${sag}.`
}

function ownIgnition({ ignitionC }: Pick<Limits, 'ignitionC'>): LensMaterialRow['ignites'] {
  const weakest = ignitionMaterial('pmma-thin')
  if (ignitionC === null)
    return {
      ...weakest,
      source: `At which temperature it ignites isn’t in the document; taken as thin acrylic, the easiest lit of the lens plastics known here. ${weakest.source}`,
    }
  return {
    ignitionC,
    publishedKWm2: Number.POSITIVE_INFINITY,
    criticalKWm2: leastKWm2(null, ignitionC, 20),
    source: `${ignitionC} °C as stated in the document, which a black surface in still air reaches at that irradiance (heat balance)`,
  }
}
