// Parses typed quantities into the document's units: "2 in", "1 1/2 in", "5 ft 6 in", "600 + 10", "45°", "0.5 rad", "2.5 klm", "88 %". A number
// without a unit is in the field's unit. Conversion factors are exact by definition (international inch 25.4 mm).
// Own code, because unit packages (mathjs, convert-units) parse neither a workshop's "1 1/2 in" nor "5 ft 6 in", and bring tens of kilobytes.

import { ownEntry } from '../../lamp/ownEntry.ts'
import type { DecimalMark } from '../../num/decimalMark.ts'
import { pageMark } from './decimalMark.ts'
import { shownStep, shownUnit, type Unit, type UnitSystem } from './unitSystem.ts'

export type { Unit }

export type Parsed = { ok: true; value: number } | { ok: false; why: string }

type Words = Record<string, number>

const lengthsMm: Words = {
  mm: 1,
  cm: 10,
  m: 1000,
  km: 1e6,
  um: 1e-3,
  µm: 1e-3,
  μm: 1e-3,
  nm: 1e-6,
  in: 25.4,
  inch: 25.4,
  inches: 25.4,
  '"': 25.4,
  '″': 25.4,
  '”': 25.4,
  ft: 304.8,
  foot: 304.8,
  feet: 304.8,
  "'": 304.8,
  '′': 304.8,
  '’': 304.8,
  yd: 914.4,
  thou: 0.0254,
  mil: 0.0254,
}

const scaled = (words: Words, by: number): Words =>
  Object.fromEntries(Object.entries(words).map(([word, factor]) => [word, factor * by]))

/** Unit names that a field accepts, each with its factor to the field's unit. */
const WORDS: Record<Unit, Words> = {
  '': {},
  share: { '%': 0.01, percent: 0.01 },
  mm: lengthsMm,
  m: scaled(lengthsMm, 1e-3),
  nm: scaled(lengthsMm, 1e6),
  deg: {
    '°': 1,
    deg: 1,
    degree: 1,
    degrees: 1,
    rad: 180 / Math.PI,
    mrad: 0.18 / Math.PI,
    turn: 360,
    "'": 1 / 60,
    '′': 1 / 60,
    arcmin: 1 / 60,
    '"': 1 / 3600,
    '″': 1 / 3600,
    arcsec: 1 / 3600,
  },
  lm: { lm: 1, klm: 1000, mlm: 1e-3 },
  A: { a: 1, ma: 1e-3, amp: 1, amps: 1 },
  V: { v: 1, mv: 1e-3, volt: 1, volts: 1 },
  '°C': { '°c': 1, c: 1, '℃': 1 },
  'K/W': { 'k/w': 1, '°c/w': 1, 'c/w': 1 },
  'J/K': { 'j/k': 1, 'kj/k': 1000, 'j/°c': 1, 'kj/°c': 1000 },
  W: { w: 1, kw: 1000 },
  'W/m²': { 'w/m²': 1, 'w/m2': 1, 'kw/m²': 1000, 'kw/m2': 1000, 'w/cm²': 1e4, 'w/cm2': 1e4 },
  lx: { lx: 1, lux: 1, klx: 1000 },
  EV: { ev: 1 },
  s: { s: 1, ms: 1e-3, min: 60, h: 3600 },
  Ah: { ah: 1, mah: 1e-3 },
  mΩ: { mω: 1, ω: 1000, mohm: 1, ohm: 1000 },
  'm/s': { 'm/s': 1, 'km/h': 1 / 3.6 },
  'mm²': { 'mm²': 1, mm2: 1 },
  g: { g: 1, kg: 1000 },
  'kg/m³': { 'kg/m³': 1, 'kg/m3': 1, 'g/cm³': 1000, 'g/cm3': 1000 },
  Hz: { hz: 1, khz: 1000 },
  cd: { cd: 1, kcd: 1000, Mcd: 1e6, candela: 1 },
  min: { min: 1, minutes: 1, s: 1 / 60, h: 60 },
  kg: { kg: 1, g: 0.001, lb: 0.45359237 },
  '%': { '%': 1, percent: 1 },
}

