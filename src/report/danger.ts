// Text of the danger sheet, the same for screen, terminal and print.
import { ofLimit } from '../checks/words.ts'
import type { ThingReading } from '../hazard/inTheWay.ts'
import type { SunMapPoint } from '../hazard/sunMap.ts'

export const COVER_RULE =
  'Whenever the lamp is off, an opaque, non-flammable cover is on the lens; before it is switched on the cover is off, and somebody has looked. The lens alone is kept wrapped, indoors as well.'

export const BEFORE_POWER: readonly string[] = [
  'Cover off, nothing on the lens, nothing within the clear distances.',
  'Everybody near by is warned and stands behind the lamp.',
  'The lamp stands fast and can’t fall on its face.',
  'Fans turn, fins are free, fuses are in.',
  'Somebody stays with it until it is off and cool.',
]

export const EYE_NOTE =
  'Blue-light and retinal heat limits of IEC 62471:2006 for a steady look of so long, at the worst place of each distance; the emitters’ own brightness where the rays can’t tell. The model holds light of 380 to 780 nm: no infrared, no ultraviolet. Field glasses make it worse.'

export const FLICKER_NOTE =
  'Dimming by pulse width leaves the peaks as bright as full power: limits for long looks follow the mean, those within a pulse don’t. Flicker below some 100 Hz can upset people and make turning machines seem to stand still (IEEE 1789-2015; memory): run the pulses well above 1 kHz.'

export const SCREENING_NOTE =
  'A screening for planning, on the hot side: the photobiological classification of a lamp belongs to a laboratory.'

export const FIRST_RULE =
  'Local codes and licensed practice come first. Ignition and burn figures scatter by tens of per cent: floors for a warning, never proof of safety.'

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
  if (t.secondsTo90C !== null) also.push(`over the lamp standard’s 90 °C in ${time(t.secondsTo90C)}`)
  if (t.lensBehindC !== null) also.push(`the lens under it to ${upDegrees(t.lensBehindC)}`)
  return also
}

/** Two digits, rounded up. */
const up = (x: number): number => {
  if (!(x > 0)) return 0
  const unit = 10 ** (Math.floor(Math.log10(x)) - 1)
  return Math.ceil(x / unit - 1e-9) * unit
}

export const upMetres = (mm: number): string => String(Number(up(mm / 1000).toPrecision(2)))
export const upDegrees = (c: number): string => `${Math.ceil(c)}\u00a0°C`
