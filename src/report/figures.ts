// Name, unit, method and source of each figure, the same for screen and terminal.

import type { FigureName, HotSpotName, Sheet, SunAtTilt, Variant } from '../job/beam/sheet.ts'
import type { LensesLeftOut } from '../library/lensSystem.ts'
import type { Fate } from '../run/types.ts'

export type FigureUnit = 'lm' | 'cd' | 'deg' | 'm' | 'lx' | '%'

export interface FigureWords {
  name: string
  /** Short name, where there is little room. */
  short?: string
  /** '%': the value is a share of 1 and shown in per cent. */
  unit: FigureUnit
  /** How it is computed, in a sentence or two. */
  how: string
  /** Source of the definition. */
  source: string
}

const OWN = 'Defined for this program; it stays definite when the beam is a picture of the array.'
const TRACE = 'Sum over the traced paths; ± from the spread of 16 independent batches.'

export const FIGURE_WORDS: Record<FigureName, FigureWords> = {
  emittedLm: {
    name: 'Flux emitted',
    unit: 'lm',
    how: 'Luminous flux of all emitters at their current and junction temperature, before any optic. It follows from the lamp alone, without tracing.',
    source: 'Data entered for the emitters.',
  },
  fluxOutLm: {
    name: 'Flux out',
    unit: 'lm',
    how: 'All light that leaves the lamp towards the target, in any direction.',
    source: TRACE,
  },
  efficiency: {
    name: 'Efficiency',
    unit: '%',
    how: 'Flux out as a share of the flux emitted: what optics, tunnel, face and lens let through.',
    source: TRACE,
  },
  axialIntensityCd: {
    name: 'Axial intensity',
    unit: 'cd',
    how: 'Mean over a small cone about the axis: flux inside it divided by its solid angle, joined by their variances with rays traced backwards from the same cone to the emitters. The cone is a choice of the lamp, 0.25° half angle unless changed.',
    source: 'Luminous intensity: lm/sr, CIE photometry. The cone is our choice, stated beside the figure.',
  },
  peakIntensityCd: {
    name: 'Peak intensity',
    unit: 'cd',
    how: 'Highest value of the direction map after smoothing with the axial cone: a mean over that cone, never one noisy spot. Off the axis too it is joined with rays traced backwards from where it was found.',
    source: 'ANSI/PLATO FL 1, peak beam intensity; the smoothing cone is our choice.',
  },
  beamAngleDeg: {
    name: 'Beam angle',
    unit: 'deg',
    how: 'Twice the outermost angle at which the profile, averaged round the axis, falls through half of the peak.',
    source: 'Half-peak full angle, as is usual in the lighting trade; the outermost crossing is our choice.',
  },
  fieldAngleDeg: {
    name: 'Field angle',
    unit: 'deg',
    how: 'Twice the outermost angle at which the profile, averaged round the axis, falls through a tenth of the peak.',
    source: 'Tenth-peak full angle, as is usual in the lighting trade; the outermost crossing is our choice.',
  },
  halfFluxAngleDeg: {
    name: 'Half-flux angle',
    unit: 'deg',
    how: 'Full angle of the cone on the axis that holds half of the flux out.',
    source: OWN,
  },
  ninetyFluxAngleDeg: {
    name: 'Ninety-flux angle',
    unit: 'deg',
    how: 'Full angle of the cone on the axis that holds 90 % of the flux out.',
    source: OWN,
  },
  patternContrast: {
    name: 'Pattern contrast',
    unit: '%',
    how: '(highest − lowest) / (highest + lowest) of the smoothed direction map inside half of the field angle. Near 0 % the beam is even; near 100 % it shows the array.',
    source: 'Contrast as defined by Michelson, 1927 (year from memory).',
  },
  spillOutsideBeam: {
    name: 'Spill outside the beam',
    unit: '%',
    how: 'Share of the flux out that leaves outside the cone of the beam angle.',
    source: TRACE,
  },
  spillOutsideField: {
    name: 'Spill outside the field',
    unit: '%',
    how: 'Share of the flux out that leaves outside the cone of the field angle.',
    source: TRACE,
  },
  spillOutsideTarget: {
    name: 'Spill outside the target',
    unit: '%',
    how: 'Share of the flux out that leaves outside the cone set for the target.',
    source: TRACE,
  },
  beamDistanceM: {
    name: 'Beam distance',
    unit: 'm',
    how: 'Distance at which the peak of the beam falls to 0.25 lx, about a full moon on a clear night: 2·√(peak intensity in cd). Clear air is assumed.',
    source: 'ANSI/PLATO FL 1, beam distance.',
  },
  targetCentreLx: {
    name: 'Illuminance, target centre',
    short: 'Target centre',
    unit: 'lx',
    how: 'Light falling on the middle of the target plane at its distance, mean over the disc of the axial cone or a tenth of the target, from the rays themselves and not from the inverse square; joined by their variances with rays traced backwards from that disc.',
    source: TRACE,
  },
  targetMeanLx: {
    name: 'Illuminance, target mean',
    unit: 'lx',
    how: 'Flux falling on the target divided by its area.',
    source: TRACE,
  },
  targetMinLx: {
    name: 'Illuminance, target minimum',
    unit: 'lx',
    how: 'Lowest of 15 × 15 cells of the target; a smooth model of them says which. While few rays are in, its ± spans what noise may make of it.',
    source: TRACE,
  },
  targetEvenness: {
    name: 'Evenness on the target',
    unit: '%',
    how: 'Minimum of 15 × 15 cells divided by the mean of the target. 100 % is perfectly even.',
    source: 'Overall uniformity, minimum over mean, as is usual in the lighting trade.',
  },
  inverseSquareFromM: {
    name: 'Inverse square holds from',
    unit: 'm',
    how: 'Distance from which axial intensity / distance² gives the illuminance right within 1 %, both as means over a cone a quarter as wide as the half-flux angle. Measure the lamp with a lux meter farther off than this.',
    source: 'The 1 % is our choice; compared against the rays themselves.',
  },
  lensEvenness: {
    name: 'Evenness on the lens',
    unit: '%',
    how: 'Lowest divided by mean irradiance over the lens. 100 % is perfectly even.',
    source: 'Minimum over mean, as is usual in the lighting trade.',
  },
  lensVariation: {
    name: 'Variation on the lens',
    unit: '%',
    how: 'Standard deviation divided by mean of the irradiance over the lens. 0 % is perfectly even.',
    source: 'Coefficient of variation, a common statistic.',
  },
  faceEvenness: {
    name: 'Evenness on the face',
    unit: '%',
    how: 'Lowest divided by mean irradiance of the light that comes back to the face. 100 % is perfectly even.',
    source: 'Minimum over mean, as is usual in the lighting trade.',
  },
  faceVariation: {
    name: 'Variation on the face',
    unit: '%',
    how: 'Standard deviation divided by mean of the light that comes back to the face. 0 % is perfectly even.',
    source: 'Coefficient of variation, a common statistic.',
  },
}

