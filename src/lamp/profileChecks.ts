// Faults of tables in a document: columns that must rise, rows that must fit, and something above zero.
import { LIMITS } from './limits.ts'
import type { Profile } from './schema.ts'

/** A sentence for each value of a column that does not rise. `where`: the column's path. */
export function fallingFaults(values: readonly number[], where: string): string[] {
  const why: string[] = []
  for (let i = 1; i < values.length; i++) {
    if (values[i]! < values[i - 1]! + LIMITS.tableStep)
      why.push(`${where}[${i}]: ${values[i]} does not fit; the column must rise${nearly(values[i]!, values[i - 1]!)}.`)
  }
  return why
}

/** Said of a column's value that rises, but by less than a slope can be taken over. */
const nearly = (value: number, before: number): string => (value > before ? `, by at least ${LIMITS.tableStep}` : '')

/** A sentence for each fault of a tabulated profile; none of other profiles. */
export function findProfileFaults(p: Profile, where: string): string[] {
  if (p.kind !== 'table' && p.kind !== 'map') return []
  const why = fallingFaults(p.thetaDeg, `${where}.thetaDeg`)
  const rows = p.kind === 'table' ? [p.intensity] : p.intensity
  if (p.kind === 'map') {
    why.push(...fallingFaults(p.phiDeg, `${where}.phiDeg`))
    if (rows.length !== p.phiDeg.length)
      why.push(`${where}.intensity: ${rows.length} rows for ${p.phiDeg.length} azimuths.`)
  }
  for (const r of rows) {
    if (r.length !== p.thetaDeg.length)
      why.push(`${where}.intensity: ${r.length} values for ${p.thetaDeg.length} angles.`)
  }
  return [...why, ...darkFaults(rows, `${where}.intensity`)]
}

export function darkFaults(rows: readonly (readonly number[])[], where: string): string[] {
  const most = rows.reduce((top, row) => row.reduce((a, b) => Math.max(a, b), top), 0)
  if (most === 0) return [`${where}: nowhere above zero.`]
  return most < 1 / LIMITS.relative
    ? [`${where}: nowhere above ${1 / LIMITS.relative}; give it in larger numbers.`]
    : []
}
