// The curve of what is in front, made whole: with every focus on it, and never rising again beyond the last place that is hot.
import { T95 } from '../num/stats.ts'
import type { Focus } from './foci.ts'
import type { CurvePoint, Front } from './front.ts'

/** Each focus as a point of the curve, where it is hotter than the curve is there. */
export function addFoci(front: Front, foci: readonly Focus[]): Front {
  const more = foci
    .filter((f) => !front.curve.some((p) => p.distanceMm === f.distanceMm))
    .map((f): CurvePoint => ({ distanceMm: f.distanceMm, kWm2: f.kWm2, se: f.se, discMm: f.discMm }))
    .filter((f) => upper(f) > between(front.curve, f.distanceMm))
  const curve = [...front.curve, ...more].sort((a, b) => a.distanceMm - b.distanceMm)
  const hottest = foci[0]
  const worst =
    hottest && upper(hottest) > (front.worst ? upper(front.worst) : 0)
      ? {
          ...front.worst,
          xMm: hottest.xMm,
          yMm: hottest.yMm,
          zMm: hottest.zMm,
          kWm2: hottest.kWm2,
          se: hottest.se,
          discMm: hottest.discMm,
        }
      : front.worst
  return { worst, curve }
}

/** Two searches of one lamp's front as one: the hotter worst place, and a curve that is nowhere below either. */
export function joinFronts(a: Front, b: Front): Front {
  const more = b.curve.filter((p) => upper(p) > between(a.curve, p.distanceMm))
  const curve = [...a.curve, ...more].sort((p, q) => p.distanceMm - q.distanceMm)
  const worst = b.worst && (!a.worst || upper(b.worst) > upper(a.worst)) ? b.worst : a.worst
  return { worst, curve }
}

const upper = (p: { kWm2: number; se: number }) => p.kWm2 + T95 * p.se

function between(curve: readonly CurvePoint[], d: number): number {
  const next = curve.findIndex((p) => p.distanceMm >= d)
  if (next <= 0) return next === 0 ? upper(curve[0]!) : 0
  const [a, b] = [curve[next - 1]!, curve[next]!]
  const t = (d - a.distanceMm) / (b.distanceMm - a.distanceMm)
  return upper(a) + t * (upper(b) - upper(a))
}

/**
 * Beyond the hottest place and the last focus the upper end never rises with the distance: few rays far out scatter, and a wider ± there
 * is no new danger. Each point takes the greatest upper end of all beyond it: the hot side.
 */
export function makeTailMonotone(front: Front, foci: readonly Focus[]): Front {
  const hottest = front.curve.reduce((best, p, i) => (upper(p) > upper(front.curve[best]!) ? i : best), 0)
  const last = foci.reduce((most, f) => Math.max(most, f.distanceMm), front.curve[hottest]?.distanceMm ?? 0)
  const curve = front.curve.map((p) => ({ ...p }))
  for (let i = curve.length - 2; i >= 0 && curve[i]!.distanceMm > last; i--) {
    const beyond = upper(curve[i + 1]!)
    if (upper(curve[i]!) < beyond) curve[i]!.kWm2 = beyond - T95 * curve[i]!.se
  }
  return { ...front, curve }
}
