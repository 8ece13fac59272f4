// Readings as text: typed, pasted from a spreadsheet, or CSV. One table or several with a blank line between; above each, if wanted, lines that say
// how it was read (headLines.ts). The columns' headings say what it is; a cell that can't be read is a fault with its line.
import Papa from 'papaparse'
import type { ReadingSet } from '../lamp/readings.ts'
import { type ColumnKey, columnsOf, type ReadingColumn } from './columns.ts'
import { type HeadEntries, headLine, joinEntries, readHeadLine } from './headLines.ts'
import { type DecimalMark, decimalMarkOf, inUnit, readNumber, unitFactor } from './numbers.ts'

export type ParsedReadings =
  | { ok: true; sets: ReadingSet[]; notes: string[] }
  | { ok: false; why: string[]; notes: string[] }

export interface ParseOptions {
  /** Of a table without headings; absent: refused. */
  kind?: 'line' | 'axis' | 'time'
  /** Where a table doesn't say it. */
  defaults?: HeadEntries
  /** Names that are taken. */
  taken?: readonly string[]
}

interface Line {
  number: number
  cells: string[]
}

/** A page of them; what is longer is no table of readings. */
const MOST_CHARS = 2_000_000
const MOST_FAULTS = 8

/**
 * Sets of readings from text (mm, m, lx, s, °C, V, A whatever units it is in), with notes on what was assumed or is missing; or what can't be read, one
 * sentence for each fault with its line, of which eight at the most. Never throws.
 */
export function parseReadings(text: string, options: ParseOptions = {}): ParsedReadings {
  if (text.length > MOST_CHARS)
    return { ok: false, why: ['The text is too long for readings: at most 2 MB.'], notes: [] }
  const notes: string[] = []
  const tables = tablesOf(text)
  if (tables.length === 0) return { ok: false, why: ['There are no readings in it.'], notes }
  // One mark for all of the text, but for tables with commas between their cells.
  const cells = tables.flatMap((t) => (t.comma ? [] : t.lines.flatMap((line) => line.cells)))
  const found = decimalMarkOf(cells, false)
  if (found === null && cells.some((cell) => /\d,\d{3}\b/.test(cell)))
    notes.push(
      'Commas were taken as thousands: 1,234 is 1234. Write one number with a decimal point or with two decimals if that is wrong.',
    )
  const why: string[] = []
  const sets: ReadingSet[] = []
  const taken = new Set(options.taken)
  let head = options.defaults ?? {}
  for (const { lines, comma } of tables) {
    const read = readTable(lines, head, comma ? '.' : (found ?? '.'), options, taken)
    notes.push(...read.notes)
    why.push(...read.why)
    // Lines of their own above several tables hold for all of them.
    if (read.set === null && read.why.length === 0) head = read.head
    if (read.set) {
      sets.push(read.set)
      taken.add(read.set.id)
    }
  }
  if (why.length === 0 && sets.length === 0) why.push('There are no readings in it: no column is filled in.')
  if (why.length === 0) return { ok: true, sets, notes }
  const more = why.length - MOST_FAULTS
  return { ok: false, why: more > 0 ? [...why.slice(0, MOST_FAULTS), `… and ${more} more.`] : why, notes }
}

interface TextTable {
  lines: Line[]
  /** Its cells have commas between them. */
  comma: boolean
}

/** Tables with a blank line between; each may be written in its own way. */
function tablesOf(text: string): TextTable[] {
  const lines = text
    .replace(/^\uFEFF/, '')
    .replace(/\r\n?/g, '\n')
    .split('\n')
  const tables: { first: number; lines: string[] }[] = []
  let open = false
  for (const [i, line] of lines.entries()) {
    if (/^[\s,;]*$/.test(line)) {
      open = false
      continue
    }
    if (!open) tables.push({ first: i + 1, lines: [] })
    tables.at(-1)?.lines.push(line)
    open = true
  }
  return tables.map((t) => cellsOf(t.lines, t.first))
}

function cellsOf(lines: readonly string[], first: number): TextTable {
  const plain = lines.join('\n')
  const body = lines.filter((line) => /\d/.test(line) && headLine([line]) === null)
  const delimiter = plain.includes('\t') ? '\t' : plain.includes(';') ? ';' : bySpaces(body) ? ' ' : ','
  if (delimiter === ' ')
    return {
      lines: lines.map((line, i) => ({ number: first + i, cells: line.trim().split(/\s{2,}|\s(?=[+-]?[\d.,])/) })),
      comma: false,
    }
  const { data } = Papa.parse<string[]>(plain, { delimiter, skipEmptyLines: false })
  // A comma in “wall: 5,5 m” parts no cells.
  const whole = (line = '') => delimiter === ',' && headLine([line]) !== null && [line.replace(/[\s,]+$/, '')]
  return {
    lines: data.map((cells, i) => ({ number: first + i, cells: whole(lines[i]) || cells })),
    comma: delimiter === ',',
  }
}

