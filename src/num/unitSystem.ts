// The two systems of units that a reader may choose, and numbers in the second. Whatever is computed or stored is metric.
// Exact by definition: 1 in = 25.4 mm, 1 ft = 0.3048 m, 1 lb = 0.45359237 kg (international yard and pound agreement, 1959);
// t/°F = 9/5 · t/°C + 32. Own code: packages for units bring tens of kilobytes for these few factors.

export type UnitSystem = 'metric' | 'inch'

export const MM_PER_INCH = 25.4
export const M_PER_FOOT = 0.3048
/** International mile of 5280 ft. */
export const M_PER_MILE = 1609.344
export const KG_PER_POUND = 0.45359237
const OUNCES_PER_POUND = 16

/** A temperature, °C, in °F. */
export const fahrenheit = (celsius: number): number => (celsius * 9) / 5 + 32

/** Which way a number is rounded at its last digit; `up` and `down` are for limits that have a safe side. */
export type Rounding = 'nearest' | 'up' | 'down'

// A tolerance, so that 2.3 held as 2.3000000000000003 isn't rounded up to 2.4.
const ROUND: Record<Rounding, (x: number) => number> = {
  nearest: Math.round,
  up: (x) => Math.ceil(x - 1e-9),
  down: (x) => Math.floor(x + 1e-9),
}

/** To so many decimals at most, without trailing zeros. */
function trimmed(x: number, decimals: number, way: Rounding = 'nearest'): string {
  const scale = 10 ** decimals
  const text = (ROUND[way](x * scale) / scale).toFixed(Math.max(0, decimals))
  const short = text.includes('.') ? text.replace(/\.?0+$/, '') : text
  return short === '-0' ? '0' : short
}

/** To three digits, without trailing zeros. */
function threeDigits(x: number, way: Rounding = 'nearest'): string {
  if (x === 0 || !Number.isFinite(x)) return Number.isFinite(x) ? '0' : '–'
  return trimmed(x, 2 - Math.floor(Math.log10(Math.abs(x)) + 1e-12), way)
}

/** A size, mm, in inches without the unit: to so many decimals, below an inch to at least two digits. */
export function inches(mm: number, decimals = 2, way: Rounding = 'nearest'): string {
  const size = Math.abs(mm / MM_PER_INCH)
  const small = size > 0 && size < 10 ** (1 - decimals) ? 1 - Math.floor(Math.log10(size)) : decimals
  return trimmed(mm / MM_PER_INCH, small, way)
}

/** A distance, mm, to three digits: in inches below three feet, then in feet. */
export function feetText(mm: number, way: Rounding = 'nearest'): string {
  const size = mm / MM_PER_INCH
  return Math.abs(size) < 36 ? `${threeDigits(size, way)} in` : `${threeDigits(size / 12, way)} ft`
}

/** A temperature, °C, to a whole °F. */
export const fahrenheitText = (celsius: number, way: Rounding = 'nearest'): string =>
  `${trimmed(fahrenheit(celsius), 0, way).replace('-', '−')} °F`

/** A difference of temperatures, K, in °F. */
export const fahrenheitApart = (kelvin: number): string => `${threeDigits(1.8 * kelvin)} °F`

/** A mass, kg: in ounces below one pound, then in pounds. */
export function poundsText(kg: number, way: Rounding = 'nearest'): string {
  const pounds = kg / KG_PER_POUND
  return Math.abs(pounds) < 1 ? `${threeDigits(OUNCES_PER_POUND * pounds, way)} oz` : `${threeDigits(pounds, way)} lb`
}

/** An area, mm², in square inches. */
export const squareInches = (mm2: number, way: Rounding = 'nearest'): string =>
  `${threeDigits(mm2 / MM_PER_INCH ** 2, way)} in²`
