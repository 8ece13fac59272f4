// Findings of lamps side by side: a row for each rule, with how severe it is in each lamp.
import type { Severity } from '../checks/finding.ts'
import type { ColumnFinding, ColumnSoFar } from '../job/compare/result.ts'
import { allInSystem } from '../num/quantity.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import type { DangerMark } from './compareDanger.ts'

type Columns = readonly (ColumnSoFar | null)[]

/** Of one lamp: its worst of that rule, and what each says. */
interface Found {
  severity: Severity
  titles: string[]
}

export interface FindingRow {
  rule: string
  /** The worst of all lamps. */
  severity: Severity
  /** Of the first lamp that has it. */
  title: string
  /** Null: not known yet. */
  lamps: (Found | 'none' | null)[]
  marks: (DangerMark | null)[]
}

const RANK: readonly Severity[] = ['severe', 'warning', 'note']
const worst = (all: readonly Severity[]): Severity => RANK.find((s) => all.includes(s)) ?? 'note'

/** Of light, danger, heat and power; each once. */
export function findingsOf(column: ColumnSoFar, severity: Severity): ColumnFinding[] {
  const traced: readonly ColumnFinding[] = column.danger?.reading.findings ?? []
  // What geometry says of the sun gives way to the sun that was traced.
  const hasSun = traced.some((f) => f.rule.startsWith('sun-'))
  const light = column.light.findings.filter((f) => !hasSun || f.rule !== BY_GEOMETRY)
  const all = [...light, ...traced, ...(column.heat?.findings ?? [])]
  const known = new Map(all.map((f) => [`${f.rule}\0${f.title}`, f]))
  return [...known.values()].filter((f) => f.severity === severity)
}

const BY_GEOMETRY = 'sun-inside'

/** Severe first; a lamp whose dangers and heat aren't read yet is not known in any row. */
export function findingRows(columns: Columns, system: UnitSystem = 'metric'): FindingRow[] {
  const all = columns.map((c) => (c?.danger && c.heat ? RANK.flatMap((s) => findingsOf(c, s)) : null))
  const rules = new Set(all.flatMap((found) => found?.map((f) => f.rule) ?? []))
  const rows = [...rules].map((rule): FindingRow => {
    const lamps = all.map((found) => found && foundOf(found.filter((f) => f.rule === rule)))
    const has = lamps.filter((l) => l !== null && l !== 'none')
    return {
      rule,
      severity: worst(has.map((l) => l.severity)),
      title: has[0]?.titles[0] ?? '',
      lamps,
      marks: lamps.map((l, i) => (i > 0 ? markOf(lamps[0] ?? null, l) : null)),
    }
  })
  return allInSystem(
    rows.sort((a, b) => RANK.indexOf(a.severity) - RANK.indexOf(b.severity)),
    system,
  )
}

const foundOf = (found: readonly ColumnFinding[]): Found | 'none' =>
  found.length === 0
    ? 'none'
    : { severity: worst(found.map((f) => f.severity)), titles: found.map((f) => f.inBoth?.title ?? f.title) }

function markOf(a: Found | 'none' | null, b: Found | 'none' | null): DangerMark | null {
  if (a === null || b === null) return null
  if (a === 'none' || b === 'none') return a === b ? null : b === 'none' ? 'not here' : 'only here'
  const rise = RANK.indexOf(a.severity) - RANK.indexOf(b.severity)
  return rise === 0 ? null : rise > 0 ? 'worse' : 'better'
}

/** “severe”, “2 severe”, “–”. */
export function foundWords(found: Found | 'none' | null): string | null {
  if (found === null) return null
  if (found === 'none') return '–'
  return found.titles.length > 1 ? `${found.titles.length} × ${found.severity}` : found.severity
}
