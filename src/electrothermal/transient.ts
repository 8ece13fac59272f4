// One mode, from switch-on to what ends it. Each step of time: the electrics at the temperatures and the charge expected at its middle
// give the heat; plate and fins take it in two implicit stages; the supply pays. Steps grow with the time since the last event, in
// sizes for which the plate's factored matrices can be used again; events (a limit, a step-down, the cut-out, the end of charge) end a step of their own.
import {
  type ArealConductances,
  advancePlate,
  makeEvenTemperatures,
  secondsFor,
  shiftOf,
} from '../heat/plateTemperatures.ts'
import { sensorAfterC } from '../heat/sensor.ts'
import type { Mode } from '../lamp/schema.ts'
import {
  findLimit,
  firstEventFraction,
  hasSettled,
  moveCutOut,
  noteChannels,
  stepsDown,
  untilStep,
  wantedSeconds,
} from './events.ts'
import {
  conductancesAt,
  type Electrics,
  makeHeatField,
  type OperatingState,
  type PowerModel,
  solveElectrics,
} from './model.ts'
import { type Account, type Moment, momentOf, type RawRun } from './moment.ts'
import { readSiteTemperatures } from './plateOf.ts'
import { cutOutMoves, foldBackShare, type ProtectionState, sharePassedAt, solveShare, watchedC } from './protection.ts'

export interface RunOptions {
  /** Steps finer than usual, for tests of convergence. */
  finer?: number
}

/** Where a run stands, beside its moments: from here it can go on. */
interface RunState {
  at: OperatingState
  rates: Rates
  /** Of the last event, s. */
  eventS: number
  /** The fold-back has come into play. */
  folds: boolean
}

export interface EndedRun extends RawRun {
  state: RunState
}

/**
 * One mode from switch-on to what ends it: a limit, an empty supply, a steady state, or a week. Moments with
 * temperatures (°C), electrics and the account of energy (J). Two-stage implicit steps (Alexander 1977), steps at
 * most a fifth of the time since the last event (our choice).
 */
export function runMode(model: PowerModel, mode: Mode, options: RunOptions = {}): EndedRun {
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
  const protection: ProtectionState = { open: false, switched: [] }
  if (cutOutMoves(model, protection, model.ambientC)) moveCutOut(protection, 0)
  at.share = sharePassedAt(model, protection, model.ambientC)
  const zero: Account = { inJ: 0, lightJ: 0, wallJ: 0, storedJ: 0, toAirJ: 0, driverJ: 0, wiresJ: 0, cellsJ: 0 }
  const even = makeEvenTemperatures(model.plate, model.ambientC)
  const first = momentOf(model, mode, at, 0, even, new Float64Array(n), model.ambientC, zero, at.share)
  const run: EndedRun = {
    mode,
    moments: [first],
    limit: { kind: 'long', atS: 0, boardIndex: null },
    steppedDown: null,
    sagsFromS: null,
    letGoFromS: null,
    share: 1,
    protection,
    state: { at, rates: { siteC: new Float64Array(n), meanC: 0 }, eventS: 0, folds: false },
  }
  goOn(model, run, options)
  return run
}

/**
 * A run that goes on from where `ended` stopped, in a model that bears more (`leftOn`): all of its moments, those of
 * `ended` first. `ended` stays as it is. Same rules as `runMode`.
 */
export function continueRun(model: PowerModel, ended: EndedRun, options: RunOptions = {}): EndedRun {
  const { at } = ended.state
  const run: EndedRun = {
    ...ended,
    moments: ended.moments.slice(),
    protection: { open: ended.protection.open, switched: ended.protection.switched.slice() },
    state: {
      ...ended.state,
      at: { ...at, siteC: at.siteC.slice(), hotC: at.hotC.slice(), junctionC: at.junctionC.slice() },
    },
  }
  goOn(model, run, options)
  return run
}

