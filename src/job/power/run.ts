// Heat and power of a lamp, coupled: every mode from switch-on to what ends it, the wiring, the power-up list. What the beam takes of it
// is in light.ts.
import { checkPower } from '../../checks/checkPower.ts'
import type { Finding } from '../../checks/finding.ts'
import { makeModel, type PowerModel } from '../../electrothermal/model.ts'
import type { Moment, RawRun } from '../../electrothermal/moment.ts'
import { frontOf } from '../../electrothermal/plateOf.ts'
import { protectionRunOf, withoutProtection } from '../../electrothermal/protection.ts'
import type {
  EnergyAccount,
  FullRun,
  Limit,
  ModeRun,
  PlateFrames,
  PowerCurves,
  PowerReport,
  RetainedLight,
} from '../../electrothermal/result.ts'
import { coolHalfSeconds, solveSteadyState } from '../../electrothermal/steady.ts'
import { type RunOptions, runMode } from '../../electrothermal/transient.ts'
import { warmUpOf } from '../../electrothermal/warmUp.ts'
import { worstCaseOf } from '../../electrothermal/worstCase.ts'
import { limitsOf, type PartsOnPlate } from '../../heat/limits.ts'
import { plasticOpticsOf } from '../../lamp/place.ts'
import type { Lamp, Mode } from '../../lamp/schema.ts'
import { ratedSinkOf } from '../../library/typicalPower.ts'
import { fractionalIndex } from '../../num/interpolate.ts'
import { faultCurrents, inrushOf } from '../../power/fault.ts'
import { makePowerUpList } from '../../power/powerUp.ts'
import { listWiring } from '../../power/schedule.ts'
import { makeSwitchNeed } from '../../power/switching.ts'

export interface PowerOptions extends RunOptions {
  /** Light that stays in the lamp, from a trace (`retainedFromLedger`); null: what the optics are stated to lose. */
  retained?: RetainedLight | null
  /** Only the mode of this name (its id). */
  mode?: string | undefined
  /** Cells of the plate finer by this factor, for tests of convergence. */
  refine?: number
}

export function runPower(lamp: Lamp, options: PowerOptions = {}): PowerReport {
  const { modes, run, runFromFull, runUnprotected, runPastCells, limitInStillAir, report } = preparePower(lamp, options)
  const wanted = modes.filter((m) => options.mode === undefined || m.id === options.mode)
  return report(
    wanted.map((m) => {
      const own = { ...run(m), full: runFromFull(m), unprotected: runUnprotected(m) }
      return { ...own, pastCells: runPastCells(m, own), airStops: limitInStillAir(m) }
    }),
  )
}

export interface PreparedPower {
  /** None on a lamp without boards. */
  modes: readonly Mode[]
  run(mode: Mode): ModeRun
  /** From a full pack, where the document's is less full; null where it would be the same run. */
  runFromFull(mode: Mode): FullRun | null
  /** With cut-out and fold-back failed, its own run from full among it; null on a lamp without them. */
  runUnprotected(mode: Mode): ModeRun | null
  /** From full, the protection failed, with cells that stay cool; null where none of the runs so far ended by warm cells. */
  runPastCells(mode: Mode, soFar: ModeRun): FullRun | null
  /** What ends it from full in still air, the protection failed; null where its air is still or its sink is a rated one. */
  limitInStillAir(mode: Mode): Limit | null
  /** Of the modes that were run. */
  report(runs: ModeRun[]): PowerReport
}

/** The same in steps, so that a caller may pause between two modes. */
export function preparePower(lamp: Lamp, options: PowerOptions = {}): PreparedPower {
  const model = makeModel(lamp, options.retained ?? null, options.refine)
  return {
    modes: lamp.boards.length === 0 ? [] : model.power.modes,
    run: (mode) => modeRun(model, runMode(model, mode, options)),
    runFromFull: (mode) => runFromFull(model, mode, options),
    runUnprotected: (mode) => {
      if (!model.protection) return null
      const failed = withoutProtection(model)
      return { ...modeRun(failed, runMode(failed, mode, options)), full: runFromFull(failed, mode, options) }
    },
    runPastCells: (mode, soFar) => (endsByCells(soFar) ? fullRun(coolCells(model), mode, options) : null),
    limitInStillAir: (mode) => limitInStillAir(lamp, mode, options),
    report: (runs) => makeReport(model, runs),
  }
}