const SHOWN: Record<Unit, string> = {
  '': 'a plain number',
  share: 'a share of 1, or %',
  mm: 'mm, cm, m, in, ft or thou',
  m: 'm, km, mm, ft or in',
  nm: 'nm or µm',
  deg: '°, rad or mrad',
  lm: 'lm or klm',
  A: 'A or mA',
  V: 'V or mV',
  '°C': '°C, K or °F',
  'K/W': 'K/W',
  'J/K': 'J/K or kJ/K',
  W: 'W or kW',
  'W/m²': 'W/m², kW/m² or W/cm²',
  lx: 'lx or klx',
  EV: 'EV',
  s: 's, min or h',
  Ah: 'Ah or mAh',
  mΩ: 'mΩ or Ω',
  'm/s': 'm/s or km/h',
  'mm²': 'mm²',
  g: 'g or kg',
  'kg/m³': 'kg/m³ or g/cm³',
  Hz: 'Hz or kHz',
  cd: 'cd, kcd or Mcd',
  min: 'min, s or h',
  kg: 'kg, g or lb',
  '%': '%',
}

/** The unit's label beside a value. */
export const unitLabel = (unit: Unit, system: UnitSystem = 'metric'): string =>
  unit === 'deg' ? '°' : unit === 'share' ? 'of 1' : shownUnit(unit, system).word

const NUMBER = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:e[+-]?\d+)?/i

/**
 * In the document's unit. A number without a unit is in the unit that the system shows. Point and comma both are decimal marks; before exactly
 * three digits only the page's own is.
 */
export function parseQuantity(
  text: string,
  unit: Unit,
  system: UnitSystem = 'metric',
  mark: DecimalMark = pageMark,
): Parsed {
  const whole = text.trim().replace(/\u2212/g, '-')
  if (whole === '') return no('Nothing was typed.')
  const mixed = markFault(whole, mark)
  if (mixed) return no(mixed)
  let rest = whole.replace(/(\d),(\d)/g, '$1.$2')
  let sum = 0
  let terms = 0
  let sign = 1
  let isPlain = true
  while (rest !== '') {
    // A sum: "600 + 10", "2 in - 5". "1-1/2" is one number, and read as such before.
    const operator = terms > 0 ? /^[+-](?=\s*[\d.])/.exec(rest)?.[0] : undefined
    if (operator !== undefined) rest = rest.slice(1).trimStart()
    const number = takeNumber(rest)
    if (!number)
      return no(
        terms === 0
          ? `“${whole}” is no number.`
          : `“${rest}” is not understood after “${whole.slice(0, whole.length - rest.length).trim()}”.`,
      )
    if (number.overZero) return no('A fraction with 0 below the line is no number.')
    rest = number.rest.trimStart()
    const word = /^[^\d\s.+-][^\d\s+]*[²2]?/.exec(rest)?.[0] ?? ''
    rest = rest.slice(word.length).trimStart()
    const converted = word === '' ? shownUnit(unit, system).toDocument(number.value) : convert(number.value, word, unit)
    if (converted === null) return no(`“${word}” is no unit for this field; it takes ${SHOWN[unit]}.`)
    if (terms === 0) isPlain = word === ''
    if (terms === 0) sign = number.value < 0 || Object.is(number.value, -0) ? -1 : 1
    if (terms > 0 && operator === undefined && (word === '' || number.value < 0))
      return no(`“${whole}” holds more than one number.`)
    // A kelvin or a degree Fahrenheit is another as a temperature than as a difference.
    if (operator !== undefined && unit === '°C' && word !== '')
      return no(`“${whole}”: in a sum of temperatures only numbers.`)
    // “1 + 1/2 in” may mean either.
    if (operator !== undefined && (word === '') !== isPlain)
      return no(`“${whole}” can be read two ways; write the unit after every number of a sum, or after none.`)
    if (operator !== undefined) sign = operator === '-' ? -1 : 1
    sum += terms === 0 ? converted : sign * converted
    terms++
  }
  if (!Number.isFinite(sum)) return no(`“${whole}” is too large a number.`)
  return { ok: true, value: tidy(sum) }
}

const no = (why: string): Parsed => ({ ok: false, why })

/** The mark that isn't the page's is ambiguous before exactly three digits (thousands or decimals), so it is refused. */
function markFault(text: string, mark: DecimalMark): string | null {
  const [own, other] = mark === ',' ? ['comma', 'point'] : ['point', 'comma']
  if (/,\d*[.,]/.test(text) || /\.\d*,/.test(text))
    return `“${text}” mixes commas and points; write it with one ${own}.`
  const both = mark === ',' ? /[1-9]\d{0,2}\.\d{3}(?!\d)/ : /[1-9]\d{0,2},\d{3}(?!\d)/
  return both.test(text) ? `“${text}” can be read two ways; write it without the ${other}, or with a ${own}.` : null
}

