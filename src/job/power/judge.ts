// The runs by which one mode is judged, beside the one that its document asks for: from a full pack, with the protection failed, past warm
// cells, left on past the emitters' limit, and without its air.
import { makeModel, type PowerModel } from '../../electrothermal/model.ts'
import { leftOn, withoutProtection } from '../../electrothermal/protection.ts'
import type { FullRun, Limit, ModeRun, RetainedLight } from '../../electrothermal/result.ts'
import { continueRun, type EndedRun, type RunOptions, runMode } from '../../electrothermal/transient.ts'
import { weldedModes } from '../../lamp/groups.ts'
import type { Lamp, Mode } from '../../lamp/schema.ts'
import { ratedSinkOf } from '../../library/typicalPower.ts'
import type { TimeSliced } from '../../num/scheduler.ts'
import { fullRun, modeRun } from './modeRun.ts'

export interface JudgeOptions extends RunOptions {
  /** Light that stays in the lamp, from a trace (`retainedFromLedger`); null: what the optics are stated to lose. */
  retained?: RetainedLight | null
  /** Cells of the plate finer by this factor, for tests of convergence. */
  refine?: number
}

/** Yields between two runs. */
export function* judgeMode(model: PowerModel, mode: Mode, options: JudgeOptions): TimeSliced<ModeRun> {
  const own = yield* fromBothCharges(model, mode, options)
  const failed = model.protection ? yield* fromBothCharges(withoutProtection(model), mode, options) : null
  const { raw, model: full } = failed ?? own
  // Nothing switches a lamp off when its cells are too warm, and better cells let it go on: what else it reaches must be said.
  const cool = coolCells(full)
  const past = raw.limit.kind === 'cells' ? continueRun(cool, raw, options) : null
  yield
  const ended = past ?? raw
  const isHot = ended.limit.kind === 'junction' || raw.limit.kind === 'cells'
  const left = isHot ? continueRun(leftOn(full), ended, options) : null
  yield
  const welded = weldedRun(full, mode, options)
  yield
  const airStops = limitInStillAir(model.lamp, mode, options)
  yield
  return {
    ...own.run,
    unprotected: failed?.run ?? null,
    pastCells: past && fullRun(cool, past),
    leftOn: left && fullRun(leftOn(full), left),
    welded,
    airStops,
  }
}

interface BothCharges {
  run: ModeRun
  /** From full. */
  raw: EndedRun
  model: PowerModel
}

/** From the charge that was entered, and from a full pack where that is another. */
function* fromBothCharges(model: PowerModel, mode: Mode, options: RunOptions): TimeSliced<BothCharges> {
  const raw = runMode(model, mode, options)
  const run = modeRun(model, raw)
  yield
  if (model.source.charged >= 1) return { run, raw, model }
  const full = fromFull(model)
  const fullRaw = runMode(full, mode, options)
  yield
  return { run: { ...run, full: fullRun(full, fullRaw) }, raw: fullRaw, model: full }
}

const fromFull = (model: PowerModel): PowerModel => ({ ...model, source: { ...model.source, charged: 1 } })

function weldedRun(full: PowerModel, mode: Mode, options: RunOptions): FullRun | null {
  const welded = weldedModes(full.power).find((m) => m.id === mode.id)
  return welded ? fullRun(full, runMode(full, welded, options)) : null
}

const coolCells = (model: PowerModel): PowerModel =>
  withoutProtection({ ...model, source: { ...model.source, maxCellC: null } })

/** A rated sink's resistance holds with its own flow: what is left without it is not known. */
function limitInStillAir(lamp: Lamp, mode: Mode, options: JudgeOptions): Limit | null {
  const { cooling } = lamp
  if (!cooling || cooling.air.kind === 'still' || ratedSinkOf(lamp)) return null
  const still: Lamp = { ...lamp, cooling: { ...cooling, air: { kind: 'still' } } }
  const model = coolCells(makeModel(still, options.retained ?? null, options.refine))
  return runMode(fromFull(model), mode, options).limit
}

/**
 * Heat is judged from a full pack, whatever charge was entered, and with the protection failed; what never came on stays
 * as it was. A run that ends at a junction's limit may leave the plate cooler than a long one that the protection holds
 * under it: then that one is judged too. So is a hotter one with every group on, as when a relay's contacts weld shut.
 */
export function judgedRuns(run: ModeRun) {
  const fromFullOf = (own: ModeRun) => (own.full && own.limit.atS > 0 ? { ...own, ...own.full } : own)
  const topC = (of: Pick<FullRun, 'curves'>) => topOf(of.curves.plateMaxC, -273.15)
  const working = fromFullOf(run)
  const failed = run.unprotected && fromFullOf(run.unprotected)
  const judged = failed
    ? { ...failed, protection: run.protection, limitProtected: working.limit, airStops: run.airStops }
    : working
  const beside = (name: string, of: Partial<FullRun>) => ({
    ...{ ...working, ...of, name: `${run.name}, ${name}`, protection: null, airStops: null, leftOn: null },
  })
  return [
    { ...judged, leftOn: run.leftOn },
    ...(failed && topC(working) > topC(failed) ? [beside('protection working', {})] : []),
    ...(run.pastCells && topC(run.pastCells) > topC(judged) ? [beside('with cooler cells', run.pastCells)] : []),
    ...(run.welded && topC(run.welded) > topC(judged) ? [beside('every group on', run.welded)] : []),
  ]
}

const topOf = (x: Float64Array, least: number): number => x.reduce((top, c) => Math.max(top, c), least)

type Runs = Pick<FullRun, 'curves'> & Partial<Pick<ModeRun, 'full' | 'unprotected' | 'pastCells' | 'welded'>>

/** The plate's hottest place at the hottest moment of all runs up to the mode's limit, °C; what is left on is not among them. */
export const hottestC = (run: Runs, ambientC: number): number =>
  [run, run.full, run.unprotected, run.unprotected?.full, run.pastCells, run.welded].reduce(
    (top, of) => (of ? topOf(of.curves.plateMaxC, top) : top),
    ambientC,
  )