function runFromFull(model: PowerModel, mode: Mode, options: RunOptions): FullRun | null {
  return model.source.charged >= 1 ? null : fullRun(model, mode, options)
}

function fullRun(model: PowerModel, mode: Mode, options: RunOptions): FullRun {
  const full = { ...model, source: { ...model.source, charged: 1 } }
  const raw = runMode(full, mode, options)
  const { limit, steppedDown } = raw
  const curves = curvesOf(raw.moments)
  const limits = limitsOf({ ...raw, curves }, partsOnPlate(model))
  return {
    limit,
    limits,
    steppedDown,
    steady: solveSteadyState(full, mode, 1),
    curves,
    watchedC: column(raw.moments, (m) => m.watchedC),
  }
}

const coolCells = (model: PowerModel): PowerModel =>
  withoutProtection({ ...model, source: { ...model.source, maxCellC: null } })

/** Nothing switches a lamp off when its cells are too warm, and better cells let it go on: what else it reaches must be said. */
const endsByCells = (run: ModeRun): boolean =>
  [run, run.full, run.unprotected, run.unprotected?.full].some((r) => r?.limit.kind === 'cells')

/** A rated sink's resistance holds with its own flow: what is left without it is not known. */
function limitInStillAir(lamp: Lamp, mode: Mode, options: PowerOptions): Limit | null {
  const { cooling } = lamp
  if (!cooling || cooling.air.kind === 'still' || ratedSinkOf(lamp)) return null
  const still: Lamp = { ...lamp, cooling: { ...cooling, air: { kind: 'still' } } }
  const model = coolCells(makeModel(still, options.retained ?? null, options.refine))
  return runMode({ ...model, source: { ...model.source, charged: 1 } }, mode, options).limit
}

function makeReport(model: PowerModel, modes: ModeRun[]): PowerReport {
  const { lamp, power, sink, channels, ambientC } = model
  const worst = worstCaseOf(model)
  const faults = faultCurrents(power)
  const tops = modes.flatMap((m) =>
    [m, m.full, m.unprotected, m.unprotected?.full, m.pastCells]
      .map((run) => run?.curves)
      .map((c) => c?.plateMaxC.reduce((top, x) => Math.max(top, x), ambientC) ?? ambientC),
  )
  const wiring = listWiring({
    power,
    channels,
    boardNames: lamp.boards.map((b) => b.id),
    worst,
    faults,
    airC: ambientC,
    plateC: tops.length > 0 ? Math.max(...tops) : null,
  })
  return {
    lamp: lamp.name,
    ambientC,
    assumed: model.assumed,
    retained: model.retained,
    sink: {
      wattPerK: sink.totalWK(ambientC + 60),
      plateKg: model.plateKg,
      finKg: sink.finKg,
      leftOutFins: sink.leftOut,
      speedMS: sink.speedMS,
      rated: ratedSinkOf(lamp),
    },
    emitters: model.boards.reduce((sum, b) => sum + b.emitters, 0),
    channelCount: channels.length,
    modes,
    worst,
    faults,
    inrush: inrushOf(
      power,
      channels.map((c) => c.driver.id),
    ),
    wiring,
    switching: worst.modes.map((m) => makeSwitchNeed(m.id, m.name, m.lastingA.value, worst.fullV)),
    powerUp: makePowerUpList({
      power,
      channels,
      wiring,
      volts: channelVolts(model),
      warmUp: warmUpOf(model),
      done: lamp.powerUp?.done ?? [],
    }),
  }
}

/** What a builder should know of it. */
export const powerFindings = (lamp: Lamp, report: PowerReport): Finding[] =>
  checkPower(lamp, { ...report, modes: report.modes.flatMap(judgedRuns) })

/**
 * Heat is judged from a full pack, whatever charge was entered, and with the protection failed; what never came on stays
 * as it was. A run that ends at a junction's limit may leave the plate cooler than a long one that the protection holds
 * under it: then that one is judged too.
 */
