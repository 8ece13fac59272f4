// One mode, from switch-on to what ends it. Each step of time: the electrics at the temperatures and the charge expected at its middle
// give the heat; plate and fins take it in two implicit stages; the supply pays. Steps grow with the time since the last event, in
// sizes for which the plate's factored matrices can be used again; events (a limit, a step-down, the end of charge) end a step of their own.
import {
  type ArealConductances,
  advancePlate,
  makeEvenTemperatures,
  type PlateTemperatures,
  secondsFor,
  shiftOf,
} from '../heat/plateTemperatures.ts'
import type { Mode } from '../lamp/schema.ts'
import {
  conductancesAt,
  type Electrics,
  makeHeatField,
  type OperatingState,
  type PowerModel,
  solveElectrics,
  wantedA,
} from './model.ts'
import { frontOf, readSiteTemperatures } from './plateOf.ts'
import type { Limit } from './result.ts'

export interface RunOptions {
  /** Steps finer than usual, for tests of convergence. */
  finer?: number
}

/** The state at a moment, and the account since switch-on. */
export interface Moment {
  tS: number
  temperatures: PlateTemperatures
  /** Of each board, W, in the step that led here: its front stays hotter by it. */
  heatW: Float64Array
  electrics: Electrics
  plateMeanC: number
  plateMaxC: number
  /** Mean of fins or sink, and what goes into them, W. */
  sinkC: number
  sinkW: number
  junctionMaxC: number
  hottest: number
  /** Plate under each board's hottest emitter. */
  hotC: Float64Array
  /** Hottest junction over its own board's limit, K; below zero: under. */
  overK: number
  charge: number
  cellC: number
  account: Account
}

interface Account {
  inJ: number
  lightJ: number
  wallJ: number
  storedJ: number
  toAirJ: number
  driverJ: number
  wiresJ: number
  cellsJ: number
}

export interface RawRun {
  mode: Mode
  moments: Moment[]
  limit: Limit
  steppedDown: { atS: number; toShare: number } | null
  sagsFromS: number | null
  letGoFromS: number | null
  /** At the end of the run. */
  share: number
}

const FIRST_S = 0.1
/** Steps are at most this share of the time since the last event. */
const GROWTH = 0.2
const CHARGE_STEP = 0.03
const LONGEST_S = 7 * 86_400
/** Settled when the plate's hottest place moves less than this in as much time again as has gone by… */
const SETTLED_K = 0.1
/** … and what is still being stored would lift plate and sink by less than this: a great store of heat moves slowly, too. */
const STILL_TO_COME_K = 0.5

/**
 * One mode from switch-on to what ends it: a limit, an empty supply, a steady state, or a week. Moments with
 * temperatures (°C), electrics and the account of energy (J). Two-stage implicit steps (Alexander 1977), steps at
 * most a fifth of the time since the last event (our choice).
 */
