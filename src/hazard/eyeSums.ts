// Sums over the rays that pass a pupil, with their upper ends.
import { countUpper, T95 } from '../num/stats.ts'
import { sampleSum } from '../run/exits.ts'
import { BATCHES } from '../run/types.ts'
import type { EyeRays } from './eyeRays.ts'

export interface Upper {
  value: number
  upper: number
}

export type Column = 'watts' | 'blue' | 'thermal' | 'lumens'

/** With fewer rays in a field its radiance isn't counted, and sixteen batches don't tell the error of a sum. */
export const MIN_FIELD_RAYS = 24

/**
 * Sums over rays times a factor, and their upper ends: by the batches, the error at least one ray's. Sixteen batches of few rays don't tell their own error: there at least that of
 * the count, each ray that may have been missed worth the mean watts of those that weren't, of no rays the heaviest of all, and of the colour that weighs most (`perWatt`): a few rays
 * tell nothing of their light's colour.
 */
export function upperSums(rays: EyeRays, index: ArrayLike<number>, factor: number): Record<Column, Upper> {
  const weights = { inner: index.length, atInner: factor, atOuter: 0 }
  const sumOf = (column: Column) => batchSum(rays.batch, rays[column], index, weights)
  const isFew = index.length < MIN_FIELD_RAYS
  const missed = countUpper(index.length) - index.length
  const watts = isFew && (index.length > 0 ? sumOf('watts').value / index.length : factor * heaviestOf(rays.watts))
  return forColumns((column) => {
    const { value, se } = sumOf(column)
    const byCount =
      watts === false
        ? 0
        : value + missed * watts * Math.max(perWatt(rays, column), value > 0 ? value / (watts * index.length) : 0)
    return { value, upper: Math.max(byCount, value + T95 * se) }
  })
}

const ratios = new WeakMap<Float32Array, number>()

/** What one watt weighs: of the emitter whose light weighs most, or of all rays together, whichever is more; where no emitter is known that of the ray that weighs most. */
function perWatt(rays: EyeRays, column: Column): number {
  const of = rays[column]
  const known = ratios.get(of)
  if (known !== undefined) return known
  let [sum, watts, most] = [0, 0, 0]
  for (const [i, w] of rays.watts.entries()) {
    sum += of[i] ?? 0
    watts += w
    if (w > 0) most = Math.max(most, (of[i] ?? 0) / w)
  }
  const ratio =
    column === 'watts' ? 1 : rays.perWatt ? Math.max(rays.perWatt[column], watts > 0 ? sum / watts : 0) : most
  ratios.set(of, ratio)
  return ratio
}

/** Two round pupils about one place: rays of the narrow one come first. And the eye's own. Radii in mm. */
interface TwoPupils {
  narrow: number
  narrowMm: number
  ownMm: number
  wideMm: number
}

/**
 * W/m² (lm/m²) through a pupil of `ownMm` in the middle of two wider ones, and upper ends: over a disc of radius R light that falls off by the square of the distance from its middle has
 * the mean E − c R²/2, so two discs tell that of a third (Richardson's extrapolation; textbook). For peaks that a pupil of enough rays smooths.
 */
export function peakSums(rays: EyeRays, index: ArrayLike<number>, two: TwoPupils): Record<Column, Upper> {
  const perM2 = (mm: number) => 1e6 / (Math.PI * mm * mm)
  const k = (two.narrowMm ** 2 - two.ownMm ** 2) / (two.wideMm ** 2 - two.narrowMm ** 2)
  const wide = perM2(two.wideMm)
  const weights = { inner: two.narrow, atInner: (1 + k) * perM2(two.narrowMm) - k * wide, atOuter: -k * wide }
  return forColumns((column) => {
    const { value, se } = batchSum(rays.batch, rays[column], index, weights)
    return { value, upper: value + T95 * se }
  })
}

const forColumns = (of: (column: Column) => Upper): Record<Column, Upper> => ({
  watts: of('watts'),
  blue: of('blue'),
  thermal: of('thermal'),
  lumens: of('lumens'),
})

/** Sum of a column over rays, the first `inner` of them at one weight and the others at another, and its error: at least one ray's. */
function batchSum(
  batch: Uint8Array,
  of: Float32Array,
  index: ArrayLike<number>,
  { inner, atInner, atOuter }: { inner: number; atInner: number; atOuter: number },
): { value: number; se: number } {
  const perBatch = new Float64Array(BATCHES)
  let largest = 0
  for (let k = 0; k < index.length; k++) {
    const i = index[k]!
    const weighted = of[i]! * (k < inner ? atInner : atOuter)
    perBatch[batch[i]!]! += weighted
    if (weighted > largest) largest = weighted
  }
  const { value, se } = sampleSum(perBatch)
  return { value, se: Math.max(se, largest) }
}

const heaviest = new WeakMap<Float32Array, number>()

/** Looked for once. */
function heaviestOf(of: Float32Array): number {
  const known = heaviest.get(of) ?? of.reduce((most, w) => Math.max(most, w), 0)
  heaviest.set(of, known)
  return known
}