function judgedRuns(run: ModeRun) {
  const fromFull = (own: ModeRun) => (own.full && own.limit.atS > 0 ? { ...own, ...own.full } : own)
  const topC = (of: Pick<FullRun, 'curves'>) => of.curves.plateMaxC.reduce((top, c) => Math.max(top, c), -273.15)
  const working = fromFull(run)
  const failed = run.unprotected && fromFull(run.unprotected)
  const judged = failed
    ? { ...failed, protection: run.protection, limitProtected: working.limit, airStops: run.airStops }
    : working
  const beside = (name: string, of: Partial<FullRun>) => ({
    ...{ ...working, ...of, name: `${run.name}, ${name}`, protection: null, airStops: null },
  })
  return [
    judged,
    ...(failed && topC(working) > topC(failed) ? [beside('protection working', {})] : []),
    ...(run.pastCells && topC(run.pastCells) > topC(judged) ? [beside('with cooler cells', run.pastCells)] : []),
  ]
}

function modeRun(model: PowerModel, raw: RawRun): ModeRun {
  const { moments, mode } = raw
  const first = moments[0]!
  const last = moments[moments.length - 1]!
  const curves = curvesOf(moments)
  const endsHot =
    raw.limit.kind === 'junction' ||
    raw.limit.kind === 'empty' ||
    raw.limit.kind === 'cells' ||
    raw.limit.kind === 'cutOut'
  const fl1 = fl1Of(curves, raw)
  return {
    id: mode.id,
    name: mode.name,
    limit: raw.limit,
    limits: limitsOf({ ...raw, curves }, partsOnPlate(model)),
    steppedDown: raw.steppedDown,
    sagsFromS: raw.sagsFromS,
    letGoFromS: raw.letGoFromS,
    ...fl1,
    energyWh: (last.account.inJ - last.account.cellsJ) / 3600,
    coolHalfS: endsHot ? coolHalfSeconds(model, last.temperatures) : null,
    steady: solveSteadyState(model, mode, 1),
    steadyAfter: mode.stepDown ? solveSteadyState(model, mode, mode.stepDown.toShare) : null,
    mostA: curves.supplyA.reduce((a, b) => Math.max(a, b), 0),
    leastV: curves.supplyV.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY),
    curves,
    energy: energyOf(moments),
    plateFrames: framesOf(model, moments),
    boardLm: moments.map((m) => Float32Array.from(m.electrics.lm)),
    boardJunctionC: moments.map((m) => Float32Array.from(m.electrics.hotJunctionC)),
    boardA: moments.map((m) => Float32Array.from(m.electrics.currentA)),
    hottestBoard: last.hottest,
    boards: boardsOf(model, last),
    channels: model.channels.map((c, i) => {
      const { state, inV, inA, outA, duty, boardV } = first.electrics.bus.channels[i]!
      return { id: c.id, state, inV, inA, outV: boardV + outA * c.outOhm, outA, duty }
    }),
    outside: outsideOf(model, [first, last]),
    full: null,
    watchedC: column(moments, (m) => m.watchedC),
    protection: protectionRunOf(model, raw.protection, moments),
    unprotected: null,
    pastCells: null,
    airStops: null,
  }
}

/** Wires that are taken as typical have no limit of their own: as in the findings. */
const partsOnPlate = ({ lamp, power: { harness } }: PowerModel): PartsOnPlate => ({
  plasticOptics: plasticOpticsOf(lamp),
  leadInsulationC: lamp.power ? (harness.board.insulationC ?? harness.insulationC) : null,
  boardNames: lamp.boards.map((b) => b.id),
  sinkMaxW: ratedSinkOf(lamp)?.maxW ?? null,
})

const column = (moments: readonly Moment[], read: (m: Moment) => number) => Float64Array.from(moments, read)

function curvesOf(moments: readonly Moment[]): PowerCurves {
  return {
    tS: column(moments, (m) => m.tS),
    lm: column(moments, (m) => m.electrics.totalLm),
    junctionMaxC: column(moments, (m) => m.junctionMaxC),
    plateMaxC: column(moments, (m) => m.plateMaxC),
    plateMeanC: column(moments, (m) => m.plateMeanC),
    sinkC: column(moments, (m) => m.sinkC),
    sinkW: column(moments, (m) => m.sinkW),
    supplyV: column(moments, (m) => m.electrics.bus.terminalV),
    supplyA: column(moments, (m) => m.electrics.bus.supplyA),
    charge: column(moments, (m) => m.charge),
    cellC: column(moments, (m) => m.cellC),
  }
}

