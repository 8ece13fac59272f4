// Why heat and power of the built lamp differ: each cause fitted by running the mode again, then how probable each is against the others.
import type { Readings, RunningSet } from '../../lamp/readings.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { powerOf } from '../../library/typicalPower.ts'
import { monotoneCubic } from '../../num/interpolate.ts'
import { makeScheduler, type Scheduler, type TimeSliced } from '../../num/scheduler.ts'
import { agreementOf, birgeRatio, type SharedTerm } from '../../readings/agreement.ts'
import { rectangular } from '../../readings/uncertainty.ts'
import { retainedByPilot } from '../beam/retainedLight.ts'
import type { Cause } from './cause.ts'
import { type BestValue, minimise, sliced } from './emulate.ts'
import { rank } from './rank.ts'
import type { FittedCause, RunningFit, RunningPoint } from './result.ts'
import { heatCauses, isRunningKey, powerCauses, type RunningKind, withRunningCause } from './runningCauses.ts'
import { modeOf, type RunningField, type RunOrder, type RunPrediction } from './runningRun.ts'

export type PredictRun = (order: RunOrder) => Promise<RunPrediction>

const FIELDS: Record<RunningKind, readonly RunningField[]> = {
  heat: ['plateC', 'boardC'],
  power: ['packV', 'packA', 'lampV'],
}

/**
 * What the instruments leave open, as standard uncertainties: `own` of a reading by itself, `shared` by all of the instrument. Thermocouple: class 2 of
 * IEC 60584-1, ± 2.5 K (from memory), and how well it touches the plate; voltmeter ± 0.5 %, clamp ammeter ± 2 %, both common practice, no source.
 */
const THERMOCOUPLE = { ownK: 0.5, sharedK: rectangular(2.5) }
const VOLTS = { own: 0.002, shared: rectangular(0.005) }
const AMPS = { own: 0.01, shared: rectangular(0.02) }
/** Correlations of convection, as a share of the rise over the air; the air itself; a cell's open voltage. Our choice. */
const RISE = 0.05
const AIR_K = 1
const CELL_V = 0.02

/** Fewer readings tell nothing. */
const LEAST = 3
const NODES = 5
/** Causes further from the best than so many units of χ² are not run once more. */
const WORTH = 40

/** A fit of temperatures, of voltages and currents, or both; empty: the sets have too few of either. Rejects when a worker dies. */
export async function fitRunning(
  predict: PredictRun,
  lamp: Lamp,
  readings: Readings,
  scheduler: Scheduler = makeScheduler(),
): Promise<RunningFit[]> {
  const sets = readings.sets.filter((set): set is RunningSet => set.kind === 'running')
  if (sets.length === 0 || lamp.boards.length === 0) return []
  const retained = retainedByPilot(lamp)
  const run = async (of: Lamp, set: RunningSet): Promise<RunPrediction> => {
    const mode = modeOf(set, of, powerOf(of).value.modes)
    // A cause that moves the air moves that of every set with it.
    const moved = of.reading.ambientC - lamp.reading.ambientC
    const ambientC = (set.ambientC ?? lamp.reading.ambientC) + moved
    return predict({
      lamp: { ...of, reading: { ...of.reading, ambientC } },
      retained,
      mode: mode?.id ?? '',
      atS: set.rows.map((row) => row.atS),
      plateAt: set.plateAt ?? null,
      board: set.board ?? null,
    })
  }
  const runAll = (of: Lamp) => Promise.all(sets.map((set) => run(of, set)))
  const drawn = await runAll(lamp)
  const fits: RunningFit[] = []
  for (const kind of ['heat', 'power'] as const) {
    const fit = await fitKind(kind, lamp, sets, drawn, runAll, scheduler)
    if (fit) fits.push(fit)
  }
  return fits
}

async function fitKind(
  kind: RunningKind,
  lamp: Lamp,
  sets: readonly RunningSet[],
  drawn: readonly RunPrediction[],
  runAll: (of: Lamp) => Promise<RunPrediction[]>,
  { run, checkpoint }: Scheduler,
): Promise<RunningFit | null> {
  const points = pointsOf(kind, sets)
  if (points.length < LEAST) return null
  const values = (runs: readonly RunPrediction[]) => points.map((p) => runs[p.setIndex]?.[p.field][p.row] ?? 0)
  const agree = makeAgree(lamp, sets, points, drawn)
  const asDrawn = agree(values(drawn))
  const causes =
    kind === 'heat'
      ? heatCauses(
          lamp,
          points.some((p) => p.field === 'boardC'),
        )
      : powerCauses(lamp)
  const at = async (cause: Cause, value: number): Promise<readonly [number, number[]] | null> => {
    if (!isRunningKey(cause.key)) return null
    if (value === cause.drawn) return [value, values(drawn)]
    // The plate of a changed lamp takes tens of milliseconds.
    await checkpoint()
    const made = withRunningCause(lamp, cause.key, value)
    return made.ok ? [value, values(await runAll(made.lamp))] : null
  }
  const fitted = async (cause: Cause, tried: readonly number[]) => {
    const found = (await Promise.all(tried.map((value) => at(cause, value)))).filter((row) => row !== null)
    return { cause, best: await run(bestOf(found, (predicted) => agree(predicted).chi2)) }
  }
  const rough = await Promise.all(causes.map((cause) => fitted(cause, cause.tried)))
  const least = Math.min(...rough.map((r) => r.best.chi2))
  const fine = await Promise.all(
    rough.map((r) => (r.best.chi2 < least + WORTH ? fitted(r.cause, closer(r.cause, r.best)) : r)),
  )
  const explanations = rank(
    [
      { causes: [], chi2: asDrawn.chi2 },
      ...fine.map(({ cause, best }) => ({ causes: [fittedOf(cause, best)], chi2: best.chi2 })),
    ],
    points.length,
  )
  const predicted = values(drawn)
  return {
    kind,
    modes: sets.map((set) => ({ set: set.id, mode: modeOf(set, lamp, powerOf(lamp).value.modes)?.id ?? '' })),
    points: points.map((p, i) => ({
      setId: p.setId,
      row: p.row,
      atS: p.atS,
      field: p.field,
      value: p.value,
      u: p.u,
      predicted: predicted[i] ?? 0,
      studentised: asDrawn.studentised[i] ?? 0,
    })),
    asDrawn: { chi2: asDrawn.chi2, birge: birgeRatio(asDrawn.chi2, points.length) },
    explanations,
  }
}