/** Lines of the ledger: the fates, with the delivered light split by angle. */
export type LedgerLineName = Fate | 'deliveredInBeam' | 'deliveredInField' | 'deliveredOutside'

/** The fates of light: a short name for drawings and legends, and the definition. */
export const FATE_WORDS: Record<LedgerLineName, { name: string; how: string }> = {
  deliveredInBeam: { name: 'Inside the beam', how: 'Left the lamp inside the cone of the beam angle.' },
  deliveredInField: { name: 'Beam to field', how: 'Left the lamp between the cones of beam and field angle.' },
  deliveredOutside: { name: 'Outside the field', how: 'Left the lamp outside the cone of the field angle: spill.' },
  opticLoss: { name: 'Small optics', how: 'Not passed by the optics on the emitters.' },
  blocked: { name: 'Blocked', how: 'Emitted outside the wall of the tunnel.' },
  wall: { name: 'Tunnel wall', how: 'Absorbed by the wall of the tunnel: it becomes heat there.' },
  face: { name: 'Face', how: 'Came back and was absorbed by the face and its boards.' },
  behindFace: { name: 'Behind the face', how: 'Came back past the edge of the face.' },
  leakedFaceGap: {
    name: 'Gap at the face',
    how: 'Left through the gap between face and tunnel, or sideways before the lens.',
  },
  leakedLensGap: { name: 'Gap at the lens', how: 'Left through the gap between tunnel and lens.' },
  outsideLens: { name: 'Past the lens', how: 'Reached the plane of the lens outside its aperture.' },
  lensRim: { name: 'Rim of the lens', how: 'Reached the rim of the lens from inside.' },
  lensAbsorbed: { name: 'Inside the lens', how: 'Absorbed by the material of the lens: it becomes heat there.' },
  lensReturnedLost: { name: 'Sent back by the lens', how: 'Sent back by the lens and lost somewhere after that.' },
  delivered: { name: 'Delivered', how: 'Left the lamp towards the target.' },
  deliveredViaRiser: {
    name: 'By way of a riser',
    how: 'Left the lamp after meeting a riser or a tip between grooves: mostly stray light.',
  },
  roulette: { name: 'Roulette', how: 'Faint paths are ended by chance and the rest made stronger: zero on average.' },
  limit: { name: 'Bounce limit', how: 'Stopped after the highest number of bounces.' },
  lost: { name: 'Rounding', how: 'Lost to rounding of numbers.' },
}

