// The wiring schedule as rows with what was found about each, as CSV, and its bill of materials; the same for page and command line.

import { type Finding, partOf, type Severity, type WiredPart } from '../checks/finding.ts'
import type { WireRun } from '../electrothermal/result.ts'
import { type CsvCell, csvText } from '../files/csv.ts'
import type { Power } from '../lamp/schema.ts'
import { gaugeInEither } from '../library/wireGauge.ts'
import type { DecimalMark } from '../num/decimalMark.ts'
import { inSystem } from '../num/quantity.ts'
import { fahrenheit, MM_PER_INCH, type UnitSystem } from '../num/unitSystem.ts'
import { safeCell } from './csvCells.ts'

/** What was found about a part, to stand beside it wherever it is listed. */
export interface Remark {
  severity: Severity
  title: string
}

/** Runs that are alike in everything but their names. */
export interface WiringRow {
  count: number
  ids: string[]
  from: string
  to: string
  /** The first of them. */
  run: WireRun
  remarks: Remark[]
}

const WORD: Record<Severity, string> = { severe: 'SEVERE', warning: 'Warning', note: 'Note' }

export const remarkWords = ({ severity, title }: Remark): string => `${WORD[severity]}: ${title}`

/** What is known about any of these parts; each finding once, in their order. */
export function remarksOn(findings: readonly Finding[], parts: readonly WiredPart[]): Remark[] {
  const index = indexOf(findings)
  const places = new Set(parts.flatMap((part) => index.get(partOf(part)) ?? []))
  return [...places]
    .sort((a, b) => a - b)
    .flatMap((i) => {
      const found = findings[i]
      return found ? [{ severity: found.severity, title: found.title }] : []
    })
}

/** A lamp of thousands of wires asks for each of them. */
const indexes = new WeakMap<readonly Finding[], Map<string, number[]>>()

/** Places of the findings that name a part. */
function indexOf(findings: readonly Finding[]): Map<string, number[]> {
  const known = indexes.get(findings)
  if (known) return known
  const index = new Map<string, number[]>()
  for (const [i, { parts }] of findings.entries()) {
    for (const part of parts ?? []) {
      const places = index.get(part)
      if (places) places.push(i)
      else index.set(part, [i])
    }
  }
  indexes.set(findings, index)
  return index
}

/** Everything that a row of the schedule names: the wire, its fuse, and what stands at its ends. */
function partsOf(run: WireRun, power: Power): WiredPart[] {
  const own: WiredPart[] = [
    { kind: 'wire', id: run.id },
    { kind: 'fuse', id: run.id },
  ]
  if (run.part === 'main') return [...own, { kind: 'supply' }, { kind: 'contactor' }]
  if (run.part === 'group') return [...own, { kind: 'relay', id: run.group ?? '' }]
  const driver = driverOf(run, power)
  const drivers: WiredPart[] = run.part === 'channel' && driver ? [{ kind: 'driver', id: driver }] : []
  const boards: WiredPart[] = run.part === 'channel' ? [] : [{ kind: 'board', id: run.channel ?? '' }]
  return [...own, ...drivers, ...boards]
}

const driverOf = (run: WireRun, power: Power): string | undefined =>
  power.groups.find((g) => g.id === run.group)?.driver

