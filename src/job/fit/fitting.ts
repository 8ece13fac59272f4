// What a fit holds every changed lamp against: the readings, and the lamp as drawn, traced with many rays; with few rays, and with more for what may
// fit, once more as the common base of the ratios.
import type { Readings } from '../../lamp/readings.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { makeScheduler, type Scheduler } from '../../num/scheduler.ts'
import { type Agreement, agreementOf } from '../../readings/agreement.ts'
import { jackknife } from '../../run/batches.ts'
import { type DarkPart, fluxWithout } from './dark.ts'
import type { Ratios } from './emulate.ts'
import { type FitReadings, type Slopes, type Spot, sharedShares } from './points.ts'
import { type Prediction, type Predictor, statesFlux } from './predict.ts'

export interface FitOptions {
  seed: number
  /** Rays of one prediction, over all its places; what may fit is traced with several times as many. */
  rays: number
}

/** A lamp that differs, what of it is dark, and the factor on the wall's distance. */
export interface Changed {
  lamp: Lamp
  dark: readonly DarkPart[]
  wall: number
}

export interface Fitting {
  lamp: Lamp
  readings: Readings
  data: FitReadings
  drawn: Prediction
  none: Ratios
  /** χ² and residuals of a lamp that gives so many times what the lamp as drawn does. */
  agree(changed: Ratios): Agreement
  trace(changed: Changed, fine: boolean): Promise<Ratios>
  run: Scheduler['run']
  /** Lux at other places. */
  look(changed: Changed, spots: readonly Spot[]): Promise<Prediction>
}

/** So many times the rays for the lamp as drawn, and for what may fit. */
const DRAWN_TIMES = 16
const FINE_TIMES = 6
/** A place gets no fewer rays, however many there are. */
const LEAST_RAYS = 512
/** For the slope of the light along the wall. */
const STEP_MM = 10

export async function makeFitting(
  predict: Predictor['predict'],
  lamp: Lamp,
  readings: Readings,
  data: FitReadings,
  { seed, rays }: FitOptions,
  { run }: Scheduler = makeScheduler(),
): Promise<Fitting> {
  const { points } = data
  const each = Math.max(LEAST_RAYS, Math.round(rays / points.length))
  const fluxLm = statesFlux(lamp, data.states)
  const ask = ({ lamp: of, dark, wall }: Changed, spots: readonly Spot[], raysOf: readonly number[]) =>
    predict({
      lamp: of,
      fluxLm: dark.length === 0 ? fluxLm : fluxLm.map((f) => fluxWithout(lamp, f, dark)),
      spots: wall === 1 ? spots : spots.map((s) => (s.onWall ? { ...s, distanceMm: s.distanceMm * wall } : s)),
      seed,
      rays: raysOf,
    })
  const asDrawn: Changed = { lamp, dark: [], wall: 1 }
  const drawn = await ask(
    asDrawn,
    points,
    points.map(() => each * DRAWN_TIMES),
  )
  const few = spreadRays(drawn, each)
  const many = few.map((n) => n * FINE_TIMES)
  const [base, fineBase, slopes] = await Promise.all([
    ask(asDrawn, points, few),
    ask(asDrawn, points, many),
    traceSlopes((spots) => ask(asDrawn, spots, many), data, drawn),
  ])
  return {
    lamp,
    readings,
    data,
    drawn,
    none: { ratios: points.map(() => 1), noise: points.map(() => 0) },
    agree: makeAgree(data, readings, drawn, slopes),
    run,
    trace: async (changed, fine) =>
      fine ? ratiosOf(await ask(changed, points, many), fineBase) : ratiosOf(await ask(changed, points, few), base),
    look: (changed, spots) =>
      ask(
        changed,
        spots,
        spots.map(() => 4 * each),
      ),
  }
}

/** Most rays go where the lamp as drawn is known least, so that all places end alike; a quarter is even. */
function spreadRays({ lx, se }: Prediction, each: number): number[] {
  const shares = lx.map((value, i) => (value > 0 ? Math.min(1, (se[i] ?? 0) / value) : 1))
  const sum = shares.reduce((a, b) => a + b, 0)
  const even = sum > 0 ? 0.25 : 1
  return shares.map((share) => Math.round(each * (even + ((1 - even) * share * shares.length) / (sum || 1))))
}

