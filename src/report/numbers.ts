// Number format of text, on the terminal and on paper: as many digits as the error allows.

import { sizeNumber, sizeText } from '../num/quantity.ts'
import { roundedDown, roundedUp } from '../num/sided.ts'
import { T95 } from '../num/stats.ts'
import { inThousands } from '../num/thousands.ts'
import type { Figure } from '../run/figure.ts'

/** No part of a lamp is known to more digits than these. */
const MOST_DIGITS = 5

/**
 * ± to two significant digits, and the value to the same place, but to `most` significant digits at the most; a smaller ± is then rounded up. A
 * value without error, or with that of rounding alone, gets as many significant digits and is called exact, unless it is zero.
 */
export function withError({ value, se }: Figure, times = 1, most = MOST_DIGITS): { value: string; error: string } {
  const error = T95 * se * times
  const shown = value * times
  if (!(error > 1e-9 * Math.abs(shown))) return { value: significant(shown, most), error: shown === 0 ? '' : 'exact' }
  const wanted = decade(error, 2) - 1
  const place = shown === 0 ? wanted : Math.max(wanted, decade(shown, most) - most + 1)
  const half = place === wanted ? error : Math.ceil(error / 10 ** place - 1e-9) * 10 ** place
  return { value: toPlace(shown, place), error: `± ${toPlace(half, place)}` }
}

export const significant = (x: number, digits: number): string =>
  x === 0 ? '0' : toPlace(x, decade(x, digits) - digits + 1)

/** Power of ten of the first digit of x, rounded to so many digits. */
const decade = (x: number, digits: number): number => Number(x.toExponential(digits - 1).split('e')[1])

/** Rounded to 10^place. */
function toPlace(x: number, place: number): string {
  if (place <= 0) return fixed(x, Math.min(12, -place))
  const step = 10 ** place
  return fixed(Math.round(x / step) * step, 0)
}

export const whole = (x: number): string => fixed(x, 0)

export function fixed(x: number, decimals: number): string {
  const shown = inThousands(x, { minimumFractionDigits: decimals, maximumFractionDigits: decimals })
  return /^-[0.]+$/.test(shown) ? shown.slice(1) : shown
}

/** A place in the lamp, in both systems of units: “x 1, y 2, z 350 mm”. */
export const placeText = ({ xMm, yMm, zMm }: { xMm: number; yMm: number; zMm: number }): string =>
  `x ${sizeNumber(whole(xMm), xMm)}, y ${sizeNumber(whole(yMm), yMm)}, z ${sizeText(whole(zMm), zMm)}`

/** At most three significant digits, without trailing zeros: for settings and distances. */
export const short = (x: number): string => inThousands(x, { maximumSignificantDigits: 3 })

/** The same, to the safe side: for what is needed or harms, and for what is borne. */
export const shortUp = (x: number): string => short(roundedUp(x))
export const shortDown = (x: number): string => short(roundedDown(x))

/** To so many decimals, to the safe side. */
export const fixedUp = (x: number, decimals: number): string =>
  fixed(Math.ceil(x * 10 ** decimals - 1e-9) / 10 ** decimals, decimals)
export const fixedDown = (x: number, decimals: number): string =>
  fixed(Math.floor(x * 10 ** decimals + 1e-9) / 10 ** decimals, decimals)

const asItIs = (x: number) => x

export const duration = (seconds: number): string => inTime(seconds, asItIs)
/** A time until something happens, rounded down. */
export const durationDown = (seconds: number): string => inTime(seconds, roundedDown)
/** A time that something lasts, rounded up. */
export const durationUp = (seconds: number): string => inTime(seconds, roundedUp)

function inTime(seconds: number, by: (x: number, digits: number) => number): string {
  const text = (x: number, digits: number) => significant(by(x, digits), digits)
  if (seconds < 1) return `${text(seconds, 2)} s`
  if (seconds < 120) return `${text(seconds, 3)} s`
  if (seconds < 7200) return `${text(seconds / 60, 3)} min`
  return `${text(seconds / 3600, 3)} h`
}
