// What a lens is made of: built-in names, or a material of the lamp's own. Formulas: src/num/dispersion.ts.
import { cauchyFromAbbe, cauchyIndex, sellmeierIndex } from '../num/dispersion.ts'
import { linear, monotoneCubic } from '../num/interpolate.ts'
import { LIMITS } from './limits.ts'
import * as z from './zod.ts'

export const BUILT_IN_MATERIALS = ['pmma', 'polycarbonate', 'pvc', 'polystyrene', 'silicone', 'crown', 'float'] as const

/** Least index of each from 380 to 780 nm, rounded down: what it takes to know whether facets can be cut. Held to the formulas by a test. */
export const LEAST_INDEX: Record<(typeof BUILT_IN_MATERIALS)[number], number> = {
  pmma: 1.48,
  polycarbonate: 1.57,
  pvc: 1.53,
  polystyrene: 1.57,
  silicone: 1.4,
  crown: 1.51,
  float: 1.51,
}

/** Bounds of an index: below, facets and lenses hardly bend light; above there is no clear material to make a lens of. */
export const INDEX_BOUNDS = { least: 1.3, most: 2.2 } as const
const wavelengthNm = z.number().min(200).max(3000)
const index = z.number().min(INDEX_BOUNDS.least).max(INDEX_BOUNDS.most)
const perMm = z.number().min(0).max(5)
const rows = <A extends z.ZodType>(of: A) => z.array(of).min(1).max(LIMITS.tableRows)
const known = <A extends z.ZodType>(of: A) => of.nullable()

/** A material of the lamp's own; null: not known, which findings then say. */
export const ownMaterial = z.strictObject({
  name: z.string().min(1).max(120),
  /** What it is: a plastic softens and burns, a glass cracks. */
  family: z.enum(['plastic', 'glass']),
  index: z.discriminatedUnion('by', [
    z.strictObject({ by: z.literal('abbe'), nd: index, abbe: z.number().min(10).max(120) }),
    /** n = A + B/λ² + C/λ⁴, λ in µm. */
    z.strictObject({
      by: z.literal('cauchy'),
      a: z.number().min(1).max(INDEX_BOUNDS.most),
      bUm2: z.number().min(-1).max(1),
      cUm4: z.number().min(-1).max(1),
    }),
    /** n² = 1 + Σ B λ²/(λ² − C), λ in µm. */
    z.strictObject({
      by: z.literal('sellmeier'),
      terms: z
        .array(z.strictObject({ b: z.number().min(-100).max(100), cUm2: z.number().min(0).max(10_000) }))
        .min(1)
        .max(6),
    }),
    /** Wavelengths rising; a monotone cubic between them, the end values outside. */
    z.strictObject({ by: z.literal('table'), rows: rows(z.strictObject({ wavelengthNm, index })) }),
  ]),
  absorption: z.discriminatedUnion('by', [
    z.strictObject({ by: z.literal('value'), perMm }),
    /** Wavelengths rising; straight lines between them, the end values outside. */
    z.strictObject({ by: z.literal('table'), rows: rows(z.strictObject({ wavelengthNm, perMm })) }),
    /** Share of light that passes so many mm inside, without the losses at its surfaces; interpolated as absorption. */
    z.strictObject({
      by: z.literal('transmittance'),
      thicknessMm: z.number().min(0.01).max(1000),
      rows: rows(z.strictObject({ wavelengthNm, share: z.number().min(1e-6).max(1) })),
    }),
  ]),
  densityKgM3: z.number().min(500).max(8000),
  /** Above this it may lose its shape, or for a glass, its strength. */
  keepBelowC: known(z.number().min(20).max(1000)),
  /** Above this it sags under its own weight. */
  deflectionC: known(z.number().min(20).max(1000)),
  /** Temperature at which it ignites (ISO 871, ASTM D1929); of no meaning for a glass. */
  ignitionC: known(z.number().min(100).max(1000)),
})

export type OwnMaterial = z.infer<typeof ownMaterial>
export type BuiltInMaterial = (typeof BUILT_IN_MATERIALS)[number]

/** Index of an own material over the wavelength in nm, against air. By Cauchy, Sellmeier, two-term Cauchy by n_d and ν_d, or table. */
export function ownIndex({ index: by }: OwnMaterial): (nm: number) => number {
  switch (by.by) {
    case 'abbe': {
      const { a, bUm2 } = cauchyFromAbbe(by.nd, by.abbe)
      return (nm) => cauchyIndex(a, bUm2, 0, nm)
    }
    case 'cauchy':
      return (nm) => cauchyIndex(by.a, by.bUm2, by.cUm4, nm)
    case 'sellmeier':
      return (nm) => sellmeierIndex(by.terms, nm)
    case 'table':
      return monotoneCubic(
        by.rows.map((r) => r.wavelengthNm),
        by.rows.map((r) => r.index),
      )
  }
}

/** Absorption a of an own material, 1/mm, over the wavelength in nm; an internal transmittance τ over t gives a = −ln τ / t (Lambert–Beer). */
export function ownAbsorption({ absorption: by }: OwnMaterial): (nm: number) => number {
  if (by.by === 'value') return () => by.perMm
  const nms = by.rows.map((r) => r.wavelengthNm)
  const values =
    by.by === 'table' ? by.rows.map((r) => r.perMm) : by.rows.map((r) => absorptionOf(r.share, by.thicknessMm))
  return (nm) => linear(nms, values, nm)
}

/** a = −ln τ / t, 1/mm, of an internal transmittance τ over t mm (Lambert–Beer); 0 for τ = 1, never −0. */
export const absorptionOf = (share: number, thicknessMm: number): number => Math.max(0, -Math.log(share) / thicknessMm)