/** Two numbers with nothing but space between, in every line that has any. */
const bySpaces = (body: readonly string[]): boolean =>
  !body.some((line) => /,\s/.test(line)) &&
  body.some((line) => /^\s*[+-]?[\d.,]+\s+[+-]?\d/.test(line)) &&
  body.every((line) => /^\s*[+-]?[\d.,]+(\s+[+-]?[\d.,]+)+\s*$/.test(line) || !/^\s*[+-]?\d/.test(line))

interface ReadTable {
  set: ReadingSet | null
  head: HeadEntries
  why: string[]
  notes: string[]
}

function readTable(
  lines: readonly Line[],
  inherited: HeadEntries,
  decimal: DecimalMark,
  options: ParseOptions,
  taken: ReadonlySet<string>,
): ReadTable {
  const why: string[] = []
  const notes: string[] = []
  let head = inherited
  let rest = [...lines]
  for (let line = rest[0]; line; line = rest[0]) {
    const entry = headLine(line.cells)
    const isRemark = line.cells[0]?.trim().startsWith('#')
    if (!entry && !isRemark) break
    rest = rest.slice(1)
    if (!entry) continue
    const read = readHeadLine(entry.key, entry.text, decimal)
    if (read.ok) head = joinEntries(head, read.entries)
    else why.push(`Line ${line.number}: ${read.why}.`)
  }
  const [first] = rest
  if (!first) return { set: null, head, why, notes }
  const named = columnsOf(first.cells)
  const columns = named ?? bareColumns(options.kind)
  if (!columns)
    return {
      set: null,
      head,
      why: [
        ...why,
        `Line ${first.number}: no headings. Name the columns, for instance “across mm” and “lx”, or “distance m” and “lx”.`,
      ],
      notes,
    }
  for (const [i, column] of columns.entries()) {
    if (column === null && named && !/^expected/i.test(first.cells[i]?.trim() ?? ''))
      notes.push(`Line ${first.number}: the column “${printedCell(first.cells[i])}” is not used.`)
    if (column?.assumed && column.kind === 'length')
      notes.push(`Line ${first.number}: no unit for ${columnWords(column.key)}; taken as ${column.unit}.`)
  }
  const rows = readRows(named ? rest.slice(1) : rest, columns, decimal, why, notes)
  const made = why.length > 0 ? null : setOf(rows, columns, head, taken)
  if (typeof made === 'string') why.push(`Line ${first.number}: ${made}`)
  return { set: typeof made === 'string' ? null : made, head, why, notes }
}

const printedCell = (text = ''): string => text.trim().slice(0, 30)

const bareColumns = (kind: ParseOptions['kind']): ReadingColumn[] | null => {
  if (!kind) return null
  const first = { line: ['x', 'length', 'mm'], axis: ['distance', 'length', 'm'], time: ['time', 'time', 's'] } as const
  const [key, of, unit] = first[kind]
  return [
    { key, kind: of, unit, assumed: true },
    { key: 'lx', kind: 'light', unit: 'lx', assumed: true },
  ]
}

const columnWords = (key: ColumnKey): string =>
  ({
    x: 'places across',
    y: 'heights',
    distance: 'distances',
    lx: 'lux',
    knownLx: 'known lux',
    time: 'times',
    plate: 'temperatures',
    board: 'board temperatures',
    volts: 'volts',
    lampVolts: 'volts at the lamp',
    amps: 'amperes',
  })[key]

type Row = Partial<Record<ColumnKey, number>>

/** What a meter shows when it is over its range. */
const OVER_RANGE = /^(ol|0l|over|overload|>.*|1\s*\.?\s*_+)$/i

function readRows(
  lines: readonly Line[],
  columns: readonly (ReadingColumn | null)[],
  decimal: DecimalMark,
  why: string[],
  notes: string[],
): Row[] {
  const rows: Row[] = []
  let empty = 0
  for (const { number, cells } of lines) {
    const row: Row = {}
    let isOver = false
    for (const [i, column] of columns.entries()) {
      const cell = (cells[i] ?? '').trim()
      if (!column || cell === '' || cell === '-' || cell === '–') continue
      if (column.kind === 'light' && OVER_RANGE.test(cell)) {
        isOver = true
        continue
      }
      const read = readNumber(cell, decimal)
      if (!read.ok) {
        why.push(`Line ${number}: ${columnWords(column.key)}: ${read.why}.`)
        continue
      }
      const unit = read.unit === '' ? column.unit : read.unit
      if (unitFactor(column.kind, unit) === null) {
        why.push(`Line ${number}: ${columnWords(column.key)}: “${printedCell(unit)}” is no unit of it.`)
        continue
      }
      row[column.key] = Number(inUnit(column.kind, read.value, unit).toPrecision(12))
    }
    if (isOver)
      notes.push(
        `Line ${number}: over the meter’s range, so it says nothing. Read it on a higher range or from farther away.`,
      )
    else if (Object.keys(row).length > 0) rows.push(row)
    if (!isOver && row.lx === undefined && columns.some((c) => c?.key === 'lx') && Object.keys(row).length > 0) empty++
    if (row.lx !== undefined && row.lx < 0) why.push(`Line ${number}: lux can’t be negative.`)
  }
  if (empty > 0) notes.push(empty === 1 ? 'One place has no reading yet.' : `${empty} places have no reading yet.`)
  return rows
}