/** The schedule with alike runs in one row, in the order of the first of each. */
export function wiringRows(wiring: readonly WireRun[], power: Power, findings: readonly Finding[]): WiringRow[] {
  const rows = new Map<string, { runs: WireRun[]; remarks: Remark[] }>()
  for (const run of wiring) {
    const remarks = remarksOn(findings, partsOf(run, power))
    const { id: _, channel: __, from, to, ...numbers } = run
    const same = JSON.stringify([numbers, firstWord(from), firstWord(to), remarks], (_, x) =>
      typeof x === 'number' ? Number(x.toPrecision(4)) : x,
    )
    const row = rows.get(same)
    if (row) row.runs.push(run)
    else rows.set(same, { runs: [run], remarks })
  }
  const allOf = ({ part, group }: WireRun) => wiring.filter((w) => w.part === part && w.group === group).length
  const groupWords = ({ group }: WireRun) => {
    const name = power.groups.length > 1 ? power.groups.find((g) => g.id === group)?.name : undefined
    return name === undefined ? '' : ` of “${name}”`
  }
  return [...rows.values()].flatMap(({ runs, remarks }) => {
    const [run] = runs
    if (!run) return []
    return {
      count: runs.length,
      ids: runs.map((r) => r.id),
      from: endsWords(
        runs.map((r) => r.from),
        allOf(run) === runs.length,
        groupWords(run),
      ),
      to: endsWords(
        runs.map((r) => r.to),
        allOf(run) === runs.length,
        groupWords(run),
      ),
      run,
      remarks,
    }
  })
}

const firstWord = (text: string): string => text.split(' ', 1)[0] ?? ''

/** “19 drivers” of all there are, “2 drivers (B4, B6)” of some; one name stays as it is. */
function endsWords(names: readonly string[], isAll: boolean, ofGroup: string): string {
  const [first = ''] = names
  if (names.every((n) => n === first)) return first
  const word = firstWord(first)
  const which = isAll ? '' : ` (${namesInRows(names.map((n) => n.slice(word.length + 1)))})`
  return `${names.length} ${word}s${ofGroup}${which}`
}

/** Entries of a list of names that a cell has room for. */
const MOST_NAMES = 6

/** Names that end in numbers one after another share an entry: “B1 to B9, B12”. */
export function namesInRows(names: readonly string[]): string {
  const parts = names.map((name) => {
    const [, head = '', digits = ''] = /^(.*?)(\d*)$/.exec(name) ?? []
    return { name, head, n: digits === '' ? Number.NaN : Number(digits) }
  })
  const rows: { from: string; to: string; head: string; n: number; count: number }[] = []
  for (const { name, head, n } of parts) {
    const last = rows[rows.length - 1]
    if (last && last.head === head && n === last.n + 1) Object.assign(last, { to: name, n, count: last.count + 1 })
    else rows.push({ from: name, to: name, head, n, count: 1 })
  }
  const words = rows.map((r) => (r.count > 2 ? `${r.from} to ${r.to}` : r.count > 1 ? `${r.from}, ${r.to}` : r.from))
  if (words.length <= MOST_NAMES) return words.join(', ')
  const shown = rows.slice(0, MOST_NAMES - 1).reduce((sum, r) => sum + r.count, 0)
  return `${words.slice(0, MOST_NAMES - 1).join(', ')} and ${names.length - shown} more`
}

const headOf = (system: UnitSystem) => [
  'run',
  'count',
  'channel',
  'from',
  'to',
  'gauge',
  system === 'inch' ? 'length_in' : 'length_mm',
  'conductors',
  'contact_pairs',
  'amps',
  'peak_A',
  'worst_mode',
  'worst_supply_V',
  'drop_V',
  'loss_W',
  'bears_A',
  system === 'inch' ? 'insulation_F' : 'insulation_C',
  system === 'inch' ? 'air_F' : 'air_C',
  'fuse_A',
  'fuse_V',
  'fuse_least_A',
  'fuse_most_A',
  'short_A',
  'plus',
  'minus',
  'remarks',
]

