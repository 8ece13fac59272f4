// Axial fans as they are sold by size, for a sink that says no more of its own. Flow, pressure and mass are about those of common ones of medium speed
// (from memory; common practice, no source): with a fan at hand its own curve belongs into the lamp.
import type { Cooling } from '../lamp/schema.ts'

interface TypicalFan {
  /** Side of its frame. */
  sizeMm: number
  depthMm: number
  freeM3h: number
  /** At no flow. */
  mostPa: number
  gram: number
}

const FANS: readonly TypicalFan[] = [
  { sizeMm: 40, depthMm: 20, freeM3h: 14, mostPa: 45, gram: 30 },
  { sizeMm: 60, depthMm: 25, freeM3h: 35, mostPa: 50, gram: 60 },
  { sizeMm: 80, depthMm: 25, freeM3h: 65, mostPa: 45, gram: 90 },
  { sizeMm: 92, depthMm: 25, freeM3h: 85, mostPa: 45, gram: 110 },
  { sizeMm: 120, depthMm: 25, freeM3h: 140, mostPa: 50, gram: 180 },
]

export interface FanRow {
  fan: TypicalFan
  count: number
}

/** As many as stand side by side along a sink so wide, of the largest size that is no higher than its fins (the smallest at the least). */
export function fansAlong(wideMm: number, finsMm: number): FanRow {
  const [least] = FANS
  if (!least) throw new Error('library: no fans')
  const fan = FANS.reduce((best, one) => (one.sizeMm <= finsMm && one.sizeMm > best.sizeMm ? one : best), least)
  return { fan, count: Math.max(1, Math.floor(wideMm / fan.sizeMm)) }
}

/** Flow over pressure of all of them: side by side flows add up, pressures don't. A straight line, which real curves lie above at its middle. */
export const airOf = ({ fan, count }: FanRow): Cooling['air'] => ({
  kind: 'fan',
  curve: [
    { flowM3h: 0, pascal: fan.mostPa },
    { flowM3h: count * fan.freeM3h, pascal: 0 },
  ],
})
