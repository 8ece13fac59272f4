// How light holds over time, and lumens against a lamp of known lumens.
import type { BounceSet, Meter, TimeSet } from '../lamp/readings.ts'
import { meterDoubt, readingDoubt } from './meter.ts'
import { combined, type Measured, meanOf } from './uncertainty.ts'

/** ANSI/PLATO FL 1: the initial value is read so long after switch-on (check values 1.42), and a run ends at this share of it. */
const FL1_START_S = 30
const FL1_END_SHARE = 0.1

export interface TimeReading {
  /** Light at the last reading over that at 30 s. */
  lastShare: Measured | null
  lastS: number | null
  /** Until a tenth of the light at 30 s; null: it hasn't come to that. */
  runTimeS: number | null
}

/**
 * Light over time against that at 30 s after switch-on (straight lines between readings), and the run time of ANSI/PLATO FL 1: until 10 % of it (check
 * values 1.42). The meter's scale cancels. Nulls where no reading reaches back to 30 s.
 */
export function readTime(set: TimeSet, ofAll?: Meter): TimeReading {
  const meter = set.meter ?? ofAll
  const rows = set.rows
    .map((row) => ({ atS: row.atS, lx: Math.max(0, row.lx - (set.strayLx ?? 0)) }))
    .sort((a, b) => a.atS - b.atS)
  const last = rows.at(-1)
  const initial = valueAt(rows, FL1_START_S)
  if (!last || !(initial !== null && initial > 0)) return { lastShare: null, lastS: null, runTimeS: null }
  const share = last.lx / initial
  const u =
    share * combined([readingDoubt(initial, meter) / initial, last.lx > 0 ? readingDoubt(last.lx, meter) / last.lx : 0])
  return { lastShare: { value: share, u }, lastS: last.atS, runTimeS: fallsTo(rows, FL1_END_SHARE * initial) }
}

function valueAt(rows: readonly { atS: number; lx: number }[], atS: number): number | null {
  for (const [i, row] of rows.entries()) {
    if (row.atS < atS) continue
    const before = rows[i - 1]
    if (row.atS === atS) return row.lx
    return before ? before.lx + ((atS - before.atS) / (row.atS - before.atS)) * (row.lx - before.lx) : null
  }
  return null
}

function fallsTo(rows: readonly { atS: number; lx: number }[], level: number): number | null {
  for (const [i, row] of rows.entries()) {
    const before = rows[i - 1]
    if (!before || row.atS <= FL1_START_S || row.lx > level || before.lx <= level) continue
    return before.atS + ((before.lx - level) / (before.lx - row.lx)) * (row.atS - before.atS)
  }
  return null
}

/**
 * Lumens by substitution: those of the known lamp times the ratio of lux at the same place of the same room or box. The meter's calibration cancels,
 * its colour response does not unless both lamps are of one white: it counts once. Null without a whole row.
 */
export function readBounce(set: BounceSet, ofAll?: Meter): Measured | null {
  const meter = set.meter ?? ofAll
  const stray = set.strayLx ?? 0
  const ratios = set.rows
    .filter((row) => row.knownLx > stray && row.lx > stray)
    .map((row) => {
      const [known, lx] = [row.knownLx - stray, row.lx - stray]
      const value = lx / known
      return { value, u: value * combined([readingDoubt(known, meter) / known, readingDoubt(lx, meter) / lx]) }
    })
  if (ratios.length === 0) return null
  const ratio = meanOf(ratios)
  const lm = set.knownLm * ratio.value
  return { value: lm, u: lm * combined([ratio.u / ratio.value, set.knownDoubtPct / 200, meterDoubt(meter).spectral]) }
}
