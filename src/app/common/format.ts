// Number format of the sheet: ± at 95 % to two significant digits, the value to the same decimals, thin spaces between thousands, always
// with units. Hazards are rounded to the safe side.
// Own code, because d3-format knows neither a value and its ± to the same decimals nor rounding to the safe side.
import { roundedDown, roundedUp } from '../../num/sided.ts'
import { T95 } from '../../num/stats.ts'
import type { Figure } from '../../run/figure.ts'
import { M_PER_FOOT, M_PER_MILE, MM_PER_INCH, shownUnit, type UnitSystem } from './unitSystem.ts'

/** Narrow no-break space, between thousands and between number and unit. */
export const THIN = '\u202f'
const MINUS = '\u2212'
const MAX_DIGITS = 7

/** Of a figure as it is computed. */
export type DisplayUnit = 'lm' | 'cd' | 'deg' | 'm' | 'lx' | '%' | 'kW/m²' | 'W' | 'mm' | 's' | '°C'

export interface FormattedValue {
  value: string
  /** Without the sign: '0.036', 'unknown', 'exact' of what has no error, and empty where nothing was met. */
  pm: string
  unit: string
  /** Value, ± and unit. */
  text: string
}

/** Groups thousands by thin spaces from 10 000 up, and uses a true minus sign. */
export function groupThousands(digits: string): string {
  const [whole = '', part] = digits.replace('-', '').split('.')
  const spaced = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, THIN) : whole
  const zero = /^[0.]*$/.test(digits.replace('-', ''))
  return `${digits.startsWith('-') && !zero ? MINUS : ''}${spaced}${part === undefined ? '' : `.${part}`}`
}

/** Rounds to decimals; negative decimals round to tens, hundreds… */
export function toDecimals(value: number, decimals: number): string {
  if (decimals >= 0) return groupThousands(value.toFixed(Math.min(decimals, 20)))
  const step = 10 ** -decimals
  return groupThousands((Math.round(value / step) * step).toFixed(0))
}

const exponentOf = (x: number, digits: number): number =>
  Number(
    Math.abs(x)
      .toExponential(digits - 1)
      .split('e')[1],
  )

/** To so many significant digits, without trailing zeros after the point. */
export function toDigits(value: number, digits = 3): string {
  if (!Number.isFinite(value)) return '–'
  if (value === 0) return '0'
  const text = toDecimals(value, digits - 1 - exponentOf(value, digits))
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text
}

/** Rounds away from zero at the last digit: for irradiances and safe distances. */
export function roundUp(value: number, digits = 3): string {
  return stepped(value, digits, roundedUp)
}

/** A clear distance, rounded up: in millimetres up to one metre, then in metres; in inches up to three feet, then in feet. */
export const clearDistance = (mm: number, system: UnitSystem = 'metric'): string => {
  const three = (value: number) => toDigits(roundedUp(value))
  if (system === 'inch') {
    const inches = mm / MM_PER_INCH
    return inches > 36 ? `${three(inches / 12)}${THIN}ft` : `${three(inches)}${THIN}in`
  }
  return three(mm) === '1000' || mm >= 1000 ? `${three(mm / 1000)}${THIN}m` : `${three(mm)}${THIN}mm`
}

/** A temperature to whole degrees. */
export function degreesText(celsius: number, system: UnitSystem): string {
  const { toShown, word } = shownUnit('°C', system)
  return `${Math.round(toShown(celsius))}${THIN}${word}`
}

/** Rounds towards zero at the last digit: for times until something burns. */
export function roundDown(value: number, digits = 3): string {
  return stepped(value, digits, roundedDown)
}

function stepped(value: number, digits: number, by: (x: number, digits: number) => number): string {
  if (!Number.isFinite(value)) return '–'
  if (value === 0) return '0'
  const decimals = digits - 1 - Math.floor(Math.log10(Math.abs(value)) + 1e-12)
  return toDecimals(Math.sign(value) * by(Math.abs(value), digits), Math.max(0, decimals))
}

/** The display unit and the factor to it: 5 963 000 cd are 5.963 Mcd. `zero`: what is added to a value beside that, not to its ±: 100 °C are 212 °F. */
export function scaleOf(
  value: number,
  unit: DisplayUnit,
  system: UnitSystem = 'metric',
): { by: number; unit: string; zero?: number } {
  const size = Math.abs(value)
  if (system === 'inch' && unit === '°C') return { by: 1.8, unit: '°F', zero: 32 }
  if (system === 'inch' && unit === 'mm') return { by: 1 / MM_PER_INCH, unit: 'in' }
  if (system === 'inch' && unit === 'm')
    return size >= 1e5 ? { by: 1 / M_PER_MILE, unit: 'mi' } : { by: 1 / M_PER_FOOT, unit: 'ft' }
  if (unit === 'cd' && size >= 1e6) return { by: 1e-6, unit: 'Mcd' }
  if (unit === 'cd' && size >= 1e4) return { by: 1e-3, unit: 'kcd' }
  if (unit === 'm' && size >= 1e5) return { by: 1e-3, unit: 'km' }
  if (unit === '%') return { by: 100, unit: '%' }
  if (unit === 'deg') return { by: 1, unit: '°' }
  return { by: 1, unit }
}

