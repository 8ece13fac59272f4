// What ends a step of time, and what ends a run: limits, step-downs, the cut-out, the end of charge.
import type { Mode } from '../lamp/schema.ts'
import { type OperatingState, type PowerModel, wantedA } from './model.ts'
import type { Moment, RawRun } from './moment.ts'
import { bendsOf, type ProtectionState, repeats, staysOpen } from './protection.ts'
import type { Limit } from './result.ts'

const FIRST_S = 0.1
/** Steps are at most this share of the time since the last event. */
const GROWTH = 0.2
const CHARGE_STEP = 0.03
const LONGEST_S = 7 * 86_400
/** Settled when the plate's hottest place moves less than this in as much time again as has gone by… */
const SETTLED_K = 0.1
/** … and what is still being stored would lift plate and sink by less than this: a great store of heat moves slowly, too. */
const STILL_TO_COME_K = 0.5

/** Of the plate, °C: above it the model means nothing. */
export const MOST_C = 400

/** Opens or closes the cut-out at atS, s. Bookkeeping; no source. */
export function moveCutOut(state: ProtectionState, atS: number): void {
  state.open = !state.open
  state.switched.push({ atS, open: state.open })
}

/** Notes when drivers sag or let go for the first time, s; those that let go stay off. Bookkeeping; no source. */
export function noteChannels(model: PowerModel, mode: Mode, at: OperatingState, now: Moment, run: RawRun): void {
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

/** What ends the run now, atS in s; null: it goes on. Order and tolerances (0.02 K, 1e-3 K) are our choice. */
export function findLimit(model: PowerModel, mode: Mode, at: OperatingState, now: Moment, run: RawRun): Limit | null {
  const { source } = model
  const limit = (kind: Limit['kind'], boardIndex: number | null = null): Limit => ({ kind, atS: now.tS, boardIndex })
  if (now.electrics.bus.overloaded) return limit(now.tS === 0 ? 'supply' : 'drivers')
  if (!model.isLeftOn && now.overK >= -0.02) return limit('junction', now.hottest)
  if (model.isLeftOn && now.plateMaxC >= MOST_C - 0.5) return limit('beyond')
  if (source.cutOffV !== null && now.electrics.bus.terminalV <= source.cutOffV * (1 + 1e-4)) return limit('empty')
  if (source.capacityC !== null && now.charge <= 1e-6) return limit('empty')
  if (source.maxCellC !== null && now.cellC >= source.maxCellC - 1e-3) return limit('cells')
  const hasCurrent = model.channels.map((c) => wantedA(model.boards[c.boards[0]!]!, mode, run.share) > 0)
  if (!hasCurrent.includes(true)) return limit('off')
  if (!hasCurrent.some((wanted, i) => wanted && !at.tripped.has(i))) return limit('drivers')
  if (staysOpen(model, run.protection)) return limit('cutOut')
  if (now.passes === 0 && repeats(run.protection)) return limit('cycles')
  if (now.tS >= LONGEST_S) return limit('long')
  return null
}

/** True once the mode's step-down rule is met, by s or °C (within 0.02 K, our choice); it comes once. */
export function stepsDown(mode: Mode, now: Moment, run: RawRun): boolean {
  const rule = mode.stepDown
  if (!rule || run.steppedDown) return false
  if (rule.watch === 'time') return now.tS >= rule.afterS - 1e-9
  return (rule.watch === 'junction' ? now.junctionMaxC : now.plateMaxC) >= rule.atC - 0.02
}

/** Length of the next step, s: at most a fifth of the time since eventS (s), less near the end of charge. Our choice. */
export function wantedSeconds(model: PowerModel, mode: Mode, now: Moment, run: RawRun, eventS: number): number {
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

/** Time to a step-down by the clock, s; null where there is none ahead. Definition; no source. */
export function untilStep({ stepDown: rule }: Mode, now: Moment, run: RawRun): number | null {
  return rule?.watch === 'time' && !run.steppedDown ? Math.max(1e-6, rule.afterS - now.tS) : null
}

/** Share of the step from a to b, 0 to 1, after which the first event falls, by straight lines; 1 where none does. Our choice. */
export function firstEventFraction(model: PowerModel, mode: Mode, run: RawRun, a: Moment, b: Moment): number {
  let part = 1
  const checkZero = (from: number, to: number) => {
    if (from < 0 && to > 0) part = Math.min(part, -from / (to - from))
  }
  if (model.isLeftOn) checkZero(a.plateMaxC - MOST_C, b.plateMaxC - MOST_C)
  else checkZero(a.overK, b.overK)
  const rule = mode.stepDown
  if (rule && !run.steppedDown && rule.watch !== 'time') {
    const value = (m: Moment) => (rule.watch === 'junction' ? m.junctionMaxC : m.plateMaxC) - rule.atC
    checkZero(value(a), value(b))
  }
  const { open } = run.protection
  for (const c of bendsOf(model, run.protection))
    checkZero(open ? c - a.watchedC : a.watchedC - c, open ? c - b.watchedC : b.watchedC - c)
  const { cutOffV, maxCellC } = model.source
  if (cutOffV !== null) checkZero(cutOffV - a.electrics.bus.terminalV, cutOffV - b.electrics.bus.terminalV)
  if (maxCellC !== null) checkZero(a.cellC - maxCellC, b.cellC - maxCellC)
  return part
}

/** On a supply without end: true where the plate (°C) has moved under 0.1 K in the latter half of the time, and
 * what is still being stored would lift it by less than 0.5 K. Our choice; no source. */
export function hasSettled({ sink }: PowerModel, moments: readonly Moment[]): boolean {
  const last = moments[moments.length - 1]!
  if (last.tS < 60) return false
  const before = moments.findLast((m) => m.tS <= last.tS / 2)
  if (before === undefined || Math.abs(last.plateMaxC - before.plateMaxC) >= SETTLED_K) return false
  const storedW = (last.account.storedJ - before.account.storedJ) / (last.tS - before.tS)
  return Math.abs(storedW) < STILL_TO_COME_K * sink.totalWK(last.plateMeanC)
}
