// Numbers as people type them and spreadsheets copy them: comma or point, thousands, a unit behind.

export type DecimalMark = '.' | ','

const UNITS: Record<string, Record<string, number>> = {
  length: { mm: 1, cm: 10, m: 1000, in: 25.4, inch: 25.4, inches: 25.4, '"': 25.4, ft: 304.8, feet: 304.8, "'": 304.8 },
  light: { lx: 1, lux: 1, klx: 1000, klux: 1000, fc: 1 / 0.3048 ** 2, ftcd: 1 / 0.3048 ** 2 },
  time: { s: 1, sec: 1, seconds: 1, min: 60, minutes: 60, h: 3600, hours: 3600 },
  temperature: { '°c': 1, c: 1, degc: 1, '°f': 1, f: 1, degf: 1 },
  volts: { v: 1, mv: 1e-3, volts: 1, volt: 1 },
  amps: { a: 1, ma: 1e-3, amps: 1, amp: 1, amperes: 1 },
  percent: { '%': 1, percent: 1 },
  lumens: { lm: 1, lumen: 1, lumens: 1 },
}
export type UnitKind = keyof typeof UNITS & string

/** Factor to mm, lx, s, °C, V, A, % or lm; null: no unit of that kind. */
export function unitFactor(kind: UnitKind, unit: string): number | null {
  const known = UNITS[kind]
  const key = unit.trim().toLowerCase()
  return known && Object.hasOwn(known, key) ? (known[key] ?? null) : null
}

/** Every spelling of a unit of that kind, small letters; empty for an unknown kind. */
export const unitNames = (kind: UnitKind): string[] => Object.keys(UNITS[kind] ?? {})

/** From the unit's own scale: Fahrenheit has a zero of its own. */
export function inUnit(kind: UnitKind, value: number, unit: string): number {
  if (kind === 'temperature' && /f$/i.test(unit)) return ((value - 32) * 5) / 9
  return value * (unitFactor(kind, unit) ?? 1)
}

const NUMBER = /^[+-]?(\d[\d.,'\u00a0\u202f ]*|[.,]\d+)(e[+-]?\d+)?/i

/** Which mark the numbers of a text have; null where either would do ("1,234" alone could be both). */
export function decimalMarkOf(cells: readonly string[], separatedByComma: boolean): DecimalMark | null {
  if (separatedByComma) return '.'
  let likely: DecimalMark | null = null
  for (const cell of cells) {
    const digits = NUMBER.exec(cell.trim().replace(/−/g, '-'))?.[0]
    if (!digits) continue
    const [comma, point] = [digits.lastIndexOf(','), digits.lastIndexOf('.')]
    if (comma >= 0 && point >= 0) return comma > point ? ',' : '.'
    const at = Math.max(comma, point)
    if (at < 0) continue
    const mark = comma >= 0 ? ',' : '.'
    const isOnce = digits.indexOf(mark) === at
    const behind = /^\d*/.exec(digits.slice(at + 1))?.[0].length ?? 0
    const before = digits.slice(0, at).replace(/^[+-]/, '')
    // Thousands stand in groups of three, the first not 0, as often as there are.
    if (!isOnce) return mark === ',' ? '.' : ','
    if (behind !== 3 || before === '0' || before === '' || before.length > 3) return mark
    if (mark === '.') likely = '.'
  }
  return likely
}

export type ReadNumber = { ok: true; value: number; unit: string } | { ok: false; why: string }

/** A number with a unit or none behind it. */
export function readNumber(text: string, decimal: DecimalMark): ReadNumber {
  const cell = text.trim().replace(/−/g, '-')
  const digits = NUMBER.exec(cell)?.[0]
  if (!digits) return { ok: false, why: `${JSON.stringify(shorten(cell))} is no number` }
  const plain = digits.replace(/['\u00a0\u202f ]/g, '').replaceAll(decimal === ',' ? '.' : ',', '')
  const value = Number(plain.replace(',', '.'))
  if (!Number.isFinite(value)) return { ok: false, why: `${JSON.stringify(shorten(cell))} is no number` }
  return { ok: true, value, unit: cell.slice(digits.length).trim() }
}

const shorten = (text: string): string => (text.length > 30 ? `${text.slice(0, 30)}…` : text)
