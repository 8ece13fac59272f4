// One lamp of a comparison, whole: its light, and from short traces with further seeds how far errors of two lamps go together; heat, danger, parts.
import { partsList } from '../../bill/partsList.ts'
import type { Finding } from '../../checks/finding.ts'
import { inlineWorker, makePool } from '../../engine/workers/pool.ts'
import { placeEmitters } from '../../lamp/place.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { makeScheduler } from '../../num/scheduler.ts'
import { LampFault } from '../../run/validate.ts'
import { retainedByPilot, retainedFromLedger } from '../beam/retainedLight.ts'
import type { Sheet } from '../beam/sheet.ts'
import { rejudge } from '../danger/rejudge.ts'
import type { DangerReading, DangerStage } from '../danger/result.ts'
import { ROUGH_DANGER, traceDanger, WHOLE_DANGER } from '../danger/run.ts'
import { powerFindings, runPower } from '../power/run.ts'
import { type CellOptions, readingOf, traceCellSheet } from '../sweep/cell.ts'
import type { SweptFigures } from '../sweep/figures.ts'
import {
  type ColumnDanger,
  type ColumnFinding,
  type ColumnHeat,
  type ColumnLight,
  type ColumnParts,
  PAIRS,
} from './result.ts'

/** Rays of each short trace, at the most. */
const PAIR_RAYS = 1 << 14

const NOTHING_SHINES = 'Nothing shines: no emitter, no current, or no flux.'
const DARK: ColumnLight = {
  rays: 0,
  figures: {},
  absent: {},
  why: NOTHING_SHINES,
  profile: null,
  night: null,
  findings: [],
  pairs: [],
  ledger: [],
}

/** All random numbers follow from the seed: the same of every lamp. */
export async function traceColumnLight(lamp: Lamp, { seed, rays }: CellOptions): Promise<ColumnLight> {
  const traced = await tracedSheet(lamp, { seed, rays })
  if (!traced.sheet) return { ...DARK, why: traced.why }
  const { sheet } = traced
  const pairs: SweptFigures[] = []
  for (let k = 1; k <= PAIRS; k++) {
    const { sheet: short } = await tracedSheet(lamp, { seed: (seed + k) % 2 ** 32, rays: Math.min(rays, PAIR_RAYS) })
    pairs.push(short ? readingOf(short).figures : {})
  }
  const { figures, absent, findings } = readingOf(sheet)
  const { thetaDeg, cd, seCd } = sheet.profile
  const { directionMap, emittedColour, beamColour } = sheet
  return {
    rays: sheet.rays,
    figures,
    absent,
    why: null,
    profile: { thetaDeg, cd, seCd },
    night: { directionMap, emittedColour, ...(beamColour !== undefined && { beamColour }) },
    findings,
    pairs,
    ledger: sheet.ledger,
  }
}

/** A lamp that traps its light has no valid run: no figures, and a reason. */
async function tracedSheet(lamp: Lamp, options: CellOptions): Promise<{ sheet: Sheet | null; why: string }> {
  try {
    return { sheet: await traceCellSheet(lamp, options), why: NOTHING_SHINES }
  } catch (error) {
    if (error instanceof LampFault) return { sheet: null, why: error.message }
    throw error
  }
}

export function columnHeat(lamp: Lamp, ledger: ColumnLight['ledger']): ColumnHeat {
  if (lamp.boards.length === 0) return { modes: [], findings: [] }
  const retained = ledger.length > 0 ? retainedFromLedger(ledger) : retainedByPilot(lamp)
  const report = runPower(lamp, { retained })
  const most = (values: Float64Array) => values.reduce((a, b) => Math.max(a, b), -Infinity)
  return {
    findings: powerFindings(lamp, report).map(foundOf),
    modes: report.modes.map(({ id, name, limit, limits, curves }) => ({
      id,
      name,
      limit,
      limits,
      junctionMaxC: most(curves.junctionMaxC),
      plateMaxC: most(curves.plateMaxC),
      startW: (curves.supplyV[0] ?? 0) * (curves.supplyA[0] ?? 0),
    })),
  }
}

const foundOf = ({ rule, severity, title, inBoth }: Finding): ColumnFinding => ({
  rule,
  severity,
  title,
  ...(inBoth && { inBoth: { title: inBoth.title } }),
})

/** The whole danger sheet, or a rough one from few rays: its ± is wider, which is the hot side. */
export async function columnDanger(
  lamp: Lamp,
  { seed, rough }: { seed: number; rough: boolean },
  onStage: (stage: DangerStage, share: number) => void = () => {},
): Promise<ColumnDanger> {
  const pool = makePool([inlineWorker(queueMicrotask)])
  const options = { ...(rough ? ROUGH_DANGER : WHOLE_DANGER), seed }
  const reading = await traceDanger(pool, lamp, options, makeScheduler(), onStage)
  if (!reading) throw new Error('job: the dangers of a comparison ended without a reading')
  const { clear, things } = rejudge(withoutErrors(reading), lamp)
  return { reading, means: { clear, things }, rough }
}

/** The same light as if it were known without ±. */
function withoutErrors(d: DangerReading): DangerReading {
  const exact = <T extends { se: number }>(of: T): T => ({ ...of, se: 0 })
  const front = ({ worst, curve }: DangerReading['front']) => ({
    worst: worst && exact(worst),
    curve: curve.map(exact),
  })
  const part = <T extends { kWm2: number; spot: { kWm2: number } | null }>(of: T): T => ({
    ...of,
    kWm2: of.spot?.kWm2 ?? of.kWm2,
  })
  const { lens, elements } = d.parts
  return {
    ...d,
    front: front(d.front),
    small: front(d.small),
    worstByDisc: d.worstByDisc.map(exact),
    parts: { ...d.parts, lens: lens && part(lens), elements: elements.map(part) },
  }
}

export function columnParts(lamp: Lamp): ColumnParts {
  const { parts, mass, apart, cost, centre } = partsList(lamp)
  return {
    list: parts,
    pieces: parts.reduce((sum, p) => sum + (p.unit === 'piece' ? p.amount : 0), 0),
    emitters: placeEmitters(lamp).length,
    mass,
    apart,
    cost,
    centreZMm: centre?.zMm ?? null,
  }
}
