// What a column of readings is, by its heading.
import { type UnitKind, unitFactor, unitNames } from './numbers.ts'

export type ColumnKey =
  | 'lx'
  | 'knownLx'
  | 'x'
  | 'y'
  | 'distance'
  | 'time'
  | 'plate'
  | 'board'
  | 'volts'
  | 'lampVolts'
  | 'amps'

export interface ReadingColumn {
  key: ColumnKey
  kind: UnitKind
  /** As it stands in the heading, or what is taken where none does. */
  unit: string
  assumed: boolean
}

const KNOWN: readonly { key: ColumnKey; kind: UnitKind; words: RegExp; unit: string }[] = [
  { key: 'knownLx', kind: 'light', words: /\bknown\b|\breference\b/, unit: 'lx' },
  {
    key: 'lx',
    kind: 'light',
    words: /\b(lux|lx|klx|fc|ftcd|foot.?candles?|illuminance|readings?|light|e)\b/,
    unit: 'lx',
  },
  { key: 'board', kind: 'temperature', words: /\bboard\b/, unit: '°C' },
  { key: 'plate', kind: 'temperature', words: /\b(plate|temperature|temp|heatsink|face)\b/, unit: '°C' },
  { key: 'lampVolts', kind: 'volts', words: /\b(lamp|drivers?)\b.*\b(volts?|voltage|v)\b/, unit: 'V' },
  { key: 'volts', kind: 'volts', words: /\b(volts?|voltage|v)\b/, unit: 'V' },
  { key: 'amps', kind: 'amps', words: /\b(amps?|amperes?|current|a)\b/, unit: 'A' },
  { key: 'time', kind: 'time', words: /\b(time|t|elapsed|seconds?|minutes?)\b/, unit: 's' },
  { key: 'distance', kind: 'length', words: /\b(distance|d)\b/, unit: 'm' },
  { key: 'y', kind: 'length', words: /\b(y|up|height|vertical)\b/, unit: 'mm' },
  { key: 'x', kind: 'length', words: /\b(x|across|offset|place|position|horizontal|right)\b/, unit: 'mm' },
]

/** The columns of a heading, null where a heading is none that is known; null: no heading at all, since a number stands in it. */
export function columnsOf(cells: readonly string[]): (ReadingColumn | null)[] | null {
  if (cells.some((cell) => /^[+-]?[\d.,]+$/.test(cell.trim()))) return null
  return cells.map(columnOf)
}

function columnOf(cell: string): ReadingColumn | null {
  const text = cell.toLowerCase().replace(/_/g, ' ')
  const known = KNOWN.find(({ words }) => words.test(text))
  if (!known) return null
  const unit = unitIn(text, known.kind)
  return { key: known.key, kind: known.kind, unit: unit ?? known.unit, assumed: unit === null }
}

/** A unit in brackets, or as the last word. */
function unitIn(text: string, kind: UnitKind): string | null {
  const bracketed = /[([]\s*([^)\]]+?)\s*[)\]]/.exec(text)?.[1]
  if (bracketed && unitFactor(kind, bracketed) !== null) return bracketed
  const words = text.split(/[\s,/()[\]]+/).filter(Boolean)
  const last = words.at(-1) ?? ''
  return unitFactor(kind, last) !== null ? (unitNames(kind).find((name) => name === last) ?? last) : null
}
