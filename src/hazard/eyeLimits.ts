// Exposure limits of the retina: how long one may look at a radiance that is known by field of view. IEC 62471:2006 (CIE S
// 009:2002); the directive 2006/25/EC has the same numbers (annex I, as reprinted in the handbook of a radiometer).

/**
 * Fields of view that radiance is averaged over, rad (full angle): a blink, ten to a hundred seconds, half an hour's
 * task, a day's. IEC 62471:2006.
 */
export const FIELDS_RAD = [0.0017, 0.011, 0.035, 0.1] as const

/** Radiance averaged over a field, weighted; upper ends. */
export interface FieldRadiance {
  fieldRad: number
  blueWm2sr: number
  thermalWm2sr: number
  /** What decided: rays that were counted, all the light that arrives out of one field, or the emitters' own radiance. */
  by: 'rays' | 'arriving' | 'source'
}

/** Greatest weighted radiance of any emitter, W/m²sr: what the eye can't see more of. */
export interface SourceRadiance {
  blueWm2sr: number
  thermalWm2sr: number
}

type Weighted = 'blueWm2sr' | 'thermalWm2sr'

/**
 * Radiance (W/m²sr) averaged over any field, from that of the fields read (narrow to wide): no more than in the next
 * narrower field, and no more power than in the next wider one; below the narrowest no more than the emitters' own.
 * Upper bound, by the definition of a mean.
 */
export function radianceWithin(
  fields: readonly FieldRadiance[],
  source: SourceRadiance,
  fieldRad: number,
  of: Weighted,
): number {
  let bound = source[of]
  for (const f of fields) {
    const power = f[of] * (f.fieldRad / fieldRad) ** 2
    bound = Math.min(bound, f.fieldRad <= fieldRad ? f[of] : power)
  }
  return bound
}

/** Smallest angular subtense, resolved by time: 1.7 mrad to 0.25 s, 1.7 √(t/0.25) to 11 mrad at 10 s (row 4.51). */
const BLINK_S = 0.25
const GLANCE_S = 10
const SMALLEST_RAD = 0.0017
const GLANCE_RAD = 0.011
/** Wider fields are not averaged over: reached after (100/1.1)² = 8264 s. */
const WIDEST_RAD = 0.1

/** Time until which a field of so many rad (or a wider one) is the one that is averaged over, s. */
const untilSeconds = (rad: number): number => {
  if (rad < GLANCE_RAD) return BLINK_S * (rad / SMALLEST_RAD) ** 2
  return Math.max(100, (rad / 0.0011) ** 2)
}

const STEPS = 400
const between = (from: number, to: number, steps: number) =>
  Array.from({ length: steps + 1 }, (_, k) => from * (to / from) ** (k / steps))

/** Fields on the way from a blink to a day, rad, rising. */
const LADDER = [
  ...between(SMALLEST_RAD, GLANCE_RAD, STEPS),
  ...between(GLANCE_RAD, WIDEST_RAD, STEPS).slice(1, -1),
  WIDEST_RAD,
]

/** L_B · t ≤ 10⁶ J/m²sr to 10⁴ s, L_B ≤ 100 W/m²sr beyond. */
const BLUE_DOSE = 1e6
const LONG_SECONDS = 1e4

/**
 * Longest exposure, s, before the blue-light limit; null: none within 10,000 s. L_B t ≤ 10⁶ J/m²sr, L_B ≤ 100 W/m²sr
 * beyond 10⁴ s: IEC 62471:2006.
 * The field grows with the time: 1.7 mrad to 0.25 s, 1.7 √(t/0.25) mrad to 10 s, 11 mrad to 100 s, then 1.1 √t mrad up to
 * 100 mrad (memory). Between two fields the narrower one holds: the hot side.
 */
export function blueSeconds(fields: readonly FieldRadiance[], source: SourceRadiance): number | null {
  for (const rad of LADDER) {
    // The widest field is the last one, to the end.
    const until = rad < WIDEST_RAD ? untilSeconds(rad) : LONG_SECONDS
    const dose = BLUE_DOSE / Math.max(1e-9, radianceWithin(fields, source, rad, 'blueWm2sr'))
    // The dose of a wider field is reached no sooner, so not before that field counts.
    if (dose < until) return dose
  }
  return null
}

/** Limit of L_R α t^¼, W s^¼/m²sr·rad, from 10 µs to 10 s: row 4.51. */
const THERMAL_LIMIT = 50_000

/** Greatest L_R α of parts from each step of the ladder to the next, W/m²sr·rad: the radiance of the narrower, the angle of the wider. */
function forHeats(
  fields: readonly FieldRadiance[],
  source: SourceRadiance,
  call: (rad: number, heat: number) => void,
): void {
  let narrower = SMALLEST_RAD
  for (const rad of LADDER) {
    call(rad, rad * radianceWithin(fields, source, narrower, 'thermalWm2sr'))
    narrower = rad
  }
}

/**
 * Greatest L_R α, W/m²sr·rad, of any part of a source from `leastRad` to 100 mrad across: what the emission limits of retinal heat
 * bound. Upper bound from the fields that were read. IEC 62471:2006, section 4.3.5.
 */
export function greatestHeat(fields: readonly FieldRadiance[], source: SourceRadiance, leastRad: number): number {
  let most = 0
  forHeats(fields, source, (rad, heat) => {
    if (rad >= leastRad) most = Math.max(most, heat)
  })
  return most
}

/**
 * Longest exposure, s, before the retinal thermal limit; null: none within 10 s. L_R ≤ 50 000/(α t^¼) W/m²sr from 10
 * µs to 10 s (IEC 62471:2006); α in rad, 100 mrad at most, and at least 1.7 mrad to 0.25 s, 1.7 √(t/0.25) mrad to 10 s.
 * An uneven source is taken as each of its parts in turn, α the field that L_R is the mean over, and the soonest
 * decides (as ICNIRP has it for sources of many parts, Health Physics 105 (2013) 74; from memory).
 */
export function thermalSeconds(fields: readonly FieldRadiance[], source: SourceRadiance): number | null {
  let soonest = Number.POSITIVE_INFINITY
  forHeats(fields, source, (rad, heat) => {
    const seconds = (THERMAL_LIMIT / Math.max(1e-9, heat)) ** 4
    if (seconds < Math.min(GLANCE_S, untilSeconds(rad))) soonest = Math.min(soonest, seconds)
  })
  return soonest < GLANCE_S ? Math.max(1e-5, soonest) : null
}

/** Field glasses assumed: ×7, objective 50 mm (a usual marine pair: common practice, no source). */
export const GLASSES = { magnification: 7, objectiveMm: 50 } as const

/**
 * Fields as seen through field glasses (see GLASSES): the picture on the retina is larger by the magnification, so a field
 * holds a narrower one of the scene, at the same radiance; losses in the glass are left out (hot side). The exit pupil, 7.1
 * mm, fills the eye's. Conservation of étendue.
 */
export const throughGlasses = (fields: readonly FieldRadiance[], source: SourceRadiance): FieldRadiance[] =>
  fields.map((f) => ({
    ...f,
    blueWm2sr: radianceWithin(fields, source, f.fieldRad / GLASSES.magnification, 'blueWm2sr'),
    thermalWm2sr: radianceWithin(fields, source, f.fieldRad / GLASSES.magnification, 'thermalWm2sr'),
  }))