/** Heading of an assembled lamp's ledger by part. */
export const PARTS_TITLE = 'What each part takes of it'

export const HOT_SPOT_WORDS: Record<HotSpotName, { name: string; how: string }> = {
  lens: { name: 'Lens', how: 'Highest irradiance arriving on the front plane of the lens, mean over the disc.' },
  wall: { name: 'Tunnel wall', how: 'Highest irradiance arriving on the wall, mean over the disc.' },
  face: {
    name: 'Face',
    how: 'Highest irradiance of the light that comes back to the face, mean over the disc. On boards tilted by more than 10° where it meets them; else on the plane of the face, also under raised boards: the danger sheet searches the air up to their tops as well.',
  },
  front: {
    name: 'In front',
    how: 'Worst place in front of the lamp, searched on the rays that leave it and refined round the worst plane; mean over the disc.',
  },
  sunInside: {
    name: 'Sun inside',
    how: 'Worst place inside the lamp when the sun shines into the lens: a disc of 0.2666° half angle, darker towards its rim, at the irradiance set for the lamp.',
  },
}

/** Of each further element. */
export const ELEMENT_SPOT_HOW = 'Highest irradiance on it, of the light on both its faces together, mean over the disc.'

/** Of the lamp's own lens as it stands; of another element, of which the map is then, by that element's name. Escape it: it is as in the document. */
export function hotSpotWords(
  name: HotSpotName,
  { mapped, elements }: Pick<Sheet, 'mapped' | 'elements'>,
): { name: string; how: string } {
  const words = HOT_SPOT_WORDS[name]
  if (name === 'lens' && elements) return { name: mapped?.name ?? words.name, how: ELEMENT_SPOT_HOW }
  if (name !== 'lens' || !mapped || mapped.name === words.name) return words
  return { name: mapped.name, how: words.how.replace('the lens', `“${mapped.name}”`) }
}

export const LANDS_WORDS: Record<SunAtTilt['lands'], string> = {
  board: 'on a board',
  face: 'on the face',
  wall: 'on the tunnel wall',
  air: 'in the air inside',
  outside: 'beside the lamp',
  front: 'before the lamp',
}

const VARIANT_WORDS: Record<Variant['name'], string> = {
  'as designed': 'As designed',
  'without lens': 'Without the lens',
  'without tunnel': 'Without the tunnel',
  'bare emitters': 'Bare emitters',
}

/** A variant's name; of the one without lens also how many are left out, and what stays. */
export function variantWords(name: Variant['name'], leftOut?: LensesLeftOut | null): string {
  if (name !== 'without lens' || !leftOut) return VARIANT_WORDS[name]
  const { lenses, covers, films } = leftOut
  const words = lenses === 1 ? VARIANT_WORDS[name] : `Without all ${lenses} lenses`
  const stay = [...manyWords(covers, 'cover'), ...manyWords(films, 'film')].join(' and ')
  return stay === '' ? words : `${words}; ${stay} stay${covers + films === 1 ? 's' : ''}`
}

const manyWords = (count: number, one: string): string[] =>
  count === 0 ? [] : [count === 1 ? one : `${count} ${one}s`]

/** Text for the engine that traces. */
export const engineWords = (engine: 'cpu' | 'gpu'): { name: string; title: string; about: string } =>
  engine === 'gpu'
    ? {
        name: 'graphics',
        title: 'graphics device',
        about:
          'The same rays by the same rules as on the processor, checked against it on a few thousand rays before it counts.',
      }
    : {
        name: 'processor',
        title: 'processor',
        about: 'A graphics device would trace the same rays by the same rules, only faster.',
      }
