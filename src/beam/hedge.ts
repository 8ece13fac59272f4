// The ± of a peak that may lie elsewhere: from what is known of the place that was chosen to what is possible of another.
import { T95 } from '../num/stats.ts'
import { betweenExtremes } from '../run/extreme.ts'
import type { Figure } from '../run/figure.ts'
import { ILL_KNOWN, type Peak, type PeakCandidates, type WideCell } from './peak.ts'

/**
 * Where nothing else can tell: the peak chosen on the axis, its ± reaching as high as the brightest place may be that shares light with it, and as the brightest
 * of the wider places that have no part in the axis: somewhere in one of them the intensity is no less than its mean.
 */
export function hedgeUnseen(axis: Figure, { spot, wide, coneRad }: PeakCandidates): Hedged {
  const near = spot && spot.thetaRad < 2 * coneRad ? [spot] : []
  const apart = wide(axis.value).filter(({ thetaRad, radiusRad }) => thetaRad >= radiusRad + coneRad)
  const end = (side: number) => (f: Figure) => f.value + side * T95 * f.se
  const high = Math.max(end(1)(axis), ...[...near, ...apart].map(ofPlace).map(end(1)))
  const low = end(-1)(axis)
  return high > end(1)(axis) ? { value: (low + high) / 2, se: (high - low) / 2 / T95, toEnds: true } : axis
}

/**
 * The intensity of a place that was searched for, cd: between what one half says of the other's place and the greatest of all. Of a cell wider than the
 * cone: about its top the intensity falls with the square of the distance; where the cells beside it are darker by d the mean over the cell is d/6 below the
 * top of a round hump, and the top half a cell off is brighter by d/4 more. ± at 95 % holds half of d.
 */
const ofPlace = (place: Figure & Pick<Peak, 'own' | 'cell'>): Figure => {
  const found = place.own === undefined ? place : betweenExtremes(place, Math.max(place.value, place.own))
  return place.cell ? { ...found, se: Math.hypot(found.se, wideCellSe(place.cell)) } : found
}
/** What the cell leaves open, cd, one standard error. */
export const wideCellSe = ({ dropCd }: WideCell): number => dropCd / 2 / T95

/**
 * The intensity of the peak, cd, where rivals may be brighter than the place that was chosen, or only seem so: no lower than any of them, but that
 * the place that was chosen stays within, and as high as the upper end of the brightest; the middle as value and ± at 95 % to both ends. What a wide cell leaves open counts for the place
 * that was chosen alone, and for rivals in a grained beam (`findRivals`).
 */
export function hedge(chosen: Figure & Pick<Peak, 'own' | 'cell'>, rivals: readonly Peak[]): Hedged {
  const found = ofPlace(chosen)
  if (rivals.length === 0) return found
  const [lowest, highest] = [-1, 1].map((side) => (f: Figure) => f.value + side * T95 * ofFew(f).se) as [End, End]
  const high = Math.max(highest(found), ...rivals.map((rival) => highest(ofPlace(rival))))
  // Searched for, it may be no brighter than the other half has it.
  const lowEnd = Math.min(lowest(found), lowest(chosen))
  // A rival that only seems so is bright by chance: the place that was chosen stays within.
  const own = T95 * found.se <= ILL_KNOWN * found.value ? lowEnd : found.value
  const low = Math.min(high, own, Math.max(0, lowEnd, ...rivals.map(lowest)))
  return { value: (low + high) / 2, se: (high - low) / 2 / T95, toEnds: true }
}
/** `toEnds`: ± reaches from what is known of one place to what is possible of another, and the truth may well lie at one of the ends. */
export type Hedged = Figure & { toEnds?: true }
type End = (f: Figure) => number

/** Of n rays the sum is known to √(n + 2) of them, not √n: where few come, few are counted with too small an error. n by value² / se². */
const ofFew = ({ value, se }: Figure): Figure => ({
  value,
  se: value > 0 ? se * Math.sqrt(1 + 2 * (se / value) ** 2) : se,
})

const SURE_SIGMAS = 2.5
/** By 2.5 standard errors of the difference, our choice. */
export const isSurelyBrighter = (a: Figure, b: Figure): boolean =>
  a.value - b.value > SURE_SIGMAS * Math.hypot(a.se, b.se)