function goOn(model: PowerModel, run: EndedRun, { finer = 1 }: RunOptions): void {
  const { mode, state, protection } = run
  const { at } = state
  let now = run.moments[run.moments.length - 1]!
  for (let guard = 0; guard < 4000; guard++) {
    noteChannels(model, mode, at, now, run)
    const end = findLimit(model, mode, at, now, run)
    if (end) {
      run.limit = end
      break
    }
    const mayRest = model.source.capacityC === null && !protection.open && now.tS > 2 * state.eventS
    if (mayRest && hasSettled(model, run.moments)) {
      run.limit = { kind: 'steady', atS: now.tS, boardIndex: null }
      break
    }
    if (stepsDown(mode, now, run)) {
      run.steppedDown = { atS: now.tS, toShare: mode.stepDown!.toShare }
      run.share = mode.stepDown!.toShare
    } else if (cutOutMoves(model, protection, now.watchedC)) moveCutOut(protection, now.tS)
    else {
      const before = now
      const step = advanceToEvent(model, mode, at, now, state.rates, run, state.eventS, finer)
      state.rates = step.rates
      now = step.moment
      at.charge = now.charge
      at.share = run.share * now.passes
      readSiteTemperatures(model, now.temperatures.plateC, now.heatW, at.siteC, at.hotC)
      run.moments.push(now)
      if (!state.folds && now.passes < 1 && before.passes === 1) {
        state.folds = true
        state.eventS = now.tS
      }
      continue
    }
    const passes = sharePassedAt(model, protection, now.watchedC)
    at.share = run.share * passes
    state.eventS = now.tS
    now = momentOf(model, mode, at, now.tS, now.temperatures, now.heatW, now.cellC, now.account, passes, now.watchedC)
    run.moments.push(now)
  }
}

/** One step, cut short where the first event falls into it. */
function advanceToEvent(
  model: PowerModel,
  mode: Mode,
  at: OperatingState,
  now: Moment,
  rates: Rates,
  run: RawRun,
  eventS: number,
  finer: number,
): Step {
  const wanted = wantedSeconds(model, mode, now, run, eventS) / finer
  let next = advance(model, mode, at, now, rates, run, wanted, finer > 1 || wanted === untilStep(mode, now, run))
  for (let again = 0; again < 4; again++) {
    const dt = next.moment.tS - now.tS
    const part = firstEventFraction(model, mode, run, now, next.moment)
    if (part > 0.9995 || dt <= 1e-3) break
    next = advance(model, mode, at, now, rates, run, Math.max(1e-3, dt * part), true)
  }
  return next
}

interface Step {
  moment: Moment
  rates: Rates
}

interface Rates {
  siteC: Float64Array
  meanC: number
}

/** One step. `exact`: of just so many seconds; else of the next shorter one whose matrix is likely to be had. */
function advance(
  model: PowerModel,
  mode: Mode,
  at: OperatingState,
  now: Moment,
  rates: Rates,
  run: RawRun,
  wanted: number,
  exact: boolean,
): Step {
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
    charge: Math.max(0, at.charge - spent(seconds / 2)),
  }
  // The share at the step's end holds for all of it (implicit Euler): a steep fold-back can't swing over.
  const { open } = run.protection
  const { cell, lagS } = model.sensor
  const fromC = watchedC(now.temperatures.plateC, cell)
  const readsAfter = (plateC: Float64Array) => sensorAfterC(now.watchedC, fromC, watchedC(plateC, cell), seconds, lagS)
  const tryStep = (passes: number) => {
    const e = solveElectrics(model, mode, { ...middle, share: run.share * passes })
    const q = makeHeatField(model, e)
    const stepped = advancePlate(plate, conductances, now.temperatures, q, model.ambientC, seconds, shift)
    const leaves = open ? passes : foldBackShare(model.protection, readsAfter(stepped.temperatures.plateC))
    return { leaves, value: { e, stepped } }
  }
  const { e, stepped } = solveShare(tryStep, now.passes).value
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
  const readsC = readsAfter(stepped.temperatures.plateC)
  const passes = sharePassedAt(model, run.protection, readsC)
  end.share = run.share * passes
  const tS = now.tS + seconds
  const moment = momentOf(model, mode, end, tS, stepped.temperatures, e.heatW, cellC, account, passes, readsC)
  const next: Rates = {
    siteC: end.siteC.map((c, i) => (c - at.siteC[i]!) / seconds),
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
    driverJ: a.driverJ + (e.driverW - e.driverToPlateW) * seconds,
    wiresJ: a.wiresJ + e.wireW * seconds,
    cellsJ: a.cellsJ + e.bus.supplyA ** 2 * model.source.ohm * seconds,
  }
}
