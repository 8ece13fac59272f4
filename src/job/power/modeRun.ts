// One run of a mode as plain data: what ended it, what it passed, its curves, its energy, pictures of its plate.
import type { PowerModel } from '../../electrothermal/model.ts'
import type { Moment, RawRun } from '../../electrothermal/moment.ts'
import { frontOf } from '../../electrothermal/plateOf.ts'
import { protectionRunOf } from '../../electrothermal/protection.ts'
import type { EnergyAccount, FullRun, ModeRun, PlateFrames, PowerCurves } from '../../electrothermal/result.ts'
import { coolHalfSeconds, solveSteadyState } from '../../electrothermal/steady.ts'
import { limitsOf, type PartsOnPlate } from '../../heat/limits.ts'
import { plasticOpticsOf } from '../../lamp/place.ts'
import { ratedSinkOf } from '../../library/typicalPower.ts'
import { fractionalIndex } from '../../num/interpolate.ts'

export function modeRun(model: PowerModel, raw: RawRun): ModeRun {
  const { moments, mode } = raw
  const [first, last] = [moments[0], moments.at(-1)]
  if (!first || !last) throw new Error('A run has a moment at least: switch-on.')
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
    leftOn: null,
    welded: null,
    airStops: null,
  }
}

/** A run as far as rules judge it. */
export function fullRun(model: PowerModel, raw: RawRun): FullRun {
  const { limit, steppedDown, mode } = raw
  const curves = curvesOf(raw.moments)
  return {
    limit,
    limits: limitsOf({ ...raw, curves }, partsOnPlate(model)),
    steppedDown,
    steady: solveSteadyState(model, mode, 1),
    curves,
    watchedC: column(raw.moments, (m) => m.watchedC),
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
    plateMinC: column(moments, (m) => m.temperatures.plateC.reduce((least, c) => Math.min(least, c), m.plateMaxC)),
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
  if ((tS.at(-1) ?? 0) < 30) return { fl1S: null, lmAt30S: null }
  const lmAt30S = valueAt(tS, lm, 30)
  for (let i = 1; i < tS.length; i++) {
    const [toS, toLm] = [tS[i]!, lm[i]!]
    if (toS <= 30 || toLm > 0.1 * lmAt30S) continue
    const [fromS, fromLm] = [tS[i - 1]!, lm[i - 1]!]
    const part = (fromLm - 0.1 * lmAt30S) / (fromLm - toLm || 1)
    return { fl1S: fromS + part * (toS - fromS), lmAt30S }
  }
  const goesOut = raw.limit.kind === 'empty' || raw.limit.kind === 'drivers'
  return { fl1S: goesOut ? raw.limit.atS : null, lmAt30S }
}

/** On a curve at a moment, straight between its points; the last value wins where two stand at one moment. */
export function valueAt(tS: ArrayLike<number>, y: ArrayLike<number>, at: number): number {
  const [i, part] = fractionalIndex(tS, at)
  const from = y[i]!
  return from + part * (y[Math.min(i + 1, y.length - 1)]! - from)
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
  model.boards.map(({ index, id }) => {
    const { junctionC, currentA } = loadOf(m, index)
    return { boardIndex: index, id, junctionC, plateC: m.hotC[index]!, lm: m.electrics.lm[index]!, currentA }
  })

/** What a board's emitters are exposed to. */
const loadOf = ({ electrics }: Moment, board: number): { junctionC: number; currentA: number } => ({
  junctionC: electrics.hotJunctionC[board]!,
  currentA: electrics.currentA[board]!,
})

function outsideOf(model: PowerModel, moments: readonly Moment[]): string[] {
  const notes = new Set<string>()
  for (const m of moments) {
    for (const b of model.boards) {
      const { junctionC, currentA } = loadOf(m, b.index)
      for (const s of b.tables.outside(currentA, junctionC)) notes.add(s)
      if (notes.size > 6) return [...notes]
    }
  }
  return [...notes]
}
