// A run's state at one moment, and what it has taken and given since switch-on.

import type { PlateTemperatures } from '../heat/plateTemperatures.ts'
import type { Mode } from '../lamp/schema.ts'
import { type Electrics, type OperatingState, type PowerModel, solveElectrics } from './model.ts'
import { frontOf } from './plateOf.ts'
import { type ProtectionState, watchedC } from './protection.ts'
import type { Limit } from './result.ts'

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
  /** What the protection reads, and the share of the current that it lets through: 1 without one. */
  watchedC: number
  passes: number
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

export interface Account {
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
  /** After the step-down, at the end of the run; the protection's share is not in it. */
  share: number
  protection: ProtectionState
}

/**
 * The state of a run at tS, with the electrics solved at its temperatures (°C) and charge. `passes`: share of the
 * current that the protection lets through, already in `at.share`; `readsC`: what it reads, °C, where it lags behind.
 * No source: it reads the model.
 */
export function momentOf(
  model: PowerModel,
  mode: Mode,
  at: OperatingState,
  tS: number,
  temperatures: PlateTemperatures,
  heatW: Float64Array,
  cellC: number,
  account: Account,
  passes: number,
  readsC = watchedC(temperatures.plateC, model.sensor.cell),
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
    watchedC: readsC,
    passes,
    junctionMaxC,
    hottest,
    hotC: at.hotC.slice(),
    overK,
    charge: at.charge,
    cellC,
    account,
  }
}
