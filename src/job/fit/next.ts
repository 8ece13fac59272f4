// Where one more reading tells the two likeliest explanations apart.
import { readingDoubt } from '../../readings/meter.ts'
import { changedBy } from './causeFit.ts'
import type { Fitting } from './fitting.ts'
import type { Spot } from './points.ts'
import type { Explanation, NextReading } from './result.ts'

/** Distances of the axis, in those that were read at, and places across and up the wall, in its widest reading. */
const NEARER = [0.25, 0.5, 2] as const
const ASIDE = [-1, -0.5, 0.5, 1, 1.5] as const

/** The place where the two likeliest explanations differ most, in uncertainties of one reading; null: there are no two, or one leaves the other far behind. */
export async function nextReading(fitting: Fitting, explanations: readonly Explanation[]): Promise<NextReading | null> {
  const [first, second] = explanations
  if (!first || !second || second.probability < 0.01) return null
  const spots = candidates(fitting)
  const [a, b, here] = await Promise.all([
    lookAt(fitting, first, spots),
    lookAt(fitting, second, spots),
    Promise.all([lookAt(fitting, first, fitting.data.points), lookAt(fitting, second, fitting.data.points)]),
  ])
  if (!a || !b || !here[0] || !here[1]) return null
  // What the readings so far leave of a common factor between the two is no difference.
  const level = commonFactor(here[0], here[1])
  const { meter } = fitting.readings
  let best: NextReading | null = null
  for (const [i, spot] of spots.entries()) {
    const [one, other] = [a[i] ?? 0, (b[i] ?? 0) * level]
    const doubt = Math.hypot(readingDoubt(Math.max(one, other), meter), 0.02 * Math.max(one, other), DARK_LX)
    const apart = Math.abs(one - other) / doubt
    if (!best || apart > best.apart)
      best = {
        between: [0, 1],
        place: { xMm: spot.xMm, yMm: spot.yMm, distanceMm: spot.distanceMm },
        lx: [one, other],
        apart,
      }
  }
  return best
}

/** What stray light leaves even in a dark room. Our choice. */
const DARK_LX = 0.05

const commonFactor = (a: readonly number[], b: readonly number[]): number => {
  let [ab, bb] = [0, 0]
  for (const [i, v] of a.entries()) {
    const w = b[i] ?? 0
    if (v > 0 && w > 0) {
      ab += Math.log(v / w)
      bb++
    }
  }
  return bb > 0 ? Math.exp(ab / bb) : 1
}

function candidates({ data: { points } }: Fitting): Spot[] {
  const farthest = points.reduce((a, b) => (b.distanceMm > a.distanceMm ? b : a))
  const widest = Math.max(...points.map((p) => Math.hypot(p.xMm, p.yMm)), 0.02 * farthest.distanceMm)
  const at = { distanceMm: farthest.distanceMm, faces: 'lamp' as const, onWall: true, state: farthest.state }
  return [
    ...NEARER.map((share) => ({
      ...at,
      xMm: 0,
      yMm: 0,
      distanceMm: Math.round(share * farthest.distanceMm),
      onWall: false,
    })),
    ...ASIDE.map((share) => ({ ...at, xMm: Math.round(share * widest), yMm: 0 })),
    ...ASIDE.map((share) => ({ ...at, xMm: 0, yMm: Math.round(share * widest) })),
  ]
}

/** Lux at places if an explanation holds; null: there is no such lamp. */
async function lookAt(fitting: Fitting, { causes }: Explanation, spots: readonly Spot[]): Promise<number[] | null> {
  const changed = changedBy(
    fitting,
    causes.map((c) => [c, c.value]),
  )
  if (!changed) return null
  const scale = causes.reduce((all, c) => (c.key === 'flux' || c.key === 'meter' ? all * c.value : all), 1)
  const { lx } = await fitting.look(changed, spots)
  return lx.map((v) => v * scale)
}