function takeNumber(text: string): { value: number; rest: string; overZero: boolean } | null {
  const first = NUMBER.exec(text)?.[0]
  if (first === undefined) return null
  let value = Number(first)
  let rest = text.slice(first.length)
  const over = /^\s*\/\s*(\d+(?:\.\d+)?)/.exec(rest)
  if (over) {
    const below = Number(over[1])
    return { value: value / below, rest: rest.slice(over[0].length), overZero: below === 0 }
  }
  const mixed = /^(?:\s+|-)(\d+)\s*\/\s*(\d+)/.exec(rest) // "1 1/2", or "1-1/2" as on drawings
  if (mixed) {
    const below = Number(mixed[2])
    value += (value < 0 ? -1 : 1) * (Number(mixed[1]) / below)
    rest = rest.slice(mixed[0].length)
    return { value, rest, overZero: below === 0 }
  }
  return { value, rest, overZero: false }
}

function convert(value: number, word: string, unit: Unit): number | null {
  const key = word.toLowerCase()
  if (unit === '°C') {
    if (key === 'k') return value - 273.15
    if (key === '°f' || key === 'f') return ((value - 32) * 5) / 9
  }
  // Case matters only where a unit's table has both cases; none has.
  const factor = ownEntry(WORDS[unit], word) ?? ownEntry(WORDS[unit], key)
  return factor === undefined ? null : value * factor
}

/** 25.4 × 0.1 is 2.54, not 2.5400000000000005: rounds to twelve digits. */
export const tidy = (value: number): number => Number(value.toPrecision(12))

/** A value as shown in its field: at most `digits` after the point, without trailing zeros. */
export function formatNumber(value: number, digits = 4): string {
  if (!Number.isFinite(value)) return '–'
  if (value !== 0 && Math.abs(value) < 10 ** -digits) return value.toPrecision(3)
  const text = value.toFixed(digits)
  const short = text.includes('.') ? text.replace(/\.?0+$/, '') : text
  return short === '-0' ? '0' : short
}

/** A value with its unit, as the builder's system has it: "305 mm", "12.008 in". */
export function valueText(value: number, unit: Unit, system: UnitSystem, digits = 4): string {
  const { toShown, moreDigits } = shownUnit(unit, system)
  const label = unitLabel(unit, system)
  return `${formatNumber(toShown(value), Math.min(4, digits + moreDigits))}${label === '°' ? '' : ' '}${label}`
}

/** The same without its unit, where that stands beside several. */
export const numberText = (value: number, unit: Unit, system: UnitSystem, digits = 4): string => {
  const { toShown, moreDigits } = shownUnit(unit, system)
  return formatNumber(toShown(value), Math.min(4, digits + moreDigits))
}

export interface Range {
  min: number
  max: number
  integer?: boolean
}

interface Stepping extends Range {
  unit: Unit
  step: number
}

/** Why a value is invalid in a field, or null. */
export function rangeFault(value: number, range: Range, unit: Unit, system: UnitSystem = 'metric'): string | null {
  const { toShown } = shownUnit(unit, system)
  const word = unit === '' ? '' : unit === 'deg' ? '°' : ` ${unitLabel(unit, system)}`
  const shown = (v: number) => `${formatNumber(toShown(v))}${word}`
  // A limit that is named must itself be taken.
  const sided = (v: number, by: (x: number) => number) =>
    `${formatNumber(Math.abs(v) < 1e-4 ? v : by(1e4 * v) / 1e4)}${word}`
  const least = () => sided(toShown(range.min), (x) => Math.ceil(x - 1e-6))
  const most = () => sided(toShown(range.max), (x) => Math.floor(x + 1e-6))
  if (range.integer && !Number.isInteger(value)) return `${shown(value)}: only whole numbers here.`
  if (unit === 'share' && value > 1 && value <= 100)
    return `${formatNumber(value)} is over 1; write ${formatNumber(value)} % or ${formatNumber(value / 100)}.`
  if (value < range.min) return `${shown(value)} is too small; at least ${least()}.`
  if (value > range.max) return `${shown(value)} is too large; at most ${most()}.`
  return null
}

/** One step up or down in the unit shown, on the step's grid when the value lies on it; clamped to the range. */
export function stepped(value: number, steps: number, range: Stepping, system: UnitSystem = 'metric'): number {
  const { toShown, toDocument } = shownUnit(range.unit, system)
  const by = steps * shownStep(range.step, range.unit, system)
  const next = tidy(toDocument(tidy(toShown(value) + by)))
  return Math.min(range.max, Math.max(range.min, range.integer ? Math.round(next) : next))
}