export function runMode(model: PowerModel, mode: Mode, options: RunOptions = {}): RawRun {
  const finer = options.finer ?? 1
  const n = model.boards.length
  const at: OperatingState = {
    siteC: new Float64Array(n).fill(model.ambientC),
    hotC: new Float64Array(n).fill(model.ambientC),
    charge: model.source.charged,
    share: 1,
    tripped: new Set(),
    junctionC: new Float64Array(n).fill(model.ambientC),
    guessA: 0,
  }
  const zero: Account = { inJ: 0, lightJ: 0, wallJ: 0, storedJ: 0, toAirJ: 0, driverJ: 0, wiresJ: 0, cellsJ: 0 }
  const even = makeEvenTemperatures(model.plate, model.ambientC)
  let now = momentOf(model, mode, at, 0, even, new Float64Array(n), model.ambientC, zero)
  const run: RawRun = {
    mode,
    moments: [now],
    limit: { kind: 'long', atS: 0, boardIndex: null },
    steppedDown: null,
    sagsFromS: null,
    letGoFromS: null,
    share: 1,
  }
  let eventS = 0
  let rates: Rates = { siteC: new Float64Array(n), hotC: new Float64Array(n), meanC: 0 }
  for (let guard = 0; guard < 4000; guard++) {
    noteChannels(model, mode, at, now, run)
    const end = findLimit(model, mode, at, now)
    if (end) {
      run.limit = end
      break
    }
    if (model.source.capacityC === null && now.tS > 2 * eventS && hasSettled(model, run.moments)) {
      run.limit = { kind: 'steady', atS: now.tS, boardIndex: null }
      break
    }
    if (stepsDown(mode, now, run)) {
      run.steppedDown = { atS: now.tS, toShare: mode.stepDown!.toShare }
      at.share = mode.stepDown!.toShare
      eventS = now.tS
      now = momentOf(model, mode, at, now.tS, now.temperatures, now.heatW, now.cellC, now.account)
      run.moments.push(now)
      continue
    }
    const wanted = wantedSeconds(model, mode, now, run, eventS) / finer
    let next = advance(model, mode, at, now, rates, wanted, finer > 1 || wanted === untilStep(mode, now, run))
    for (let again = 0; again < 4; again++) {
      const dt = next.moment.tS - now.tS
      const part = firstEventFraction(model, mode, run, now, next.moment)
      if (part > 0.9995 || dt <= 1e-3) break
      next = advance(model, mode, at, now, rates, Math.max(1e-3, dt * part), true)
    }
    rates = next.rates
    now = next.moment
    at.charge = now.charge
    readSiteTemperatures(model, now.temperatures.plateC, now.heatW, at.siteC, at.hotC)
    run.moments.push(now)
  }
  run.share = at.share
  return run
}

interface Rates {
  siteC: Float64Array
  hotC: Float64Array
  meanC: number
}

/** Drivers that let go, or sag, for the first time; those that let go stay off. */
function noteChannels(model: PowerModel, mode: Mode, at: OperatingState, now: Moment, run: RawRun): void {
  const states = now.electrics.bus.channels
  const tripped = new Set(at.tripped)
  for (const [i, c] of model.channels.entries()) {
    const wanted = wantedA(model.boards[c.boards[0]!]!, mode, at.share) > 0
    if (!wanted) continue
    if (states[i]!.state === 'sags') run.sagsFromS ??= now.tS
    if (states[i]!.state === 'off') {
      tripped.add(i)
      run.letGoFromS ??= now.tS
    }
  }
  at.tripped = tripped
}

function findLimit(model: PowerModel, mode: Mode, at: OperatingState, now: Moment): Limit | null {
  const { source } = model
  const limit = (kind: Limit['kind'], boardIndex: number | null = null): Limit => ({ kind, atS: now.tS, boardIndex })
  if (now.electrics.bus.overloaded) return limit(now.tS === 0 ? 'supply' : 'drivers')
  if (now.overK >= -0.02) return limit('junction', now.hottest)
  if (source.cutOffV !== null && now.electrics.bus.terminalV <= source.cutOffV * (1 + 1e-4)) return limit('empty')
  if (source.capacityC !== null && now.charge <= 1e-6) return limit('empty')
  if (source.maxCellC !== null && now.cellC >= source.maxCellC - 1e-3) return limit('cells')
  const hasCurrent = model.channels.map((c) => wantedA(model.boards[c.boards[0]!]!, mode, at.share) > 0)
  if (!hasCurrent.includes(true)) return limit('off')
  if (!hasCurrent.some((wanted, i) => wanted && !at.tripped.has(i))) return limit('drivers')
  if (now.tS >= LONGEST_S) return limit('long')
  return null
}

function stepsDown(mode: Mode, now: Moment, run: RawRun): boolean {
  const rule = mode.stepDown
  if (!rule || run.steppedDown) return false
  if (rule.watch === 'time') return now.tS >= rule.afterS - 1e-9
  return (rule.watch === 'junction' ? now.junctionMaxC : now.plateMaxC) >= rule.atC - 0.02
}

