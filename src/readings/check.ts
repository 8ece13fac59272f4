// What stands out in the sets of readings by themselves, and against what is expected of them.
import type { ReadingSet, Readings } from '../lamp/readings.ts'
import { readingDoubt } from './meter.ts'
import {
  findOutliers,
  type LengthSlip,
  lengthSlip,
  type StandsOut,
  slipOf,
  standingOut,
  type UnitSlip,
  unitSlip,
} from './slips.ts'

export type ReadingWarning =
  | ({ kind: 'standsOut'; set: string; row: number; where: number; by: 'neighbours' | 'prediction' } & StandsOut)
  | { kind: 'unit'; set: string; slip: UnitSlip }
  | { kind: 'length'; set: string; slip: LengthSlip }
  | { kind: 'overRange'; set: string; row: number; where: number; lx: number }

/** Neighbours along a line say no better, as a share. Our choice. */
const BY_NEIGHBOURS = 0.1
/** Nor does a lamp that differs from its drawing somewhere. Our choice. */
const BY_PREDICTION = 0.12

/** Place (mm), distance (m) or time (s) of each reading of lux in a set; empty: it has none. */
function luxRows(set: ReadingSet): { where: number; lx: number }[] {
  switch (set.kind) {
    case 'line':
      return set.rows.map((row) => ({ where: row.atMm, lx: row.lx }))
    case 'axis':
      return set.rows.map((row) => ({ where: row.distanceM, lx: row.lx }))
    case 'time':
      return set.rows.map((row) => ({ where: row.atS, lx: row.lx }))
    case 'grid':
      return set.rows.map((row) => ({ where: row.xMm, lx: row.lx }))
    case 'bounce':
    case 'running':
      return []
  }
}

/**
 * Readings that stand out, units that would put all of them right, readings at the end of the meter's range. `expected`: what is predicted of each
 * set, where the lamp is traced; without it neighbours along a line, an axis (E d²) or over time tell. Nothing is changed.
 */
export function checkReadings(readings: Readings, expected?: ReadonlyMap<string, Expected>): ReadingWarning[] {
  return readings.sets.flatMap((set) => {
    const rows = luxRows(set)
    const meter = set.meter ?? readings.meter
    const maxLx = meter?.maxLx
    const over = rows.flatMap(({ where, lx }, row): ReadingWarning[] =>
      maxLx !== undefined && lx >= maxLx ? [{ kind: 'overRange', set: set.id, row, where, lx }] : [],
    )
    const predicted = expected?.get(set.id)
    const least = (lx: number) => readingDoubt(lx, meter) / Math.max(lx, 1e-9)
    const beside = byNeighbours(set, rows)(least)
    // One slip would be the peak that the width is counted from.
    const plain = rows.filter((_, row) => !beside.some((w) => w.kind === 'standsOut' && w.row === row))
    const length = wrongLength(set, plain, predicted?.halfMm ?? null)
    if (length) return [...length, ...beside, ...over]
    const out = predicted?.lx.length === rows.length ? byPrediction(set, rows, predicted)(least) : beside
    return [...out, ...over]
  })
}

/** Of the lamp as drawn: lux of each row (none: not traced there yet), and how far out on that wall the beam falls to half, mm. */
export interface Expected {
  lx: readonly number[]
  halfMm: number | null
}

type Check = (least: (lx: number) => number) => ReadingWarning[]
type LuxRow = { where: number; lx: number }

/** Places along a wall in another unit than was typed, by how wide the beam would be. */
function wrongLength(set: ReadingSet, rows: readonly LuxRow[], halfMm: number | null): ReadingWarning[] | null {
  const readMm = set.kind === 'line' ? halfWidth(rows) : null
  const slip = readMm !== null && halfMm !== null ? lengthSlip(readMm, halfMm) : null
  return slip && [{ kind: 'length', set: set.id, slip }]
}

function byPrediction(set: ReadingSet, rows: readonly LuxRow[], { lx: predicted }: Expected): Check {
  return (least) => {
    const lit = predicted.flatMap((lx, row) => (lx > 0 ? [row] : []))
    const read = lit.map((row) => rows[row]?.lx ?? 0)
    const expected = lit.map((row) => predicted[row] ?? 0)
    const unit = unitSlip(read, expected)
    const out = findOutliers(
      read,
      expected,
      read.map((lx) => Math.hypot(least(lx), BY_PREDICTION)),
    )
    return [
      ...(unit ? [{ kind: 'unit' as const, set: set.id, slip: unit }] : []),
      ...out.map((o) => standsOut(set, rows, lit[o.index] ?? o.index, o, 'prediction')),
    ]
  }
}

/** How far out the readings fall to half of the brightest, mm; null: they don't. */
function halfWidth(rows: readonly LuxRow[]): number | null {
  const peak = Math.max(...rows.map((row) => row.lx))
  const dim = rows.filter((row) => row.lx < peak / 2).map((row) => Math.abs(row.where))
  return dim.length > 0 ? Math.min(...dim) : null
}

function byNeighbours(set: ReadingSet, rows: readonly LuxRow[]): Check {
  return (least) => {
    if (set.kind === 'grid') return []
    const sorted = rows
      .map((row, index) => ({ ...row, index, level: set.kind === 'axis' ? row.lx * row.where ** 2 : row.lx }))
      .sort((a, b) => a.where - b.where)
    const most = standingOut(
      sorted.map((s) => s.where),
      sorted.map((s) => s.level),
      sorted.map((s) => Math.hypot(least(s.lx), BY_NEIGHBOURS)),
    )
    const row = most && sorted[most.index]
    if (!most || !row) return []
    const expectedLx = (most.expectedLx * row.lx) / row.level
    const slip = slipOf(row.lx, expectedLx, most.close)
    return [standsOut(set, rows, row.index, { ...most, lx: row.lx, expectedLx, slip }, 'neighbours')]
  }
}

const standsOut = (
  set: ReadingSet,
  rows: readonly LuxRow[],
  row: number,
  out: StandsOut,
  by: 'neighbours' | 'prediction',
): ReadingWarning => ({ ...out, kind: 'standsOut', set: set.id, row, where: rows[row]?.where ?? 0, by })