/** `missing`: a sentence for each part of the results that has not been computed; it stands in every row, since a row may be read alone. */
export function wiringCsv(
  rows: readonly WiringRow[],
  missing: readonly string[] = [],
  decimal: DecimalMark = '.',
  system: UnitSystem = 'metric',
): string {
  const isInch = system === 'inch'
  const lines = rows.map(({ run: w, count, from, to, remarks }): CsvCell[] => [
    safeCell(w.id),
    count,
    safeCell(w.channel ?? ''),
    safeCell(from),
    safeCell(to),
    inSystem(gaugeInEither(w.gaugeWords), system),
    isInch ? rounded(w.lengthMm / MM_PER_INCH, 2) : rounded(w.lengthMm, 1),
    w.conductors,
    w.connectors,
    up(w.amps, 3),
    up(w.peakA, 3),
    safeCell(w.mode),
    rounded(w.terminalV, 2),
    up(w.dropV, 4),
    up(w.lossW, 3),
    down(w.bearsA, 1),
    isInch ? rounded(fahrenheit(w.insulationC), 0) : w.insulationC,
    rounded(isInch ? fahrenheit(w.airC) : w.airC, 0),
    w.fuse?.amps ?? null,
    w.fuse?.volts ?? null,
    w.fuseRange ? up(w.fuseRange.leastA, 2) : null,
    w.fuseRange ? down(w.fuseRange.mostA, 2) : null,
    w.shortA === null ? null : up(w.shortA, 0),
    w.plus,
    w.conductors === 2 ? w.minus : '',
    safeCell([...missing.map((m) => `SEVERE: ${m}`), ...remarks.map(remarkWords)].join(' ')),
  ])
  return csvText([headOf(system), ...lines], decimal)
}

/** A number, so that the spreadsheet's decimal mark is put in. */
const rounded = (x: number, decimals: number): number => Number(x.toFixed(decimals))
/** What is drawn or lost, and what is borne, to the safe side. */
const up = (x: number, decimals: number): number => Math.ceil(x * 10 ** decimals - 1e-9) / 10 ** decimals
const down = (x: number, decimals: number): number => Math.floor(x * 10 ** decimals + 1e-9) / 10 ** decimals

export interface BillItem {
  what: string
  amount: number
  /** Empty for pieces. */
  unit: 'm' | ''
  remarks: Remark[]
}

/**
 * Bill of materials without spares: supply, contactor, relays, single conductors by gauge and colour, drivers, fuses, contact pairs (as
 * many on the return as on the feed), each with what was found about it.
 */
export function billOfMaterials(
  wiring: readonly WireRun[],
  power: Power,
  findings: readonly Finding[],
  system: UnitSystem = 'metric',
): BillItem[] {
  const sums = new Map<string, BillItem & { parts: WiredPart[] }>()
  const add = (what: string, amount: number, parts: readonly WiredPart[], unit: BillItem['unit'] = '') => {
    const item = sums.get(what) ?? { what, amount: 0, unit, remarks: [], parts: [] }
    item.amount += amount
    item.parts.push(...parts)
    if (item.amount > 0) sums.set(what, item)
  }
  for (const w of wiring)
    for (const colour of w.conductors === 2 ? [w.plus, w.minus] : [w.plus])
      add(
        `${inSystem(gaugeInEither(w.gaugeWords), system)} ${colour}`,
        w.lengthMm / 1000,
        [{ kind: 'wire', id: w.id }],
        'm',
      )
  for (const w of wiring)
    if (w.fuse)
      add(`fuse ${w.fuse.amps} A, ${w.fuse.volts} V${w.fuse.kind ? `, ${w.fuse.kind}` : ''}`, 1, [
        { kind: 'fuse', id: w.id },
      ])
  for (const w of wiring.filter((x) => x.part === 'channel')) {
    const driver = power.drivers.find((d) => d.id === driverOf(w, power))
    if (driver) add(`driver “${driver.name}”`, 1, [{ kind: 'driver', id: driver.id }])
  }
  const { contactor } = power.harness
  if (contactor) add(`contactor ${contactor.maxA} A`, 1, [{ kind: 'contactor' }])
  for (const { id, name, relay } of power.groups)
    if (relay && wiring.some((w) => w.group === id))
      add(`relay of “${name}”, ${relay.maxA} A`, 1, [{ kind: 'relay', id }])
  add(`supply “${power.supply.name}”`, 1, [{ kind: 'supply' }])
  add(
    'pairs of contacts',
    wiring.reduce((sum, w) => sum + 2 * w.connectors, 0),
    [{ kind: 'contacts' }],
  )
  return [...sums.values()].map(({ parts, ...item }) => ({ ...item, remarks: remarksOn(findings, parts) }))
}
