// Lines above a table of readings that say how it was read: "wall: 12 m", "mode: high", "after: 30 s".
import type { Meter } from '../lamp/readings.ts'
import { type DecimalMark, decimalMarkOf, inUnit, readNumber, type UnitKind, unitFactor } from './numbers.ts'

export interface HeadEntries {
  set?: string
  wallM?: number
  mode?: string
  afterS?: number
  ambientC?: number
  strayLx?: number
  faces?: 'wall' | 'lamp'
  aimed?: 'axis' | 'brightest'
  along?: 'across' | 'up'
  when?: string
  note?: string
  knownLm?: number
  knownDoubtPct?: number
  placeDoubtMm?: number
  distanceDoubtMm?: number
  /** Of running readings: where the plate's thermocouple sits, mm, and which board was read. */
  plateXMm?: number
  plateYMm?: number
  board?: string
  meter?: Meter
}

type Read = { ok: true; entries: HeadEntries } | { ok: false; why: string }

const WORDS: Record<string, (text: string) => HeadEntries> = {
  set: (text) => ({ set: text }),
  mode: (text) => ({ mode: text }),
  when: (text) => ({ when: text }),
  note: (text) => ({ note: text }),
  board: (text) => ({ board: text.slice(0, 60) }),
}

const CHOICES: Record<string, { options: readonly string[]; put(word: string): HeadEntries }> = {
  faces: { options: ['wall', 'lamp'], put: (word) => ({ faces: word === 'lamp' ? 'lamp' : 'wall' }) },
  aimed: { options: ['axis', 'brightest'], put: (word) => ({ aimed: word === 'axis' ? 'axis' : 'brightest' }) },
  along: { options: ['across', 'up'], put: (word) => ({ along: word === 'up' ? 'up' : 'across' }) },
  'meter class': {
    options: ['A', 'B', 'C'],
    put: (word) => ({ meter: { class: word === 'A' ? 'A' : word === 'B' ? 'B' : 'C' } }),
  },
}

const NUMBERS: Record<string, { kind: UnitKind; unit: string; put(value: number): HeadEntries }> = {
  wall: { kind: 'length', unit: 'm', put: (mm) => ({ wallM: mm / 1000 }) },
  after: { kind: 'time', unit: 's', put: (afterS) => ({ afterS }) },
  ambient: { kind: 'temperature', unit: '°C', put: (ambientC) => ({ ambientC }) },
  stray: { kind: 'light', unit: 'lx', put: (strayLx) => ({ strayLx }) },
  known: { kind: 'lumens', unit: 'lm', put: (knownLm) => ({ knownLm }) },
  'plate x': { kind: 'length', unit: 'mm', put: (plateXMm) => ({ plateXMm }) },
  'plate y': { kind: 'length', unit: 'mm', put: (plateYMm) => ({ plateYMm }) },
  'known within': { kind: 'percent', unit: '%', put: (knownDoubtPct) => ({ knownDoubtPct }) },
  'place within': { kind: 'length', unit: 'mm', put: (placeDoubtMm) => ({ placeDoubtMm }) },
  'distance within': { kind: 'length', unit: 'mm', put: (distanceDoubtMm) => ({ distanceDoubtMm }) },
  calibration: { kind: 'percent', unit: '%', put: (calibrationPct) => ({ meter: { calibrationPct } }) },
  spectral: { kind: 'percent', unit: '%', put: (spectralPct) => ({ meter: { spectralPct } }) },
  cosine: { kind: 'percent', unit: '%', put: (cosinePct) => ({ meter: { cosinePct } }) },
  resolution: { kind: 'light', unit: 'lx', put: (resolutionLx) => ({ meter: { resolutionLx } }) },
  'meter shows up to': { kind: 'light', unit: 'lx', put: (maxLx) => ({ meter: { maxLx } }) },
}

const HEAD_KEYS: readonly string[] = [...Object.keys(WORDS), ...Object.keys(CHOICES), ...Object.keys(NUMBERS)]

/** The key and the rest of such a line, its cells already apart; null: it is none. */
export function headLine(cells: readonly string[]): { key: string; text: string } | null {
  const line = cells.join(' ').replace(/\s+/g, ' ').trim().replace(/^#\s*/, '')
  const key = HEAD_KEYS.filter((k) => line.toLowerCase().startsWith(k)).sort((a, b) => b.length - a.length)[0]
  if (key === undefined) return null
  const rest = line.slice(key.length)
  // A heading may begin with the same word: "wall mm" has no number behind it.
  if (!/^\s*[:=]/.test(rest) && !(cells.length === 2 && cells[0]?.trim().toLowerCase() === key)) return null
  return { key, text: rest.replace(/^\s*[:=]?\s*/, '').trim() }
}

/** What such a line says. */
export function readHeadLine(key: string, text: string, decimal: DecimalMark): Read {
  const words = WORDS[key]
  if (words) return text === '' ? { ok: true, entries: {} } : { ok: true, entries: words(text.slice(0, 200)) }
  if (text === '') return { ok: true, entries: {} }
  const choice = CHOICES[key]
  if (choice) {
    const word = choice.options.find((option) => option.toLowerCase() === text.toLowerCase())
    if (word === undefined)
      return {
        ok: false,
        why: `${key}: ${JSON.stringify(text.slice(0, 30))} does not fit; expected ${choice.options.join(' or ')}`,
      }
    return { ok: true, entries: choice.put(word) }
  }
  const number = NUMBERS[key]
  if (!number) return { ok: false, why: `${key}: no such entry` }
  // It stands alone on its line: “5,5” has a decimal comma whatever parts the cells of the table.
  const read = readNumber(text, decimalMarkOf([text], false) ?? decimal)
  if (!read.ok) return { ok: false, why: `${key}: ${read.why}` }
  const unit = read.unit === '' ? number.unit : read.unit
  if (unitFactor(number.kind, unit) === null)
    return {
      ok: false,
      why: `${key}: ${JSON.stringify(unit.slice(0, 20))} is no unit of it; ${number.unit}, for instance`,
    }
  return { ok: true, entries: number.put(inUnit(number.kind, read.value, unit)) }
}

/** Later lines over earlier ones; the meter's entries one by one. */
export function joinEntries(a: HeadEntries, b: HeadEntries): HeadEntries {
  const meter = { ...a.meter, ...b.meter }
  return { ...a, ...b, ...(Object.keys(meter).length > 0 ? { meter } : {}) }
}
