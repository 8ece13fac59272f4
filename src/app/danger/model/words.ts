// Figures of danger in words: distances up, times down, temperatures up.
import { clearDistance, roundedDown, roundedUp, THIN } from '../../common/format.ts'

/** How long until harm: never longer than it is. */
export function untilHarm(seconds: number | null): string {
  if (seconds === null) return 'stays below'
  if (seconds < 1) return `under 1${THIN}s`
  if (seconds < 120) return `${roundedDown(seconds, 2)}${THIN}s`
  if (seconds < 7200) return `${Math.floor(seconds / 60)}${THIN}min`
  return `${Math.floor(seconds / 3600)}${THIN}h`
}

export const keepAway = (mm: number): string => (mm > 0 ? clearDistance(mm) : 'not reached')

export const upTo = (kWm2: number): string => `${roundedUp(kWm2)}${THIN}kW/m²`

/** Beyond what any solid bears, the balance says no more than that. */
export const hotAs = (celsius: number): string =>
  celsius > 1000 ? `over 1000${THIN}°C` : `${Math.ceil(celsius)}${THIN}°C`
