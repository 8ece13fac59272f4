// A run over built lamps as a stream: each lamp traced twice with independent rays by one worker, so that what it says never depends on the others.
import { readLamp } from '../../lamp/read.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { mostSunKWm2 } from '../beam/mostSun.ts'
import type { CellReading } from '../sweep/cell.ts'
import { isHazard, SWEPT_NAMES, type SweptName } from '../sweep/figures.ts'
import { type CellTracer, NOTHING_SHINES } from '../sweep/run.ts'
import { buildLamp, type Deviations } from './build.ts'
import { FEWEST_ROWS, lampsOf, makeDeviations, rowsOf, variedOf } from './design.ts'

export interface ToleranceSettings {
  /** Lamps that are built at most; whole rows of the design are. */
  lamps: number
  /** Forward rays of each, both traces together. */
  rays: number
  seed: number
}

/** Value and standard error of the first trace, then of the second. */
export type TracedTwice = readonly [number, number, number, number]

/** Beside what is traced, the hottest junction, which is computed: it has no noise. */
export type SpreadName = SweptName | 'junctionC'
export const SPREAD_NAMES: readonly SpreadName[] = [...SWEPT_NAMES, 'junctionC']
/** Of dangers the upper end decides. */
export const isDanger = (name: SpreadName): boolean => name === 'junctionC' || isHazard(name)

export interface BuiltReading {
  /** By placeOf: the drawn lamp is 0. */
  index: number
  figures: Partial<Record<SpreadName, TracedTwice>>
  /** The most that any lenses and mirrors of this size can make of the sun inside, kW/m²: by geometry, traced for the drawn lamp alone. 0: open. */
  sunKWm2?: number
  /** Severe findings of either trace, by rule. */
  severe: readonly { rule: string; title: string }[]
  /** Why no such lamp can stand, or shine; null where there are figures. */
  why: string | null
}

/** Lamps of the run, the drawn one among them. */
export function lampCount(lamp: Lamp, { lamps }: Pick<ToleranceSettings, 'lamps'>): number {
  const varied = variedOf(lamp)
  return varied.length === 0 ? 1 : lampsOf(rowsOf(lamps, varied), varied)
}

/** Lamps of so many rows as percentiles want (result.ts). */
export const fewestLamps = (lamp: Lamp): number => lampsOf(FEWEST_ROWS, variedOf(lamp))
export const MOST_LAMPS = 100_000
/** Of eleven tolerances 32 rows, which tell a large share to about a twentieth (tests/job/tolerances/result.test.ts). */
export const USUAL_LAMPS = 420

/** Why the lamp can't be built in many ways, in a sentence; or null. */
export const toleranceFault = (lamp: Lamp): string | null =>
  variedOf(lamp).length > 0 ? null : 'No tolerance is ticked that is more than 0 and that this lamp has a part for.'

/** Of the second trace: any other number would do, and the next seed of a user is not this one. */
const secondSeed = (seed: number): number => (seed ^ 0x5bd1e995) >>> 0

/**
 * Traces the lamps of `indices` in order, as many at a time as there are tracers. Resolves when all have come, or, once
 * the signal is aborted, when those being traced have ended. Rejects when a worker dies.
 */
export async function runTolerances(
  tracers: readonly CellTracer[],
  lamp: Lamp,
  settings: ToleranceSettings,
  indices: readonly number[],
  onReading: (reading: BuiltReading) => void,
  signal?: AbortSignal,
): Promise<void> {
  const deviationsOf = makeDeviations(variedOf(lamp), settings.seed)
  let next = 0
  const work = async (tracer: CellTracer) => {
    for (let index = indices[next++]; index !== undefined && !signal?.aborted; index = indices[next++]) {
      const reading = await traceBuilt(tracer, lamp, deviationsOf(index), settings, index)
      if (!signal?.aborted) onReading(reading)
    }
  }
  await Promise.all(tracers.map(work))
}

async function traceBuilt(
  tracer: CellTracer,
  drawn: Lamp,
  deviations: Deviations,
  { rays, seed }: ToleranceSettings,
  index: number,
): Promise<BuiltReading> {
  const { lamp, boardFlux } = buildLamp(drawn, deviations)
  const heated = withCurrents(drawn, lamp, deviations)
  const read = readLamp(lamp)
  if (!read.ok) return { index, figures: {}, severe: [], why: read.why[0] ?? 'It can’t stand.' }
  const options = { rays: Math.ceil(rays / 2), ...(boardFlux && { boardFlux }) }
  const first = await tracer.trace(lamp, { ...options, seed, junctionOf: heated })
  const second = first && (await tracer.trace(lamp, { ...options, seed: secondSeed(seed) }))
  return first && second
    ? readingOf(index, lamp, first, second)
    : { index, figures: {}, severe: [], why: NOTHING_SHINES }
}

/** At a mode's moment flux follows the currents in place of them (build.ts): the heat wants them all the same. */
function withCurrents(drawn: Lamp, lamp: Lamp, { currentShare }: Deviations): Lamp {
  if (drawn.heat.kind !== 'mode' || !currentShare) return lamp
  const boards = lamp.boards.map((b, i) => ({ ...b, currentA: b.currentA * (1 + (currentShare[i] ?? 0)) }))
  return { ...lamp, boards }
}

function readingOf(index: number, lamp: Lamp, first: CellReading, second: CellReading): BuiltReading {
  const figures: Partial<Record<SpreadName, TracedTwice>> = {}
  for (const name of SWEPT_NAMES) {
    const [a, b] = [first.figures[name], second.figures[name]]
    if (a && b && Number.isFinite(a.value) && Number.isFinite(b.value)) figures[name] = [a.value, a.se, b.value, b.se]
  }
  if (typeof first.junctionC === 'number') figures.junctionC = [first.junctionC, 0, first.junctionC, 0]
  const severe = new Map<string, string>()
  for (const { rule, severity, title } of [...first.findings, ...second.findings])
    if (severity === 'severe' && !severe.has(rule)) severe.set(rule, title)
  return {
    index,
    figures,
    severe: [...severe].map(([rule, title]) => ({ rule, title })),
    sunKWm2: mostSunKWm2(lamp),
    why: null,
  }
}