function wantedSeconds(model: PowerModel, mode: Mode, now: Moment, run: RawRun, eventS: number): number {
  let dt = Math.max(FIRST_S, GROWTH * (now.tS - eventS))
  const amps = now.electrics.bus.supplyA
  if (model.source.capacityC !== null && amps > 0) {
    // Near its end the charge goes in smaller steps: the voltage falls there.
    const left = (model.source.capacityC * now.charge) / amps
    const most = (model.source.capacityC * CHARGE_STEP) / amps
    dt = Math.min(dt, most, Math.max(most / 10, left / 4))
  }
  return Math.min(dt, untilStep(mode, now, run) ?? dt, LONGEST_S - now.tS + 1e-3)
}

/** Seconds to a step-down by the clock; null where there is none ahead. */
function untilStep({ stepDown: rule }: Mode, now: Moment, run: RawRun): number | null {
  return rule?.watch === 'time' && !run.steppedDown ? Math.max(1e-6, rule.afterS - now.tS) : null
}

/** Share of the step after which the first event falls, by straight lines; 1 where none does. */
function firstEventFraction(model: PowerModel, mode: Mode, run: RawRun, a: Moment, b: Moment): number {
  let part = 1
  const checkZero = (from: number, to: number) => {
    if (from < 0 && to > 0) part = Math.min(part, -from / (to - from))
  }
  checkZero(a.overK, b.overK)
  const rule = mode.stepDown
  if (rule && !run.steppedDown && rule.watch !== 'time') {
    const value = (m: Moment) => (rule.watch === 'junction' ? m.junctionMaxC : m.plateMaxC) - rule.atC
    checkZero(value(a), value(b))
  }
  const { cutOffV, maxCellC } = model.source
  if (cutOffV !== null) checkZero(cutOffV - a.electrics.bus.terminalV, cutOffV - b.electrics.bus.terminalV)
  if (maxCellC !== null) checkZero(a.cellC - maxCellC, b.cellC - maxCellC)
  return part
}

/** One step. `exact`: of just so many seconds; else of the next shorter one whose matrix is likely to be had. */
function advance(
  model: PowerModel,
  mode: Mode,
  at: OperatingState,
  now: Moment,
  rates: Rates,
  wanted: number,
  exact: boolean,
): { moment: Moment; rates: Rates } {
  const { plate, source, retained } = model
  const conductances = conductancesAt(model, now.plateMeanC + (rates.meanC * wanted) / 2)
  const [seconds, shift] = exact
    ? [wanted, shiftOf(plate.storedJm2K, conductances, wanted)]
    : usualStep(plate.storedJm2K, conductances, wanted)
  const amps = now.electrics.bus.supplyA
  const spent = (s: number) => (source.capacityC === null ? 0 : (amps * s) / source.capacityC)
  const middle: OperatingState = {
    ...at,
    siteC: at.siteC.map((c, i) => c + (rates.siteC[i]! * seconds) / 2),
    hotC: at.hotC.map((c, i) => c + (rates.hotC[i]! * seconds) / 2),
    charge: Math.max(0, at.charge - spent(seconds / 2)),
  }
  const e = solveElectrics(model, mode, middle)
  const stepped = advancePlate(
    plate,
    conductances,
    now.temperatures,
    makeHeatField(model, e),
    model.ambientC,
    seconds,
    shift,
  )
  const account = addStep(now.account, model, e, seconds, stepped, retained)
  const used = source.capacityC === null ? 0 : (e.bus.supplyA * seconds) / source.capacityC
  const cellW = e.bus.supplyA ** 2 * source.ohm
  const cellC = now.cellC + (source.heatJK === null ? 0 : (cellW * seconds) / source.heatJK)
  const end: OperatingState = {
    ...at,
    siteC: new Float64Array(at.siteC.length),
    hotC: new Float64Array(at.hotC.length),
    charge: Math.max(0, at.charge - used),
  }
  readSiteTemperatures(model, stepped.temperatures.plateC, e.heatW, end.siteC, end.hotC)
  const moment = momentOf(model, mode, end, now.tS + seconds, stepped.temperatures, e.heatW, cellC, account)
  const next: Rates = {
    siteC: end.siteC.map((c, i) => (c - at.siteC[i]!) / seconds),
    hotC: end.hotC.map((c, i) => (c - at.hotC[i]!) / seconds),
    meanC: (moment.plateMeanC - now.plateMeanC) / seconds,
  }
  return { moment, rates: next }
}

