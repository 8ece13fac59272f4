// The effect of each part: the same lamp without it, traced until the figures that are compared are known.
import { readLight } from '../../beam/beam.ts'
import type { Aim } from '../../engine/backward/aim.ts'
import { makeGpuForward } from '../../engine/gpuForward.ts'
import { recycleRun } from '../../engine/partialTallies.ts'
import { type BackwardEstimate, makeBackwardEstimates, TRUSTED } from '../../engine/progressive.ts'
import { runRounds } from '../../engine/rounds.ts'
import type { Pool } from '../../engine/workers/pool.ts'
import type { Lamp, OpticType } from '../../lamp/schema.ts'
import { lensesLeftOut, withoutLenses } from '../../library/lensSystem.ts'
import type { Scheduler } from '../../num/scheduler.ts'
import { T95 } from '../../num/stats.ts'
import { BATCHES, type Run } from '../../run/types.ts'
import { compile } from '../../scene/compile.ts'
import { lampOperatingPoint } from '../power/light.ts'
import { joinAxis } from './joinBackward.ts'
import { chooseShape } from './pilot.ts'
import type { COMPARED_FIGURES, JobOptions, Variant } from './sheet.ts'

/** A comparison is looked at after so many rays, then each time that they have doubled, and ends here at the latest. */
const FIRST_READING = 1 << 17
const MOST_RAYS = 1 << 20
/** Backward rays of a batch towards its axis: so many at first, then as many as it takes, so many at most. */
const FIRST_BACKWARD = 1 << 9
const MOST_BACKWARD = 1 << 13
/** ± at 95 % as a share: within it a figure is known well enough. Ratios of axes are shown to two digits. */
const WANTED = { axialIntensityCd: 0.03, fluxOutLm: 0.01, beamAngleDeg: 0.1 }
/** The error of so few batches is itself known to a fifth. */
const IN_DOUBT = 1.2

/** The lamps to compare with; a part that isn't there can't be taken away. */
function variantsOf(lamp: Lamp): { name: Variant['name']; lamp: Lamp }[] {
  const out: { name: Variant['name']; lamp: Lamp }[] = []
  const lensless = withoutLenses(lamp)
  if (lensless) out.push({ name: 'without lens', lamp: lensless })
  if (lamp.tunnel) out.push({ name: 'without tunnel', lamp: { ...lamp, tunnel: null } })
  if (lamp.opticTypes.some((o) => o.kind !== 'bare')) out.push({ name: 'bare emitters', lamp: withBareEmitters(lamp) })
  return out
}

function withBareEmitters(lamp: Lamp): Lamp {
  const opticTypes = lamp.opticTypes.map((o): OpticType => ({ kind: 'bare', id: o.id, name: o.name }))
  return { ...lamp, opticTypes }
}

type Compared = (typeof COMPARED_FIGURES)[number]

/** ± at 95 % as a share; null where the figure isn't there. */
function shareOf(name: Compared, figures: Variant['figures']): number | null {
  const figure = figures[name]
  return figure && figure.value !== 0 ? (T95 * figure.se) / Math.abs(figure.value) : null
}

const isKnown = (name: Compared, figures: Variant['figures']): boolean =>
  (shareOf(name, figures) ?? Number.POSITIVE_INFINITY) <= WANTED[name]

/**
 * Whether a comparison of so many rays is traced further. The axis waits for more forward rays only where backward ones don't tell of it; flux and
 * beam angle while all the rays that there may be would make them known, as the root of their number has it. Only ± is looked at, never a value
 * by itself, and at four numbers of rays at most: so the figures are not those of a lucky moment.
 */
export function isWorthMore(
  figures: Variant['figures'],
  rays: number,
  axis: Pick<BackwardEstimate, 'effective'> | null,
) {
  if (!isKnown('axialIntensityCd', figures) && !(axis && axis.effective >= TRUSTED)) return true
  return (['fluxOutLm', 'beamAngleDeg'] as const).some((name) => {
    const share = shareOf(name, figures)
    if (share === null) return rays <= FIRST_READING
    return share > WANTED[name] && share * Math.sqrt(rays / MOST_RAYS) <= WANTED[name]
  })
}

/** Of a batch: as many as the axis takes, by the error of those so far, or to be trusted at all. */
function backwardRaysFor({ value, se, effective, rays }: BackwardEstimate): number {
  const times = Math.max(((T95 * se) / value / WANTED.axialIntensityCd) ** 2, TRUSTED / effective)
  return times > 0 ? Math.min(MOST_BACKWARD, Math.ceil((IN_DOUBT * times * rays) / BATCHES)) : MOST_BACKWARD
}

type VariantOptions = Pick<JobOptions, 'seed' | 'graphics' | 'graphicsFirst'>

/** Yields the list so far after each. Throws `Cancelled`. */
export async function* traceVariants(
  pool: Pool,
  lamp: Lamp,
  scheduler: Scheduler,
  options: VariantOptions,
): AsyncGenerator<Variant[]> {
  const list: Variant[] = []
  const light = lampOperatingPoint(lamp)
  for (const variant of variantsOf(lamp)) {
    const leftOut = variant.name === 'without lens' ? lensesLeftOut(lamp) : null
    const known = await traceVariant(pool, variant.lamp, light, scheduler, options)
    list.push({ name: variant.name, ...known, ...(leftOut ? { leftOut } : {}) })
    yield [...list]
  }
}

/** `light`: of the lamp itself. As warm as that: what is compared is the way of the same light. */
async function traceVariant(
  pool: Pool,
  lamp: Lamp,
  light: ReturnType<typeof lampOperatingPoint>,
  scheduler: Scheduler,
  { seed, graphics, graphicsFirst }: VariantOptions,
): Promise<Pick<Variant, 'figures' | 'rays'>> {
  const scene = compile(lamp, light)
  const shape = chooseShape(scene, lamp)
  const kernel = { seed, plainRandom: false, exitsBelow: 0 }
  const gpuForward = makeGpuForward(graphics, scene, shape, kernel, true)
  const backward = makeBackwardEstimates(pool, scene, shape, kernel)
  const onAxis: Aim = { kind: 'cone', thetaRad: 0, phiRad: 0, halfRad: shape.axialConeHalfRad }
  const estimate = backward?.at(onAxis)
  const first = estimate?.upTo(FIRST_BACKWARD) ?? Promise.resolve(null)
  first.catch(() => {}) // awaited with the first reading; a cancellation may come first
  let axis: BackwardEstimate | null = null
  let figures: Variant['figures'] = {}
  async function readNow(run: Run): Promise<void> {
    const forward = { run, beam: readLight(run, lamp) }
    axis ??= await first
    figures = joinAxis(forward, axis).figures
    if (!estimate || !axis || isKnown('axialIntensityCd', figures)) return
    axis = await estimate.upTo(backwardRaysFor(axis))
    figures = joinAxis(forward, axis).figures
  }
  try {
    if (graphicsFirst) await gpuForward.ready
    const rounds = {
      ...{ ...kernel, maxRays: MOST_RAYS, gpuTracer: gpuForward.tracer, ahead: false },
      poolEnd: (from: number) => (from === 0 ? FIRST_READING / BATCHES : 2 * from),
    }
    const run = await runRounds(pool, scene, shape, rounds, async (now, last) => {
      await scheduler.checkpoint()
      if (now.rays < FIRST_READING && !last) return true
      await readNow(now)
      return isWorthMore(figures, now.rays, axis)
    })
    recycleRun(run)
    return { figures, rays: run.rays }
  } finally {
    backward?.close()
    gpuForward.close()
  }
}
