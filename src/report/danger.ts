// Text of the danger sheet, the same for screen, terminal and print.

import { groupWords, leadTime } from '../checks/eyeWords.ts'
import { degreesC, ofLimit, standardMm } from '../checks/words.ts'
import { type EyeSheet, leadOf } from '../hazard/eyeSheet.ts'
import type { ThingReading } from '../hazard/inTheWay.ts'
import type { SunMapPoint } from '../hazard/sunMap.ts'
import type { Lamp } from '../lamp/schema.ts'
import { frontWord, sunGatherer } from '../library/lensSystem.ts'
import { allInSystem, distanceText, inEither } from '../num/quantity.ts'
import { roundedUp } from '../num/sided.ts'
import { fahrenheitText, type UnitSystem } from '../num/unitSystem.ts'

/** Against the sun; null where nothing gathers it. */
export function coverRule(lamp: Lamp): string | null {
  if (!sunGatherer(lamp)) return null
  const front = frontWord(lamp)
  const alone = front === 'lens' ? ' Keep the lens alone wrapped, indoors as well.' : ''
  return `Lamp off: keep an opaque, non-flammable cover on the ${front}. Before you switch on: take it off, and look.${alone}`
}

export const beforePower = (lamp: Lamp): string[] => [
  `The cover is off. Nothing lies on the ${frontWord(lamp)}.`,
  'Nothing stands within the clear distances.',
  'Everybody near by is warned and stands behind the lamp.',
  'The lamp stands fast. It can’t fall on its face.',
  'Fans turn, fins are free, fuses are in.',
  'Somebody stays with it until it is off and cool.',
]

export const EYE_NOTE =
  'Blue-light and retinal heat limits of IEC 62471:2006 for a steady look of so long, at the worst place of each distance, in all directions, through a pupil of 7 mm; the emitters’ own brightness where the rays can’t tell. The light that is traced spans 380 to 780 nm: no infrared, and ultraviolet only as the spectrum states it. Field glasses: 7 × 50, without losses.'

export const FLICKER_NOTE =
  'Dimming by pulse width leaves the peaks as bright as full power: limits for long looks follow the mean, those within a pulse don’t. Flicker below some 100 Hz can upset people and make turning machines seem to stand still (IEEE 1789-2015; memory): run the pulses well above 1 kHz.'

/** The longest distance that applies, with its time; a lamp without any says why. */
export function eyeLeadSentence(eye: EyeSheet, system: UnitSystem = 'metric'): string {
  const lead = leadOf(eye.distances[0])
  if (lead.metres > 0) return allInSystem(`Keep ${upDistance(1000 * lead.metres)} away: ${leadTime(lead)}.`, system)
  const { group } = eye.risk.at200
  return allInSystem(
    group === 'exempt'
      ? `Past ${standardMm(200)} no limit is reached.`
      : `Past ${standardMm(200)} no limit of a look is reached, but at ${standardMm(200)} it is beyond the exempt group: ${groupWords(group)}.`,
    system,
  )
}

/** How far it blinds, dazzles and distracts drivers and pilots. */
export function trafficSentence({ interference: { levels } }: EyeSheet, system: UnitSystem = 'metric'): string {
  const each = levels.map(
    (l) => `${l.name.toLowerCase()} ${l.metres > 0 ? `to ${upDistance(1000 * l.metres)}` : 'nowhere'}`,
  )
  return allInSystem(`Drivers and pilots, in clear air: ${each.join(', ')} (aviation’s levels for lasers).`, system)
}

export const SCREENING_NOTE =
  'This is a screening for planning, on the hot side. Only a laboratory can classify a lamp for eyes and skin.'

/** Linear law of limb darkening, u = 0.6: the middle is 1/(1 − u/3) = 1.25 times the mean (textbook). */
export const SUN_NOTE =
  'The sun is a disc of 0.53°, a quarter brighter in its middle than on the mean, at least as strong as on a very clear day at height (1100 W/m²). Light round the sun is left out: it adds little to a spot.'

export const FIRST_RULE =
  'Local codes and licensed practice come first. Figures of fire and burns scatter by tens of per cent: no proof of safety.'

export const LANDS_WHERE: Record<SunMapPoint['lands'], string> = {
  board: 'board',
  face: 'face',
  wall: 'wall',
  air: 'in the air',
  outside: 'beside the lamp',
  front: 'before the lamp',
}

/** What isn't reached is said with how near it is: “94 % of its limit”, rounded up and never 100. */
export const belowWords = (share: number): string => `${ofLimit(share)} of its limit`

/** “alight in …”, “over 90 °C in …”: what else happens to a thing, beside the harm of its row. */
export function alsoHappens(t: ThingReading, time: (seconds: number) => string): string[] {
  const also: string[] = []
  if (t.secondsToIgnite !== null && t.harm !== 'catches fire') also.push(`can catch fire in ${time(t.secondsToIgnite)}`)
  if (t.secondsTo90C !== null) also.push(`over the lamp standard’s ${degreesC(90)} in ${time(t.secondsTo90C)}`)
  if (t.lensBehindC !== null) also.push(`${t.liesOn ?? 'the lens'} under it to ${upDegrees(t.lensBehindC)}`)
  return also
}

/** A distance to keep, rounded up to two digits: m, or feet and inches. */
export function upDistance(mm: number, space = ' '): string {
  const metres = roundedUp(Math.max(0, mm) / 1000, 2)
  return distanceText(`${metres}${space}m`, 1000 * metres, 'up')
}
export const upDegrees = (c: number): string =>
  inEither(`${Math.ceil(c)}\u00a0°C`, fahrenheitText(Math.ceil(c), 'up').replace(' ', '\u00a0'))
