// Maps of intensity in the plainest form, to hold src/optics/density.ts and emission.ts: rows of tables under hats.
import { doubles } from './lensBench.ts'

export interface MapRow {
  /** Of the light. */
  share: number
  /** Number of its table. */
  table: number
  /** Middle of its hat and the hat's two widths, rad. */
  phi: number
  before: number
  after: number
}

/** Nodes of c = 1 − cosθ, and intensity there, its integral over c being 1. */
export type Table = readonly [c: readonly number[], intensity: readonly number[]]

const GUIDE = 2048

/** The packed records: at `gap` the rows (share below, table, φ, before, after), then the tables in the layout of src/optics/profiles.ts. */
export function mapProfiles(rows: readonly MapRow[], tables: readonly Table[], gap = 0) {
  const begins: number[] = []
  let end = gap + 5 * rows.length
  for (const [c] of tables) {
    begins.push(end)
    end += 2 + 4 * c.length + GUIDE
  }
  const profiles = doubles(end)
  let below = 0
  for (const [r, row] of rows.entries()) {
    profiles.set([below, begins[row.table]!, row.phi, row.before, row.after], gap + 5 * r)
    below += row.share
  }
  for (const [t, [c, intensity]] of tables.entries()) {
    const n = c.length
    const slopes = c.map((_, i) => (i + 1 < n ? (2 * (intensity[i + 1]! - intensity[i]!)) / (c[i + 1]! - c[i]!) : 0))
    const shares = c.map((to) => lightBelow([c, intensity], to))
    profiles.set([n, GUIDE, ...c, ...intensity, ...shares, ...slopes], begins[t])
  }
  return { profiles, tables: begins }
}

/** Straight between nodes, 0 beyond. */
function tableAt([c, intensity]: Table, at: number): number {
  for (let i = 1; i < c.length; i++)
    if (at <= c[i]!)
      return intensity[i - 1]! + ((at - c[i - 1]!) / (c[i]! - c[i - 1]!)) * (intensity[i]! - intensity[i - 1]!)
  return 0
}

/** ∫ I dc up to `to`, by trapezoids. */
export function lightBelow([c, intensity]: Table, to: number): number {
  let sum = 0
  for (let i = 1; i < c.length; i++) {
    const end = Math.min(to, c[i]!)
    if (end <= c[i - 1]!) break
    sum += ((intensity[i - 1]! + tableAt([c, intensity], end)) / 2) * (end - c[i - 1]!)
  }
  return sum
}

/** A hat of area 1 about row.phi on the line of angles, folded onto the circle. */
function hat({ phi: middle, before, after }: MapRow, phi: number): number {
  let sum = 0
  for (let turns = -3; turns <= 3; turns++) {
    const off = phi + 2 * Math.PI * turns - middle
    if (off <= -before || off >= after) continue
    sum += (2 / (before + after)) * (off < 0 ? 1 + off / before : 1 - off / after)
  }
  return sum
}

export function slowDensity(rows: readonly MapRow[], tables: readonly Table[], c: number, phi: number): number {
  return rows.reduce((sum, row) => sum + row.share * hat(row, phi) * tableAt(tables[row.table]!, c), 0)
}
