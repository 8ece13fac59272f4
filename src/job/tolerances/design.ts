// Which lamps a run over tolerances builds: A. Saltelli et al., Comput. Phys. Commun. 181 (2010) 259: matrices A and B of independent draws, and
// for each tolerance i the matrix A with its columns from B. A tolerance's columns are one group: all boards' places together are one share.
import type { Lamp, Tolerance, ToleranceName } from '../../lamp/schema.ts'
import { tolerancesOf } from '../../library/typicalTolerances.ts'
import { normalQuantile } from '../../num/normal.ts'
import { seededRandom } from '../../num/rng.ts'
import { MOST_SOBOL_DIMENSIONS, makeSobolPoints } from '../../num/sobol.ts'
import { type Deviations, TOLERANCE_NAMES, thingsOf } from './build.ts'

export interface Varied {
  name: ToleranceName
  tolerance: Tolerance
  /** Numbers of the lamp that it varies, each by itself. */
  things: number
}

/** The tolerances that are ticked, are more than nothing, and that this lamp has something for. */
export const variedOf = (lamp: Lamp): Varied[] => {
  const all = tolerancesOf(lamp)
  return TOLERANCE_NAMES.flatMap((name) => {
    const tolerance = all[name]
    const things = tolerance.on && !isNothing(tolerance) ? thingsOf(lamp, name) : 0
    return things > 0 ? [{ name, tolerance, things }] : []
  })
}

const isNothing = (t: Tolerance): boolean =>
  t.spread === 'measured' ? t.deviations.every((d) => d === 0) : t.plusMinus === 0

/** drawn: without any deviation; a, b: of the matrices A and B; else A with this tolerance's draws from B. */
type Place = { row: number; of: 'drawn' | 'a' | 'b' | ToleranceName }

/** Lamps of each row: one of A, one of B, one for each tolerance. */
export const rowLength = (varied: readonly Varied[]): number => varied.length + 2

/** Fewer say nothing about percentiles. */
export const FEWEST_ROWS = 8

/** Whole rows that so many lamps make, the drawn one first; at least one. */
export const rowsOf = (lamps: number, varied: readonly Varied[]): number =>
  Math.max(1, Math.floor((lamps - 1) / rowLength(varied)))

/** Lamps of so many rows, the drawn one among them. */
export const lampsOf = (rows: number, varied: readonly Varied[]): number => 1 + rows * rowLength(varied)

/** Lamp 0 is the drawn one; then row by row, so that a run that is stopped has whole rows, and a longer one begins with a shorter. */
export function placeOf(index: number, varied: readonly Varied[]): Place {
  if (index === 0) return { row: -1, of: 'drawn' }
  const row = Math.floor((index - 1) / rowLength(varied))
  const column = (index - 1) % rowLength(varied)
  return { row, of: column === 0 ? 'a' : column === 1 ? 'b' : (varied[column - 2]?.name ?? 'a') }
}

/** Of a tolerance with more of them each number is a random one by itself: nothing evener is to be had in so many dimensions. */
const MOST_EVEN = 4

/**
 * Deviations of a lamp of the run, a pure function of its arguments. Tolerances of few things take points of Sobol's
 * sequence, shifted by `seed`: dimension 2d for A, 2d + 1 for B, since neighbours are the evenest pairs; the others seeded random numbers.
 */
export function makeDeviations(varied: readonly Varied[], seed: number): (index: number) => Deviations {
  const starts: (number | null)[] = []
  let dimensions = 0
  for (const { things } of varied) {
    const fits = things <= MOST_EVEN && 2 * (dimensions + things) <= MOST_SOBOL_DIMENSIONS
    starts.push(fits ? dimensions : null)
    if (fits) dimensions += things
  }
  const shift = seededRandom(seed)
  const shifts = Int32Array.from({ length: Math.max(1, 2 * dimensions) }, () => (shift() * 2 ** 32) | 0)
  const pointAt = makeSobolPoints(shifts)
  return (index) => {
    const { row, of } = placeOf(index, varied)
    if (of === 'drawn') return {}
    const point = pointAt(row)
    const deviations: Deviations = {}
    for (const [i, { name, tolerance, things }] of varied.entries()) {
      const fromB = of === 'b' || of === name
      const start = starts[i] ?? null
      const random = seededRandom(
        Math.imul(seed + 1, 0x85ebca6b) ^ Math.imul(2 * row + (fromB ? 1 : 0) + 1, 0x9e3779b1) ^ (i << 20),
      )
      deviations[name] = Array.from({ length: things }, (_, k) =>
        deviationAt(
          tolerance,
          start === null ? random() + 2 ** -33 : (point[2 * (start + k) + (fromB ? 1 : 0)] ?? 0.5),
        ),
      )
    }
    return deviations
  }
}

/** The deviation below which a share `u` (0 to 1) of all built lie. */
export function deviationAt(tolerance: Tolerance, u: number): number {
  switch (tolerance.spread) {
    case 'normal':
      return (tolerance.plusMinus / 2) * normalQuantile(u)
    case 'uniform':
      return tolerance.plusMinus * (2 * u - 1)
    case 'measured': {
      const sorted = tolerance.deviations.toSorted((a, b) => a - b)
      return sorted[Math.min(sorted.length - 1, Math.floor(u * sorted.length))] ?? 0
    }
  }
}
