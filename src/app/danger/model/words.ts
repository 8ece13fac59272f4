// Figures of the danger sheet as text, rounded to the safe side: distances and temperatures up, times down.

import { clearDistance, degreesText, roundDown, roundUp, THIN } from '../../common/format.ts'
import { fahrenheit, type UnitSystem } from '../../common/unitSystem.ts'

/** Time until harm, rounded down. */
export function untilHarm(seconds: number | null): string {
  if (seconds === null) return 'stays below'
  if (seconds < 1) return `under 1${THIN}s`
  if (seconds < 120) return `${roundDown(seconds, 2)}${THIN}s`
  if (seconds < 7200) return `${Math.floor(seconds / 60)}${THIN}min`
  return `${Math.floor(seconds / 3600)}${THIN}h`
}

/** How long a spot stays where it is, rounded up. */
export function staysFor(seconds: number): string {
  if (seconds < 120) return `${roundUp(seconds, 2)}${THIN}s`
  if (seconds < 7200) return `${Math.ceil(seconds / 60)}${THIN}min`
  return `${Math.ceil(seconds / 3600)}${THIN}h`
}

export const keepAway = (mm: number, system: UnitSystem = 'metric'): string =>
  mm > 0 ? clearDistance(mm, system) : 'not reached'

export const upTo = (kWm2: number): string => `${roundUp(kWm2)}${THIN}kW/m²`

/** Above any solid's limit the energy balance gives no meaningful temperature. */
export function temperatureText(celsius: number, system: UnitSystem = 'metric'): string {
  if (celsius > 1000) return `over ${degreesText(1000, system)}`
  return system === 'inch' ? `${Math.ceil(fahrenheit(Math.ceil(celsius)))}${THIN}°F` : `${Math.ceil(celsius)}${THIN}°C`
}
