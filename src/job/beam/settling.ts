// When a trace is precise enough: the wanted ± holds for the axial intensity, absolutely against the peak where the axis is darker than it.
import { coneSr, thetaEdges, zoneSr } from '../../beam/profile.ts'
import { type BackwardEstimate, combine } from '../../engine/progressive.ts'
import { mean, standardError, T95 } from '../../num/stats.ts'
import { tallyLayout } from '../../run/layout.ts'
import type { Run } from '../../run/types.ts'
import type { Reached } from './sheet.ts'

/** No run settles on fewer rays: the axis is soon known by backward tracing, the rest of the sheet isn't. */
const SETTLES_FROM = 1 << 20
/** A ring of the profile counts for the peak when its standard error is under this share of it: the greatest of many noisy rings is none. */
const KNOWN_RING = 0.02

/** How well the axis is known, at 95 %, and of what; null where neither direction of tracing has met it and there is no peak. */
export function readReached(run: Run, axis: BackwardEstimate | null, wanted: number): Reached | null {
  const { axialLm, emitted } = tallyLayout(run.shape)
  const perSr = run.emittedLm / coneSr(run.shape.axialConeHalfRad)
  const batches = run.tallies.map((tally) => (perSr * tally[axialLm]!) / tally[emitted + 1]!)
  const forward = { value: mean(batches), se: standardError(batches) }
  const { value, se } = axis ? combine(forward, axis) : forward
  const peak = brightestRing(run)
  const scale = Math.max(value, peak)
  if (!(scale > 0)) return null
  const share = (T95 * se) / scale
  // The error of a mean falls with the root of the number of rays.
  const rays = wanted > 0 ? run.rays * Math.max(1, (share / wanted) ** 2) : run.rays
  return { wanted, share, of: peak > value ? 'peak' : 'axis', rays }
}

/** The run is long enough and the axis known to the wanted share. */
export const isPreciseEnough = (run: Run, reached: Reached | null): boolean =>
  run.rays >= SETTLES_FROM && reached !== null && reached.wanted > 0 && reached.share <= reached.wanted

/** Greatest mean intensity of the profile's rings, cd, of those that are known well: at most the peak, less where light lies to one side. */
function brightestRing({ tallies, shape, emittedLm }: Run): number {
  const { profileLm, emitted } = tallyLayout(shape)
  const edges = thetaEdges(shape)
  let most = 0
  const cd = new Float64Array(tallies.length)
  for (let bin = 0; bin + 1 < edges.length; bin++) {
    const sr = zoneSr(edges[bin]!, edges[bin + 1]!)
    let b = 0
    for (const tally of tallies) cd[b++] = (emittedLm * tally[profileLm + bin]!) / tally[emitted + 1]! / sr
    const value = mean(cd)
    if (value > most && standardError(cd) <= KNOWN_RING * value) most = value
  }
  return most
}