/** Ratios of two predictions with the same random numbers, and their noise: the delete-one jackknife of the ratio over the batches. */
function ratiosOf(changed: Prediction, drawn: Prediction): Ratios {
  const ratios: number[] = []
  const noise: number[] = []
  for (const [i, base] of drawn.lx.entries()) {
    const value = ratio(changed.lx[i] ?? 0, base)
    const [a, b] = [changed.batches[i] ?? [], drawn.batches[i] ?? []]
    const [sumA, sumB] = [a.reduce((x, y) => x + y, 0), b.reduce((x, y) => x + y, 0)]
    const without = a.map((x, k) => ratio(sumA - x, sumB - (b[k] ?? 0)))
    ratios.push(value)
    noise.push(value > 0 ? jackknife(value, without).se / value : 0)
  }
  return { ratios, noise }
}

/** Where the lamp as drawn gives nothing, nothing can be said of how many times as bright another is. */
export const ratio = (value: number, drawn: number): number => (drawn > 0 ? value / drawn : 1)

/** Change of ln E a millimetre to the right and up, where points lie off the axis that way. */
async function traceSlopes(
  predict: (spots: readonly Spot[]) => Promise<Prediction>,
  { points }: FitReadings,
  drawn: Prediction,
): Promise<Slopes[]> {
  const along = async (key: 'xMm' | 'yMm') => {
    if (points.every((p) => p[key] === 0)) return null
    const at = (by: number) => predict(points.map((p) => ({ ...p, [key]: p[key] + by })))
    return Promise.all([at(-STEP_MM), at(STEP_MM)])
  }
  const [x, y] = await Promise.all([along('xMm'), along('yMm')])
  const slope = (moved: [Prediction, Prediction] | null, i: number): number => {
    const [from, to] = [moved?.[0].lx[i] ?? 0, moved?.[1].lx[i] ?? 0]
    return to > 0 && from > 0 && (drawn.lx[i] ?? 0) > 0 ? Math.log(to / from) / (2 * STEP_MM) : 0
  }
  return points.map((_, i) => ({ perXMm: slope(x, i), perYMm: slope(y, i) }))
}

function makeAgree(
  data: FitReadings,
  readings: Readings,
  drawn: Prediction,
  slopes: readonly Slopes[],
): Fitting['agree'] {
  const { points } = data
  const shares = sharedShares(data, readings, slopes)
  const place = points.map((p, i) => p.placeMm * Math.hypot(slopes[i]?.perXMm ?? 0, slopes[i]?.perYMm ?? 0))
  const noise = drawn.lx.map((lx, i) => (lx > 0 ? (drawn.se[i] ?? 0) / lx : 0))
  const scattered = scatteredLx(data, drawn)
  return ({ ratios, noise: ofRatio }) => {
    const predicted = drawn.lx.map((lx, i) => lx * (ratios[i] ?? 1))
    const u = points.map((p, i) => {
      const lx = predicted[i] ?? 0
      const share2 = (noise[i] ?? 0) ** 2 + (ofRatio[i] ?? 0) ** 2 + (place[i] ?? 0) ** 2
      // Where the lamp as drawn gives nothing its own error is all that is known of it.
      const dark = lx > 0 ? 0 : (drawn.se[i] ?? 0)
      return Math.max(1e-9, Math.hypot(p.u, lx * Math.sqrt(share2), dark, scattered[i] ?? 0))
    })
    return agreementOf(
      points.map((p, i) => p.lx - (predicted[i] ?? 0)),
      u,
      shares.map((term) => term.map((share, i) => share * (predicted[i] ?? 0))),
    )
  }
}

/** What lens and room scatter, which is in no trace: of the brightest place of a set. Our choice. */
const SCATTERED = 1e-3

/** Standard uncertainty that this leaves at each point, lx: beside the beam it is all that there is. */
function scatteredLx({ points }: FitReadings, drawn: Prediction): number[] {
  const most = new Map<string, number>()
  for (const [i, { setId, lx }] of points.entries())
    most.set(setId, Math.max(most.get(setId) ?? 0, lx, drawn.lx[i] ?? 0))
  return points.map((p) => SCATTERED * (most.get(p.setId) ?? 0))
}
