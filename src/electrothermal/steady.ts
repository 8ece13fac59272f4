// Where a mode would settle, and how fast the lamp cools once it is off.
import { type Sheet, settled, shiftOf, step, type Warmth } from '../heat/warm.ts'
import type { Mode } from '../lamp/schema.ts'
import {
  type Electrics,
  electricsAt,
  heatField,
  type OperatingState,
  type PowerModel,
  sheetAt,
  sitesAt,
} from './model.ts'
import type { SteadyState } from './result.ts'

/** Above it the model means nothing. */
const MOST_C = 400

/** By turns: the mean that balances heat and loss, with the plate's pattern about it; then the pattern for that mean. */
export function steadyState(model: PowerModel, mode: Mode, share: number): SteadyState | null {
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
  const offset = { site: new Float64Array(n), hot: new Float64Array(n) }
  let e: Electrics | null = null
  let warmth: Warmth | null = null
  for (let turn = 0; turn < 4; turn++) {
    const meanC = balancedMean(model, mode, at, offset)
    if (meanC === null) return null
    e = place(model, mode, at, offset, meanC)
    if (e.bus.overloaded) return null
    warmth = settled(plate, sheetAt(model, meanC), heatField(model, e), ambientC)
    sitesAt(model, warmth.plateC, at.siteC, at.hotC)
    const mean = meanOf(model, warmth.plateC)
    offset.site = at.siteC.map((c) => c - mean)
    offset.hot = at.hotC.map((c) => c - mean)
  }
  e = electricsAt(model, mode, at)
  return summary(model, e, warmth!)
}

const meanOf = (model: PowerModel, x: Float64Array): number => {
  let sum = 0
  for (let i = 0; i < x.length; i++) sum += model.plate.areaM2[i]! * x[i]!
  return sum / model.plate.totalM2
}

function place(
  model: PowerModel,
  mode: Mode,
  at: OperatingState,
  offset: { site: Float64Array; hot: Float64Array },
  meanC: number,
): Electrics {
  at.siteC = offset.site.map((d) => meanC + d)
  at.hotC = offset.hot.map((d) => meanC + d)
  return electricsAt(model, mode, at)
}

function balancedMean(
  model: PowerModel,
  mode: Mode,
  at: OperatingState,
  offset: { site: Float64Array; hot: Float64Array },
): number | null {
  const over = (c: number) =>
    place(model, mode, at, offset, c).heatToPlateW - model.sink.totalWK(c) * (c - model.ambientC)
  if (over(MOST_C) > 0) return null
  let [low, high] = [model.ambientC, MOST_C]
  for (let i = 0; i < 18; i++) {
    const mid = (low + high) / 2
    if (over(mid) > 0) low = mid
    else high = mid
  }
  return (low + high) / 2
}

function summary(model: PowerModel, e: Electrics, warmth: Warmth): SteadyState {
  let [boardIndex, junctionMaxC, bearable] = [0, Number.NEGATIVE_INFINITY, true]
  for (const b of model.boards) {
    const c = e.hotJunctionC[b.index]!
    if (c > b.maxJunctionC) bearable = false
    if (c <= junctionMaxC) continue
    junctionMaxC = c
    boardIndex = b.index
  }
  const plateMaxC = warmth.plateC.reduce((most, c) => Math.max(most, c), Number.NEGATIVE_INFINITY)
  return {
    junctionMaxC,
    plateMaxC,
    plateMeanC: meanOf(model, warmth.plateC),
    lm: e.totalLm,
    boardIndex,
    bearable,
  }
}

/** Seconds until half of the mean rise is gone; null where there was hardly any. */
export function coolHalfSeconds(model: PowerModel, from: Warmth): number | null {
  const { plate, ambientC } = model
  const rise = (w: Warmth) => meanOf(model, w.plateC) - ambientC
  const start = rise(from)
  if (start < 5) return null
  const off = new Float64Array(plate.areaM2.length)
  let [warmth, tS, last] = [from, 0, start]
  let sheet: Sheet = sheetAt(model, ambientC + start)
  for (let i = 0; i < 400; i++) {
    const wanted = Math.max(1, 0.2 * tS)
    // A power of two seconds, and the shift rounded with it, so that few matrices are made.
    const seconds = 2 ** Math.floor(Math.log2(wanted))
    const next = step(plate, sheet, warmth, off, ambientC, seconds, shiftOf(plate.storedJm2K, sheet, seconds))
    const now = rise(next.warmth)
    if (now <= start / 2) return tS + (seconds * (last - start / 2)) / (last - now)
    warmth = next.warmth
    tS += seconds
    // The air's share is brought up to date when it has moved by a tenth.
    if (now < 0.9 * (last + 1e-9) || i % 8 === 7) sheet = sheetAt(model, ambientC + now)
    last = now
  }
  return null
}
