// Lengths and numbers as text.
import { T95 } from '../../num/stats.ts'
import { roundTogether, toDigits } from './format.ts'
import { M_PER_FOOT, MM_PER_INCH, type UnitSystem } from './unitSystem.ts'

export const roundMm = (mm: number) => Math.round(mm * 1e4) / 1e4

/** 1050 mm, 14.5 mm, 32.1 m; 41.34 in, 105.3 ft. */
export function lengthText(mm: number, system: UnitSystem = 'metric'): string {
  if (system === 'inch')
    return Math.abs(mm) >= 10000 ? `${trim(mm / 1000 / M_PER_FOOT, 1)} ft` : `${trim(mm / MM_PER_INCH, 2)} in`
  if (Math.abs(mm) >= 10000) return `${trim(mm / 1000, 1)} m`
  return `${trim(mm, 1)} mm`
}
export const trim = (value: number, decimals: number) => String(Number(value.toFixed(decimals)))

/** No part of a lamp is known to more digits than these. */
const MOST_DIGITS = 3

/** Value and ± at 95 %, to as many digits as the ± leaves, three at the most. A ± smaller than the last of them isn't written. */
export function withError(value: number, se: number): string {
  const half = T95 * se
  const { value: shown, pm } = roundTogether(value, half, MOST_DIGITS)
  const lastPlace = 10 ** (Math.floor(Math.log10(Math.abs(value))) - MOST_DIGITS + 1)
  if (pm === '' || pm === 'exact' || half < lastPlace) return toDigits(value, MOST_DIGITS)
  return `${shown} ± ${pm}`
}

export function significant(value: number, figures: number): string {
  if (value === 0) return '0'
  const decimals = Math.max(0, figures - 1 - Math.floor(Math.log10(Math.abs(value))))
  return value.toFixed(Math.min(8, decimals))
}

/** A distance outside the lamp, to three digits: 146 mm, 5.42 m; 5.75 in, 17.8 ft. */
export function distanceText(mm: number, system: UnitSystem = 'metric'): string {
  if (system === 'inch') {
    const inches = mm / MM_PER_INCH
    return inches < 36 ? `${Number(inches.toPrecision(3))} in` : `${Number((inches / 12).toPrecision(3))} ft`
  }
  const three = Number(mm.toPrecision(3))
  return three < 1000 ? `${three} mm` : `${Number((mm / 1000).toPrecision(3))} m`
}
