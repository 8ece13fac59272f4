// One cell of a sweep: a short trace of one lamp, read like any sheet. What it says is what `trace` says of that lamp with the same seed
// and rays, to the bit; only on the axis the number of backward rays is another.
import type { Severity } from '../../checks/finding.ts'
import { recycleRun } from '../../engine/partialTallies.ts'
import { type BackwardEstimate, makeBackwardEstimates } from '../../engine/progressive.ts'
import { runRounds } from '../../engine/rounds.ts'
import { inlineWorker, makePool, type Pool } from '../../engine/workers/pool.ts'
import { placeEmitters } from '../../lamp/place.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { runToEnd } from '../../num/scheduler.ts'
import type { Run } from '../../run/types.ts'
import { expectValid } from '../../run/validate.ts'
import { compile } from '../../scene/compile.ts'
import type { AimEstimate } from '../beam/aims.ts'
import { makeAimEstimates } from '../beam/backwardEstimates.ts'
import { joinBackward } from '../beam/joinBackward.ts'
import { chooseShape } from '../beam/pilot.ts'
import { makeReader, type Reader, sheetHeader } from '../beam/read.ts'
import { retainedFromLedger } from '../beam/retainedLight.ts'
import type { Paths, Sheet } from '../beam/sheet.ts'
import { EXITS_KEPT } from '../beam/types.ts'
import { hottestJunctionC } from '../power/hottestJunction.ts'
import { lampOperatingPoint } from '../power/light.ts'
import { SWEPT_SPOTS, type SweptFigures, type SweptName } from './figures.ts'

export interface CellOptions {
  seed: number
  /** Forward rays of each cell. */
  rays: number
  /** Factor of the flux of each board's emitters; absent: as the lamp has it. */
  boardFlux?: readonly number[]
  /** The hottest junction of this lamp too, with the light of the one that is traced. */
  junctionOf?: Lamp
}

/** `inBoth` as in `Finding`. */
export interface CellFinding {
  rule: string
  severity: Severity
  title: string
  inBoth?: { title: string }
}

/** What is known of a lamp after its short trace. */
export interface CellReading {
  rays: number
  figures: SweptFigures
  absent: Partial<Record<SweptName, string>>
  /** Worst first. */
  findings: CellFinding[]
  /** Where it was asked for; null: no boards. */
  junctionC?: number | null
}

/** Backward rays of a batch: 32,768 in all, ± 1 % on the axis of a searchlight and better; more when more was asked for. */
const BACKWARD_LEAST = 2048
const BACKWARD_MOST = 1 << 16
const NO_PATHS: Paths = {
  start: new Uint32Array(1),
  xyz: new Float32Array(0),
  fate: new Uint8Array(0),
  emitter: new Uint32Array(0),
}

/** Used for cell after cell: its buffers are large. */
let pool: Pool | undefined

/** Traces in this very thread; null when nothing of the lamp shines. */
export async function traceCell(lamp: Lamp, options: CellOptions): Promise<CellReading | null> {
  const sheet = await traceCellSheet(lamp, options)
  if (!sheet) return null
  const { junctionOf } = options
  if (!junctionOf) return readingOf(sheet)
  return { ...readingOf(sheet), junctionC: hottestJunctionC(junctionOf, retainedFromLedger(sheet.ledger)) }
}

/** The same, whole. Without the sun and without variants. */
export const traceCellSheet = (lamp: Lamp, options: CellOptions): Promise<Sheet | null> =>
  tracedOnce(lamp, options, ({ run, reader, axis, aims }) => {
    const state = {
      seconds: 0,
      settled: true,
      sun: null,
      variants: [],
      axis,
      wanted: 0,
      aims,
      engine: 'cpu' as const,
    }
    return runToEnd(reader.read(run, state))
  })

/** The figures of beam and target alone, the same to the bit: without hot spots and findings it takes a part of the time. */
export const traceLight = (
  lamp: Lamp,
  options: CellOptions,
): Promise<Pick<CellReading, 'figures' | 'absent' | 'rays'> | null> =>
  tracedOnce(lamp, options, ({ run, reader, axis, aims }) => {
    const { beam, target } = joinBackward(runToEnd(reader.forward(run)), axis, aims)
    return {
      rays: run.rays,
      figures: { ...beam.figures, ...target.figures },
      absent: { ...beam.absent, ...target.absent },
    }
  })

interface TracedOnce {
  run: Run
  reader: Reader
  axis: BackwardEstimate | null
  aims: AimEstimate[]
}

async function tracedOnce<T>(
  lamp: Lamp,
  { seed, rays, boardFlux }: CellOptions,
  read: (traced: TracedOnce) => T,
): Promise<T | null> {
  const point = withBoardFlux(lampOperatingPoint(lamp), lamp, boardFlux)
  const scene = compile(lamp, point)
  if (!(scene.emittedW > 0)) return null
  pool ??= makePool([inlineWorker(queueMicrotask)])
  const shape = chooseShape(scene, lamp)
  const run = await runRounds(pool, scene, shape, { seed, maxRays: rays, exitsBelow: EXITS_KEPT }, () => true)
  expectValid(run)
  const reader = makeReader(lamp, sheetHeader(lamp, point.fluxLm, seed, 1), () => NO_PATHS)
  const estimates = makeBackwardEstimates(pool, scene, shape, { seed, plainRandom: false, exitsBelow: EXITS_KEPT })
  const onAxis = { kind: 'cone', thetaRad: 0, phiRad: 0, halfRad: shape.axialConeHalfRad } as const
  const each = Math.min(BACKWARD_MOST, Math.max(BACKWARD_LEAST, Math.round(run.rays / 32)))
  const axis = estimates ? await estimates.at(onAxis).upTo(each) : null
  // Beside the axis, as a trace does at its end.
  const beside = estimates && makeAimEstimates(estimates, shape, lamp)
  let aims: AimEstimate[] = []
  for (let time = 0; beside && time < 2; time++) {
    beside.request(runToEnd(reader.forward(run)), axis)
    aims = await beside.take()
  }
  estimates?.close()
  const result = read({ run, reader, axis, aims })
  recycleRun(run)
  return result
}

function withBoardFlux(point: { fluxLm: Float64Array }, lamp: Lamp, boardFlux: readonly number[] | undefined) {
  if (!boardFlux) return point
  const places = placeEmitters(lamp)
  return { fluxLm: point.fluxLm.map((lm, i) => lm * (boardFlux[places[i]?.boardIndex ?? -1] ?? 1)) }
}

export function readingOf(sheet: Sheet): CellReading {
  const figures: SweptFigures = { ...sheet.figures }
  const absent: CellReading['absent'] = {}
  for (const [name, why] of Object.entries(sheet.absent)) if (!isSpot(name)) absent[name as SweptName] = why
  for (const name of SWEPT_SPOTS) {
    const spot = sheet.hotSpots[name]
    if (spot) figures[`hot.${name}`] = { value: spot.kWm2, se: spot.se }
    else absent[`hot.${name}`] = sheet.absent[name] ?? 'It is not read from this run.'
  }
  const findings = sheet.findings.map(({ rule, severity, title, inBoth }) => ({
    rule,
    severity,
    title,
    ...(inBoth && { inBoth: { title: inBoth.title } }),
  }))
  return { rays: sheet.rays, figures, absent, findings }
}

const isSpot = (name: string) => name === 'sunInside' || (SWEPT_SPOTS as readonly string[]).includes(name)
