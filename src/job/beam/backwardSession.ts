// The backward estimates of one trace, beside its rounds: the axis from the first round on, other aims once a sheet has been read.
import type { Aim } from '../../engine/backward/aim.ts'
import { type BackwardEstimate, makeBackwardEstimates, TRUSTED } from '../../engine/progressive.ts'
import type { Pool } from '../../engine/workers/pool.ts'
import { T95 } from '../../num/stats.ts'
import type { Run } from '../../run/types.ts'
import type { AimEstimate, Forward } from './aims.ts'
import { makeAimEstimates } from './backwardEstimates.ts'
import { kernelOptions, type TraceEngines } from './engines.ts'
import type { PreparedTrace } from './prepare.ts'
import type { JobOptions } from './sheet.ts'

/** Backward rays of a batch at most; a million in all know the axis far better than anyone needs. */
const RAYS_EACH_MOST = 1 << 16

export interface BackwardSession {
  /** More rays for the axis, as many as a run of such length is worth; none where it is known well enough. */
  continueAxis(run: Pick<Run, 'rays'>): void
  /** The axis as far as rays were requested for it, once they have been traced; null where the scene can't be traced backwards. */
  axis(): Promise<BackwardEstimate | null>
  /** Request rays for aims beside the axis, chosen by a reading. */
  requestAims(forward: Forward): void
  /** All that was requested so far, once it has been traced. */
  aims(): Promise<AimEstimate[]>
  close(): void
}

/** Starts the axis at once. */
export function openBackwardSession(
  pool: Pool,
  { lamp, scene, shape }: PreparedTrace,
  engines: TraceEngines,
  options: JobOptions,
): BackwardSession {
  const estimates = makeBackwardEstimates(pool, scene, shape, kernelOptions(options), engines.backward)
  if (!estimates) return NONE
  const onAxis: Aim = { kind: 'cone', thetaRad: 0, phiRad: 0, halfRad: shape.axialConeHalfRad }
  const progressive = estimates.at(onAxis)
  const beside = makeAimEstimates(estimates, shape, lamp)
  let latest: BackwardEstimate | null = null
  let pending: Promise<BackwardEstimate> | null = null
  const request = (raysEach: number) => {
    pending = progressive.upTo(raysEach)
    pending.catch(() => {}) // awaited by axis(); a cancellation may come first
  }
  request(estimates.firstRays())
  return {
    continueAxis(run) {
      if (latest && fineEnough(latest, options)) return
      request(Math.min(RAYS_EACH_MOST, Math.max(estimates.firstRays(), run.rays / 16)))
    },
    async axis() {
      if (pending) latest = await pending
      return latest
    },
    requestAims: (forward) => beside.request(forward, latest),
    aims: beside.take,
    close: estimates.close,
  }
}

const NONE: BackwardSession = {
  continueAxis: () => {},
  axis: () => Promise.resolve(null),
  requestAims: () => {},
  aims: () => Promise.resolve([]),
  close: () => {},
}

/** The axis needs no more backward rays: it is known to half of the wanted precision, or to a thousandth. */
const fineEnough = ({ value, se, effective }: BackwardEstimate, o: Pick<JobOptions, 'precision'>) =>
  effective >= TRUSTED && se <= Math.max(o.precision / (2 * T95), 1e-3) * value
