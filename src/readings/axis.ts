// Candela from lux on the axis, at one distance by the inverse square, at several also with the place that the light seems to come from.
import type { AxisSet, Meter } from '../lamp/readings.ts'
import { meterDoubt, readingDoubt } from './meter.ts'
import { fitStraightLine } from './straightLine.ts'
import { combined, type Measured, propagate } from './uncertainty.ts'

interface AxisRow {
  distanceM: number
  lx: number
  /** E d². */
  cd: Measured
}

export interface AxisReading {
  rows: AxisRow[]
  /** Of the farthest reading alone, by E d²: the inverse square from the lamp's front. */
  farthestCd: Measured | null
  /** Of all readings, with the apparent source; null: fewer than three distances. */
  fitted: {
    cd: Measured
    /** How far behind the lamp's front the light seems to come from, m; negative: in front of it. */
    behindM: Measured
    /** √(χ²/freedom): above 1 the readings scatter more than they state, or E isn't of the form I/(d + d₀)². */
    birge: number
  } | null
}

/** How well a tape finds the distance, mm, where nothing is stated. Our choice. */
const TAPE_MM = 5

/**
 * Candela from lux at distances from the lamp's front. E = I/(d + d₀)² is a straight line, 1/√E = (d + d₀)/√I, fitted with weights: I = 1/slope²,
 * d₀ = offset/slope (photometric distance law, CIE e-ILV 17-25-104, from an apparent source; LM-73-04, 2.5 reads at rising distances). Stray light is
 * subtracted. Uncertainties: each reading's own, the tape's, and the meter's scale, which all readings share (in I alone).
 */
export function readAxis(set: AxisSet, ofAll?: Meter): AxisReading {
  const meter = set.meter ?? ofAll
  const scale = meterDoubt(meter).scale
  const tapeM = (set.distanceDoubtMm ?? TAPE_MM) / 1000
  const rows = set.rows
    .map((row) => ({ distanceM: row.distanceM, lx: row.lx - (set.strayLx ?? 0) }))
    .filter((row) => row.lx > 0)
    .map(({ distanceM, lx }) => {
      const share = combined([readingDoubt(lx, meter) / lx, (2 * tapeM) / distanceM])
      const value = lx * distanceM ** 2
      return { distanceM, lx, share, cd: { value, u: value * combined([share, scale]) } }
    })
    .sort((a, b) => a.distanceM - b.distanceM)
  return {
    rows: rows.map(({ share: _, ...row }) => row),
    farthestCd: rows.at(-1)?.cd ?? null,
    fitted: fitApparentSource(rows, scale),
  }
}

const LEAST_DISTANCES = 3

function fitApparentSource(
  rows: readonly { distanceM: number; lx: number; share: number }[],
  scale: number,
): AxisReading['fitted'] {
  if (new Set(rows.map((row) => row.distanceM)).size < LEAST_DISTANCES) return null
  // y = E^(−1/2): u(y)/y is half of u(E)/E.
  const line = fitStraightLine(
    rows.map(({ distanceM, lx, share }) => ({ x: distanceM, y: 1 / Math.sqrt(lx), u: share / 2 / Math.sqrt(lx) })),
  )
  if (!line || !(line.slope > 0)) return null
  const birge = Math.sqrt(line.chi2 / line.freedom)
  const widen = Math.max(1, birge)
  const { results } = propagate(
    ([offset = 0, slope = 1]) => [1 / slope ** 2, offset / slope],
    [
      { value: line.offset, u: widen * line.uOffset },
      { value: line.slope, u: widen * line.uSlope },
    ],
    [
      [1, line.correlation],
      [line.correlation, 1],
    ],
  )
  const [cd, behindM] = results
  if (!cd || !behindM) return null
  return { cd: { value: cd.value, u: combined([cd.u, cd.value * scale]) }, behindM, birge }
}
