// The part of a power report that the rules read.
import type { DriverState } from '../power/driver.ts'
import type { WireRun } from '../power/schedule.ts'

interface ModeParts {
  id: string
  name: string
  limit: { kind: string; atS: number; boardIndex: number | null }
  steppedDown: { atS: number } | null
  sagsFromS: number | null
  letGoFromS: number | null
  steady: { junctionMaxC: number; bearable: boolean } | null
  mostA: number
  curves: { plateMaxC: ArrayLike<number>; junctionMaxC: ArrayLike<number>; tS: ArrayLike<number> }
  channels: readonly { id: string; state: DriverState; inV: number; outV: number; outA: number }[]
}

export interface PowerParts {
  modes: readonly ModeParts[]
  wiring: readonly WireRun[]
  sink: { leftOutFins: number; plateKg: number; finKg: number }
}

export const most = (x: ArrayLike<number>): number => {
  let top = Number.NEGATIVE_INFINITY
  for (let i = 0; i < x.length; i++) top = Math.max(top, x[i]!)
  return top
}

/** “Turbo”, “High and Turbo”, “Low, High and Turbo”. */
export function namesOf(modes: readonly { name: string }[]): string {
  const names = modes.map((m) => `“${m.name}”`)
  return names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`
}