/** A degree sign follows its number directly, other units after a thin space. */
export const withUnit = (number: string, unit: string): string =>
  unit === '°' ? `${number}°` : `${number}${THIN}${unit}`

/** `digits`: the maximum of significant digits. */
export function formatFigure(
  figure: Figure,
  unit: DisplayUnit,
  system: UnitSystem = 'metric',
  digits?: number,
): FormattedValue {
  const scale = scaleOf(figure.value, unit, system)
  const value = figure.value * scale.by + (scale.zero ?? 0)
  const { value: shown, pm } = roundTogether(value, T95 * figure.se * scale.by, digits)
  const text = withPm(shown, pm, scale.unit)
  return { value: shown, pm, unit: scale.unit, text }
}

function withPm(shown: string, pm: string, unit: string): string {
  if (pm === '') return withUnit(shown, unit)
  if (pm === 'exact') return `${withUnit(shown, unit)} (exact)`
  return withUnit(pm === 'unknown' ? `${shown} (± unknown)` : `${shown} ± ${pm}`, unit)
}

/** Value and ±, in the display unit, to the decimals of the ±. */
export function roundTogether(value: number, half: number, digits = MAX_DIGITS): { value: string; pm: string } {
  if (!Number.isFinite(half)) return { value: toDigits(value, 2), pm: 'unknown' }
  // A spread from rounding alone, as of an input that is the same in every batch, is none.
  if (half <= 1e-9 * Math.abs(value)) return { value: toDigits(value, 5), pm: value === 0 ? '' : 'exact' }
  const wanted = 1 - exponentOf(half, 2)
  const most = value === 0 ? wanted : digits - 1 - Math.floor(Math.log10(Math.abs(value)))
  if (wanted <= most) return { value: toDecimals(value, wanted), pm: toDecimals(half, wanted) }
  return { value: toDecimals(value, most), pm: halfToDecimals(half, most) }
}

/** With fewer decimals than the ± needs, the ± is rounded up. */
function halfToDecimals(half: number, decimals: number): string {
  const step = 10 ** -decimals
  return toDecimals(Math.max(1, Math.ceil(half / step - 1e-9)) * step, decimals)
}

/** No part of a lamp is known to more digits than these: data sheets state angles to half a degree, shares to a per cent (common practice, no source). */
const PART_DIGITS = 3
/** Of what was traced, as it stands behind a tile. */
export const TRACED_DIGITS = 6

/** The value to the digits that ± of tracing and the doubt of parts, a share, leave it, and ± of tracing to the same place; in the unit of `formatFigure`. */
export function figureInDoubt(
  { value, se }: Figure,
  unit: DisplayUnit,
  doubt: number,
  system: UnitSystem = 'metric',
): { value: string; pm: string } {
  const { by } = scaleOf(value, unit, system)
  const [shown, half] = [value * by, T95 * se * by]
  const traced = roundTogether(shown, half, PART_DIGITS)
  const open = Math.hypot(half, doubt * shown)
  if (doubt === 0 || shown === 0 || !Number.isFinite(half)) return traced
  const decimals = Math.min(1 - exponentOf(open, 2), PART_DIGITS - 1 - Math.floor(Math.log10(Math.abs(shown))))
  return {
    value: toDecimals(shown, decimals),
    pm: traced.pm === 'exact' ? traced.pm : halfToDecimals(half, decimals),
  }
}

/** A value with its unit to so many digits: '5.96 Mcd', '12.5°'. */
export function formatValue(value: number, unit: DisplayUnit, digits = 3, system: UnitSystem = 'metric'): string {
  const scale = scaleOf(value, unit, system)
  return withUnit(toDigits(value * scale.by + (scale.zero ?? 0), digits), scale.unit)
}

/** ± at 95 % relative to the value; null without a value. */
export function relativeError(figure: Figure | undefined): number | null {
  if (!figure || figure.value === 0 || !Number.isFinite(figure.se)) return null
  return Math.abs((T95 * figure.se) / figure.value)
}

/** The upper end of ±, which decides for hazards. */
export const upperBound = (value: number, se: number): number => value + T95 * (Number.isFinite(se) ? se : 0)

/** '6 291 456' as '6.29 million', '16 384' as it is. */
export function countWords(count: number): string {
  if (count >= 1e9) return `${toDigits(count / 1e9)} thousand million`
  return count >= 1e6 ? `${toDigits(count / 1e6)} million` : groupThousands(count.toFixed(0))
}