/** While steps grow they double; where something else limits them, they are an eighth of an octave apart. */
function usualStep(stored: number, conductances: ArealConductances, wanted: number): [seconds: number, shift: number] {
  const least = shiftOf(stored, conductances, wanted)
  const coarse = 2 ** Math.ceil(Math.log2(least))
  const fine = 2 ** (Math.ceil(8 * Math.log2(least)) / 8)
  const doubled = secondsFor(stored, conductances, coarse)
  if (doubled !== null && doubled > 0.4 * wanted) return [doubled, coarse]
  return [secondsFor(stored, conductances, fine) ?? wanted, fine]
}

function addStep(
  a: Account,
  model: PowerModel,
  e: Electrics,
  seconds: number,
  stepped: { storedJ: number; lostJ: number },
  retained: PowerModel['retained'],
): Account {
  const retainedShare = retained.face + retained.optics + retained.wall
  return {
    inJ: a.inJ + e.openV * e.bus.supplyA * seconds,
    lightJ: a.lightJ + e.lightW * (1 - retainedShare) * seconds,
    wallJ: a.wallJ + e.lightW * retained.wall * seconds,
    storedJ: a.storedJ + stepped.storedJ,
    toAirJ: a.toAirJ + stepped.lostJ,
    driverJ: a.driverJ + e.driverW * seconds,
    wiresJ: a.wiresJ + e.wireW * seconds,
    cellsJ: a.cellsJ + e.bus.supplyA ** 2 * model.source.ohm * seconds,
  }
}

function momentOf(
  model: PowerModel,
  mode: Mode,
  at: OperatingState,
  tS: number,
  temperatures: PlateTemperatures,
  heatW: Float64Array,
  cellC: number,
  account: Account,
): Moment {
  const electrics = solveElectrics(model, mode, at)
  const { areaM2, totalM2 } = model.plate
  const front = frontOf(model, temperatures.plateC, heatW)
  let [mean, sinkC, most] = [0, 0, at.hotC.reduce((top, c) => Math.max(top, c), model.ambientC)]
  for (let i = 0; i < areaM2.length; i++) {
    mean += (areaM2[i]! * temperatures.plateC[i]!) / totalM2
    sinkC += (areaM2[i]! * temperatures.finC[i]!) / totalM2
    most = Math.max(most, front[i]!)
  }
  let [hottest, junctionMaxC, overK] = [0, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY]
  for (const b of model.boards) {
    const c = electrics.hotJunctionC[b.index]!
    junctionMaxC = Math.max(junctionMaxC, c)
    if (c - b.maxJunctionC <= overK) continue
    overK = c - b.maxJunctionC
    hottest = b.index
  }
  return {
    tS,
    temperatures,
    heatW,
    electrics,
    plateMeanC: mean,
    plateMaxC: most,
    sinkC,
    sinkW: model.sink.at(mean).link * (mean - sinkC),
    junctionMaxC,
    hottest,
    hotC: at.hotC.slice(),
    overK,
    charge: at.charge,
    cellC,
    account,
  }
}

/** On a supply without end: the temperatures are steady. */
function hasSettled({ sink }: PowerModel, moments: readonly Moment[]): boolean {
  const last = moments[moments.length - 1]!
  if (last.tS < 60) return false
  const before = moments.findLast((m) => m.tS <= last.tS / 2)
  if (before === undefined || Math.abs(last.plateMaxC - before.plateMaxC) >= SETTLED_K) return false
  const storedW = (last.account.storedJ - before.account.storedJ) / (last.tS - before.tS)
  return Math.abs(storedW) < STILL_TO_COME_K * sink.totalWK(last.plateMeanC)
}