type Point = Omit<RunningPoint, 'predicted' | 'studentised'> & { setIndex: number }

function pointsOf(kind: RunningKind, sets: readonly RunningSet[]): Point[] {
  return sets.flatMap((set, setIndex) =>
    set.rows.flatMap((row, i) =>
      FIELDS[kind].flatMap((field): Point[] => {
        const value = row[field]
        if (value === undefined) return []
        return [{ setIndex, setId: set.id, row: i, atS: row.atS, field, value, u: ownDoubt(field, value) }]
      }),
    ),
  )
}

function ownDoubt(field: RunningField, value: number): number {
  if (field === 'plateC' || field === 'boardC') return THERMOCOUPLE.ownK
  if (field === 'packA') return Math.max(AMPS.own * value, 0.005)
  return Math.max(VOLTS.own * value, 0.005)
}

/** χ² of a prediction, with what all readings of an instrument share. */
function makeAgree(
  lamp: Lamp,
  sets: readonly RunningSet[],
  points: readonly Point[],
  drawn: readonly RunPrediction[],
): (predicted: readonly number[]) => ReturnType<typeof agreementOf> {
  const { supply } = powerOf(lamp).value
  const cells = supply.kind === 'pack' ? supply.series : 0
  const isC = (field: RunningField) => field === 'plateC' || field === 'boardC'
  const isV = (field: RunningField) => field === 'packV' || field === 'lampV'
  const ambientOf = (p: Point) => sets[p.setIndex]?.ambientC ?? lamp.reading.ambientC
  /** Where no place is stated the thermocouple sits anywhere on the plate. */
  const placeK = (p: Point) =>
    p.field === 'plateC' && !sets[p.setIndex]?.plateAt ? rectangular((drawn[p.setIndex]?.spreadK[p.row] ?? 0) / 2) : 0
  const terms: ((p: Point, value: number) => number)[] = [
    (p) => (isC(p.field) ? THERMOCOUPLE.sharedK : 0),
    (p, value) => (isC(p.field) ? RISE * (value - ambientOf(p)) : 0),
    placeK,
    (p, value) => (isV(p.field) ? VOLTS.shared * value : 0),
    (p, value) => (p.field === 'packA' ? AMPS.shared * value : 0),
    (p) => (isV(p.field) ? CELL_V * cells : 0),
    ...sets.map((_, s) => (p: Point) => (isC(p.field) && p.setIndex === s ? AIR_K : 0)),
  ]
  const u = points.map((p) => p.u)
  return (predicted) => {
    const shared: SharedTerm[] = terms
      .map((term) => points.map((p, i) => term(p, predicted[i] ?? 0)))
      .filter((term) => term.some((g) => g !== 0))
    return agreementOf(
      points.map((p, i) => p.value - (predicted[i] ?? 0)),
      u,
      shared,
    )
  }
}

/** Least χ² between the values that were run, each reading's prediction by a monotone cubic (Fritsch & Carlson 1980). */
function* bestOf(
  found: readonly (readonly [number, number[]])[],
  chi2Of: (predicted: number[]) => number,
): TimeSliced<BestValue> {
  const sorted = [...found].sort(([a], [b]) => a - b)
  const at = sorted.map(([value]) => value)
  const curves = (sorted[0]?.[1] ?? []).map((_, i) =>
    monotoneCubic(
      at,
      sorted.map(([, predicted]) => predicted[i] ?? 0),
    ),
  )
  const of = sliced((value) => chi2Of(curves.map((curve) => curve(value))))
  return yield* minimise(of, at[0] ?? 0, at.at(-1) ?? 0)
}

/** The interval that the first fit has left and half of it to either side, within what was tried. */
function closer(cause: Cause, best: BestValue): number[] {
  const [from, to] = [cause.tried[0] ?? 0, cause.tried.at(-1) ?? 0]
  const half = Math.max(best.high - best.low, 0.02 * (to - from)) / 2
  const [low, high] = [Math.max(from, best.low - half), Math.min(to, best.high + half)]
  return Array.from({ length: NODES }, (_, i) => low + ((high - low) * i) / (NODES - 1))
}

const fittedOf = ({ key, unit, drawn }: Cause, best: BestValue): FittedCause => ({
  key,
  unit,
  drawn,
  value: best.value,
  low: best.low,
  high: best.high,
  openLow: best.openLow,
  openHigh: best.openHigh,
})
