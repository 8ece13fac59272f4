// The profiles across and up through a picture's zero, and the angles that they give.
import type { GridSet, LineSet, Meter } from '../../lamp/readings.ts'
import { readLine } from '../line.ts'
import { combined, type Measured } from '../uncertainty.ts'
import { ownDoubt, pictureTerms } from './terms.ts'

/** Numbers of the rows of a grid on the lines across and up that lie nearest to its zero, in the order of the places. */
export function linesThroughZero({ rows }: Pick<GridSet, 'rows'>): { across: number[]; up: number[] } {
  const nearest = (of: (row: GridSet['rows'][number]) => number) =>
    rows.reduce((best, row) => (Math.abs(of(row)) < Math.abs(best) ? of(row) : best), Infinity)
  const [x0, y0] = [nearest((r) => r.xMm), nearest((r) => r.yMm)]
  const along = (isOn: (row: GridSet['rows'][number]) => boolean, at: (row: GridSet['rows'][number]) => number) =>
    [...rows.entries()]
      .filter(([, row]) => isOn(row))
      .sort(([, a], [, b]) => at(a) - at(b))
      .map(([i]) => i)
  return {
    across: along(
      (r) => r.yMm === y0,
      (r) => r.xMm,
    ),
    up: along(
      (r) => r.xMm === x0,
      (r) => r.yMm,
    ),
  }
}

/**
 * Beam and field angle of a picture, deg, full: the mean of its lines across and up, each by `readLine`; null where neither falls so far, of a grid
 * that is no picture, and where the brightest places are burnt out. Each of what its places share moves both lines at once by one standard uncertainty.
 */
export function pictureAngles(set: GridSet, ofAll?: Meter): { beamDeg: Measured | null; fieldDeg: Measured | null } {
  if (!set.picture || set.picture.burntOut) return { beamDeg: null, fieldDeg: null }
  const { across, up } = linesThroughZero(set)
  const lines = (['across', 'up'] as const).map((along) => ({ along, rows: along === 'across' ? across : up }))
  const angles = (name: 'beamDeg' | 'fieldDeg', term?: readonly number[]): Measured | null => {
    const found = lines.flatMap(({ along, rows }): Measured[] => {
      const measured = readLine(lineOf(set, along, rows, term), ofAll, doubtsOf(set, rows))[name]
      return measured ? [measured] : []
    })
    if (found.length === 0) return null
    const value = found.reduce((sum, m) => sum + m.value, 0) / found.length
    // The two lines' own errors are independent of each other; what they differ by is the beam's shape.
    return { value, u: combined(found.map((m) => m.u / found.length)) }
  }
  const withShared = (name: 'beamDeg' | 'fieldDeg'): Measured | null => {
    const now = angles(name)
    if (!now) return null
    const moved = pictureTerms(set).map((term) => (angles(name, term)?.value ?? now.value) - now.value)
    return { value: now.value, u: combined([now.u, ...moved]) }
  }
  return { beamDeg: withShared('beamDeg'), fieldDeg: withShared('fieldDeg') }
}

function lineOf(set: GridSet, along: 'across' | 'up', rows: readonly number[], term?: readonly number[]): LineSet {
  const { kind: _, picture: __, rows: all, ...common } = set
  return {
    ...common,
    kind: 'line',
    along,
    rows: rows.flatMap((i) => {
      const row = all[i]
      if (!row) return []
      return [{ atMm: along === 'across' ? row.xMm : row.yMm, lx: Math.max(0, row.lx * (1 + (term?.[i] ?? 0))) }]
    }),
  }
}

const doubtsOf = ({ rows }: GridSet, of: readonly number[]): number[] =>
  of.map((i) => {
    const row = rows[i]
    return row ? (ownDoubt(row) ?? 0) : 0
  })