const energyOf = (moments: readonly Moment[]): EnergyAccount => ({
  inJ: column(moments, (m) => m.account.inJ),
  lightJ: column(moments, (m) => m.account.lightJ),
  wallJ: column(moments, (m) => m.account.wallJ),
  storedJ: column(moments, (m) => m.account.storedJ),
  toAirJ: column(moments, (m) => m.account.toAirJ),
  driverJ: column(moments, (m) => m.account.driverJ),
  wiresJ: column(moments, (m) => m.account.wiresJ),
  cellsJ: column(moments, (m) => m.account.cellsJ),
})

/** ANSI/NEMA FL 1-2009 § 1.2.3: from switch-on until a tenth of the output at 30 s. A pack that is empty gives none. */
function fl1Of({ tS, lm }: PowerCurves, raw: RawRun): Pick<ModeRun, 'fl1S' | 'lmAt30S'> {
  const last = tS.length - 1
  if (tS[last]! < 30) return { fl1S: null, lmAt30S: null }
  const lmAt30S = valueAt(tS, lm, 30)
  for (let i = 1; i <= last; i++) {
    if (tS[i]! <= 30 || lm[i]! > 0.1 * lmAt30S) continue
    const part = (lm[i - 1]! - 0.1 * lmAt30S) / (lm[i - 1]! - lm[i]! || 1)
    return { fl1S: tS[i - 1]! + part * (tS[i]! - tS[i - 1]!), lmAt30S }
  }
  const goesOut = raw.limit.kind === 'empty' || raw.limit.kind === 'drivers'
  return { fl1S: goesOut ? raw.limit.atS : null, lmAt30S }
}

/** On a curve at a moment, straight between its points; the last value wins where two stand at one moment. */
export function valueAt(tS: ArrayLike<number>, y: ArrayLike<number>, at: number): number {
  const [i, part] = fractionalIndex(tS, at)
  return y[i]! + part * (y[Math.min(i + 1, y.length - 1)]! - y[i]!)
}

const MOST_FRAMES = 64

function framesOf(model: PowerModel, moments: readonly Moment[]): PlateFrames {
  const { plate } = model
  const each = Math.ceil(moments.length / MOST_FRAMES)
  const shown = moments.filter((_, i) => i % each === 0 || i === moments.length - 1)
  return {
    columns: plate.columns,
    rows: plate.rows,
    fromXMm: plate.fromXMm,
    toXMm: plate.fromXMm + plate.columns * plate.cellMm,
    fromYMm: plate.fromYMm,
    toYMm: plate.fromYMm + plate.rows * plate.cellMm,
    tS: column(shown, (m) => m.tS),
    frames: shown.map((m) => {
      const front = frontOf(model, m.temperatures.plateC, m.heatW)
      return Float32Array.from(plate.cellAt, (cell) => (cell < 0 ? Number.NaN : front[cell]!))
    }),
  }
}

const boardsOf = (model: PowerModel, m: Moment): ModeRun['boards'] =>
  model.boards.map((b) => ({
    boardIndex: b.index,
    id: b.id,
    junctionC: m.electrics.hotJunctionC[b.index]!,
    plateC: m.hotC[b.index]!,
    lm: m.electrics.lm[b.index]!,
    currentA: m.electrics.currentA[b.index]!,
  }))

function outsideOf(model: PowerModel, moments: readonly Moment[]): string[] {
  const notes = new Set<string>()
  for (const m of moments) {
    for (const b of model.boards) {
      for (const s of b.tables.outside(m.electrics.currentA[b.index]!, m.electrics.hotJunctionC[b.index]!)) notes.add(s)
      if (notes.size > 6) return [...notes]
    }
  }
  return [...notes]
}

/** Across each channel, cold: at a tenth of its boards' own current, and at all of it. */
function channelVolts(model: PowerModel) {
  return model.channels.map((c) => {
    const boards = c.boards.map((b) => model.boards[b]!)
    const at = (part: number) => {
      const volts = boards.map((b) => b.series * b.tables.volts(part * b.ownA, model.ambientC))
      const sum = volts.reduce((a, b) => a + b, 0)
      return c.wired === 'parallel' ? sum / volts.length : sum
    }
    const strings = c.wired === 'parallel' ? boards.reduce((sum, b) => sum + b.strings, 0) : boards[0]!.strings
    const fullA = strings * boards[0]!.ownA
    return { lowV: at(0.1), fullV: at(1), lowA: 0.1 * fullA, fullA }
  })
}
