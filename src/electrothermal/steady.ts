// The steady state of a mode, and how fast the lamp cools once it is off.
import {
  type ArealConductances,
  advancePlate,
  type PlateTemperatures,
  shiftOf,
  solveSteady,
} from '../heat/plateTemperatures.ts'
import type { Mode } from '../lamp/schema.ts'
import { MOST_C } from './events.ts'
import {
  conductancesAt,
  type Electrics,
  makeHeatField,
  type OperatingState,
  type PowerModel,
  solveElectrics,
} from './model.ts'
import { frontOf, readSiteTemperatures } from './plateOf.ts'
import { foldBackShare, solveShare, watchedC } from './protection.ts'
import type { SteadyState } from './result.ts'

/**
 * Steady state of a mode at its `share` of the current and the charge of the start, with what the fold-back leaves of
 * it: the share s that the plate's temperature at s leaves. Null when it would pass 400 °C, the supply can't carry it,
 * or the cut-out opens before: then there is none.
 */
export function solveSteadyState(model: PowerModel, mode: Mode, share: number): SteadyState | null {
  const tryShare = (passes: number) => {
    const value = solveAtShare(model, mode, share * passes)
    return { leaves: foldBackShare(model.protection, value?.watchedC ?? MOST_C), value }
  }
  const found = solveShare(tryShare, 1).value
  if (!found || found.watchedC >= (model.protection?.cutOut?.openC ?? Number.POSITIVE_INFINITY)) return null
  return found.state
}

/**
 * At just this share of the current, and what the protection reads there.
 * Alternates four times: the mean that balances heat and loss, with the plate's pattern about it; then the pattern
 * for that mean. Our choice of iteration.
 */
function solveAtShare(model: PowerModel, mode: Mode, share: number): { state: SteadyState; watchedC: number } | null {
  const n = model.boards.length
  const { ambientC, plate } = model
  const at: OperatingState = {
    siteC: new Float64Array(n).fill(ambientC),
    hotC: new Float64Array(n).fill(ambientC),
    charge: model.source.charged,
    share,
    tripped: new Set(),
    junctionC: new Float64Array(n).fill(ambientC),
    guessA: 0,
  }
  /** Of each board's emitters over the plate's mean, K. */
  let offsetK = new Float64Array(n)
  let e: Electrics | null = null
  let temperatures: PlateTemperatures | null = null
  for (let turn = 0; turn < 4; turn++) {
    const meanC = solveMeanC(model, mode, at, offsetK)
    if (meanC === null) return null
    e = evaluateAt(model, mode, at, offsetK, meanC)
    if (e.bus.overloaded) return null
    temperatures = solveSteady(plate, conductancesAt(model, meanC), makeHeatField(model, e), ambientC)
    readSiteTemperatures(model, temperatures.plateC, e.heatW, at.siteC, at.hotC)
    const mean = meanOf(model, temperatures.plateC)
    offsetK = at.siteC.map((c) => c - mean)
  }
  e = solveElectrics(model, mode, at)
  return {
    state: summarize(model, e, temperatures!, at.hotC),
    watchedC: watchedC(temperatures!.plateC, model.sensor.cell),
  }
}

const meanOf = (model: PowerModel, x: Float64Array): number => {
  let sum = 0
  for (let i = 0; i < x.length; i++) sum += model.plate.areaM2[i]! * x[i]!
  return sum / model.plate.totalM2
}

function evaluateAt(
  model: PowerModel,
  mode: Mode,
  at: OperatingState,
  offsetK: Float64Array,
  meanC: number,
): Electrics {
  at.siteC = offsetK.map((d) => meanC + d)
  return solveElectrics(model, mode, at)
}

function solveMeanC(model: PowerModel, mode: Mode, at: OperatingState, offsetK: Float64Array): number | null {
  const over = (c: number) =>
    evaluateAt(model, mode, at, offsetK, c).heatToPlateW - model.sink.totalWK(c) * (c - model.ambientC)
  if (over(MOST_C) > 0) return null
  let [low, high] = [model.ambientC, MOST_C]
  for (let i = 0; i < 18; i++) {
    const mid = (low + high) / 2
    if (over(mid) > 0) low = mid
    else high = mid
  }
  return (low + high) / 2
}

function summarize(model: PowerModel, e: Electrics, temperatures: PlateTemperatures, hotC: Float64Array): SteadyState {
  let [boardIndex, junctionMaxC, bearable] = [0, Number.NEGATIVE_INFINITY, true]
  for (const b of model.boards) {
    const c = e.hotJunctionC[b.index]!
    if (c > b.maxJunctionC) bearable = false
    if (c <= junctionMaxC) continue
    junctionMaxC = c
    boardIndex = b.index
  }
  const front = frontOf(model, temperatures.plateC, e.heatW)
  const plateMaxC = hotC.reduce(
    (most, c) => Math.max(most, c),
    front.reduce((most, c) => Math.max(most, c)),
  )
  return {
    junctionMaxC,
    plateMaxC,
    plateMeanC: meanOf(model, temperatures.plateC),
    lm: e.totalLm,
    boardIndex,
    bearable,
  }
}

/**
 * Seconds until half of the plate's mean rise is gone, from the state `from`, all drivers off; null for a rise under
 * 5 K, or after 400 steps.
 */
export function coolHalfSeconds(model: PowerModel, from: PlateTemperatures): number | null {
  const { plate, ambientC } = model
  const rise = (w: PlateTemperatures) => meanOf(model, w.plateC) - ambientC
  const start = rise(from)
  if (start < 5) return null
  const off = new Float64Array(plate.areaM2.length)
  let [temperatures, tS, last, taken] = [from, 0, start, start]
  let conductances: ArealConductances = conductancesAt(model, ambientC + start)
  for (let i = 0; i < 400; i++) {
    const wanted = Math.max(1, 0.2 * tS)
    // A power of two seconds, and the shift rounded with it, so that few matrices are made.
    const seconds = 2 ** Math.floor(Math.log2(wanted))
    const next = advancePlate(
      plate,
      conductances,
      temperatures,
      off,
      ambientC,
      seconds,
      shiftOf(plate.storedJm2K, conductances, seconds),
    )
    const now = rise(next.temperatures)
    if (now <= start / 2) return tS + (seconds * (last - start / 2)) / (last - now)
    temperatures = next.temperatures
    tS += seconds
    // The air's part is taken anew once the rise has fallen by a tenth since, so that few matrices are made.
    if (now < 0.9 * taken) {
      conductances = conductancesAt(model, ambientC + now)
      taken = now
    }
    last = now
  }
  return null
}