/** The set of the rows, or why there is none; null: no row is filled in. */
function setOf(
  rows: readonly Row[],
  columns: readonly (ReadingColumn | null)[],
  head: HeadEntries,
  taken: ReadonlySet<string>,
): ReadingSet | string | null {
  const has = (key: ColumnKey) => columns.some((c) => c?.key === key)
  const common = {
    ...(head.when !== undefined && { when: head.when }),
    ...(head.note !== undefined && { note: head.note }),
    ...(head.mode !== undefined && { mode: head.mode }),
    ...(head.afterS !== undefined && { afterS: head.afterS }),
    ...(head.ambientC !== undefined && { ambientC: head.ambientC }),
    ...(head.strayLx !== undefined && { strayLx: head.strayLx }),
    ...(head.meter !== undefined && { meter: head.meter }),
  }
  const id = (kind: string) => freeName(head.set ?? kind, taken)
  const lit = rows.flatMap((row) => (row.lx === undefined ? [] : [{ ...row, lx: row.lx }]))
  if (has('time') && RUNNING.some(has)) {
    const timed = rows
      .flatMap((row) => (row.time === undefined ? [] : [runningRow(row, row.time)]))
      .filter((row) => Object.keys(row).length > 1)
    const places = {
      ...(head.plateXMm !== undefined &&
        head.plateYMm !== undefined && { plateAt: { xMm: head.plateXMm, yMm: head.plateYMm } }),
      ...(head.board !== undefined && { board: head.board }),
    }
    return timed.length > 0 ? { ...common, ...places, kind: 'running', id: id('running'), rows: timed } : null
  }
  if (!has('lx')) return 'no column of lux. Name it “lx”.'
  if (has('knownLx')) {
    if (head.knownLm === undefined) return 'the lamp of known lumens: write “known: 800 lm” above the table.'
    const both = lit.flatMap(({ knownLx, lx }) => (knownLx === undefined ? [] : [{ knownLx, lx }]))
    const known = { knownLm: head.knownLm, knownDoubtPct: head.knownDoubtPct ?? KNOWN_DOUBT_PCT }
    return both.length > 0 ? { ...common, ...known, kind: 'bounce', id: id('bounce'), rows: both } : null
  }
  if (lit.length === 0) return null
  if (has('time')) return timeSet(lit, common, id('time'))
  const tape = head.distanceDoubtMm !== undefined && { distanceDoubtMm: head.distanceDoubtMm }
  if (has('x') || has('y')) {
    if (head.wallM === undefined) return 'how far the wall stands: write “wall: 10 m” above the table.'
    const wall = {
      ...common,
      ...tape,
      ...(head.placeDoubtMm !== undefined && { placeDoubtMm: head.placeDoubtMm }),
      distanceM: head.wallM,
      faces: head.faces ?? ('wall' as const),
      aimed: head.aimed ?? ('brightest' as const),
    }
    if (has('x') && has('y')) {
      const placed = lit.flatMap(({ x, y, lx }) => (x === undefined || y === undefined ? [] : [{ xMm: x, yMm: y, lx }]))
      return { ...wall, kind: 'grid', id: id('grid'), rows: placed }
    }
    const placed = lit.flatMap((row) => {
      const atMm = row.x ?? row.y
      return atMm === undefined ? [] : [{ atMm, lx: row.lx }]
    })
    return { ...wall, kind: 'line', along: head.along ?? (has('y') ? 'up' : 'across'), id: id('line'), rows: placed }
  }
  if (!has('distance')) return 'no column that says where. Name one “across mm”, “up mm”, “distance m” or “time s”.'
  const far = lit.flatMap(({ distance, lx }) => (distance === undefined ? [] : [{ distanceM: distance / 1000, lx }]))
  return { ...common, ...tape, kind: 'axis', id: id('axis'), rows: far }
}

/** Of a lamp whose lumens its box tells. Common practice, no source. */
const KNOWN_DOUBT_PCT = 10

type LitRow = Row & { lx: number }

const timeSet = (lit: readonly LitRow[], common: object, id: string): ReadingSet => ({
  ...common,
  kind: 'time',
  id,
  rows: lit.flatMap(({ time, lx }) => (time === undefined ? [] : [{ atS: time, lx }])),
})

const RUNNING: readonly ColumnKey[] = ['plate', 'board', 'volts', 'lampVolts', 'amps']

const runningRow = ({ plate, board, volts, lampVolts, amps }: Row, atS: number) => ({
  atS,
  ...(plate !== undefined && { plateC: plate }),
  ...(board !== undefined && { boardC: board }),
  ...(volts !== undefined && { packV: volts }),
  ...(amps !== undefined && { packA: amps }),
  ...(lampVolts !== undefined && { lampV: lampVolts }),
})

function freeName(wanted: string, taken: ReadonlySet<string>): string {
  const name =
    wanted
      .replace(/[^\w .+-]/g, '')
      .trim()
      .slice(0, 50) || 'set'
  if (!taken.has(name)) return name
  for (let n = 2; ; n++) if (!taken.has(`${name} ${n}`)) return `${name} ${n}`
}
