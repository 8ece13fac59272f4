// The thermal cut-out and the fold-back of a lamp: what they do to the current at a plate's temperature, and what a run says of them.
// Both read the plate's own field: at the sensor's place, with its lag, where the document names them, else the hottest cell at once. Not the
// front over a board's emitters, whose few kelvin come and go with the current: a thermostat is screwed to the metal. What an unknown place and lag
// may cost is a rule's (src/checks/power/protection.ts).
import type { Protection } from '../lamp/schema.ts'
import type { PowerModel } from './model.ts'
import type { ProtectionRun } from './result.ts'

/** The lamp with its protection failed: a welded thermostat, an NTC that reads cold. By it heat is judged. */
export const withoutProtection = (model: PowerModel): PowerModel => ({ ...model, protection: null })

/**
 * The lamp with nobody there: emitters and cells go on past their limits, which nothing in the lamp watches, until the
 * pack is empty, the drivers let go or it settles. Protection failed. That they go on is the hot side.
 */
export const leftOn = (model: PowerModel): PowerModel => ({
  ...withoutProtection(model),
  isLeftOn: true,
  source: { ...model.source, maxCellC: null },
})

/** Temperature where the protection reads, °C: of its cell, or of the plate's hottest. −273.15 for a plate without cells. */
export const watchedC = (plateC: Float64Array, cell: number | null = null): number =>
  cell === null ? plateC.reduce((most, c) => Math.max(most, c), -273.15) : (plateC[cell] ?? -273.15)

/**
 * Share of the mode's current, 0 to 1, that the fold-back leaves at `celsius`: 1 up to startC, a straight line to
 * leastShare at endC, leastShare above. 1 without a fold-back. Definition; no other source.
 */
export function foldBackShare(protection: Protection | null, celsius: number): number {
  const fold = protection?.foldBack
  if (!fold || celsius <= fold.startC) return 1
  if (celsius >= fold.endC) return fold.leastShare
  return 1 - ((1 - fold.leastShare) * (celsius - fold.startC)) / (fold.endC - fold.startC)
}

/** A share tried: the share that the fold-back would leave after it, and what came of the try. */
export interface Tried<T> {
  leaves: number
  value: T
}

/** The fold-back's share is solved this close. */
const CLOSE = 1e-6
const MOST_TRIES = 60

/**
 * The share s at which the fold-back leaves s: a hotter plate leaves less, so leaves(s) − s falls and has one root
 * between `guess` and leaves(guess). Illinois rule (Dowell and Jarratt, BIT 11 (1971) 168; from memory), closed by
 * bisection where it stalls. Within 1e-6 of share, or the last of 60 tries. Gives the share and what was tried with it.
 */
export function solveShare<T>(tryShare: (share: number) => Tried<T>, guess: number): { share: number; value: T } {
  let share = guess
  let tried = tryShare(share)
  let over = tried.leaves - share
  if (Math.abs(over) <= CLOSE) return { share, value: tried.value }
  let [a, fa] = [share, over]
  share = tried.leaves
  tried = tryShare(share)
  over = tried.leaves - share
  let [b, fb] = [share, over]
  if (fa * fb > 0) {
    // Only where more current does not heat more, as when a supply gives way: the ends always hold a root between them.
    share = fb > 0 ? 1 : 0
    tried = tryShare(share)
    over = tried.leaves - share
    ;[a, fa, b, fb] = [b, fb, share, over]
  }
  for (let i = 0; i < MOST_TRIES && Math.abs(over) > CLOSE; i++) {
    share = i % 4 === 3 ? (a + b) / 2 : (a * fb - b * fa) / (fb - fa)
    tried = tryShare(share)
    over = tried.leaves - share
    if (over * fb < 0) [a, fa] = [b, fb]
    else fa /= 2
    ;[b, fb] = [share, over]
  }
  return { share, value: tried.value }
}

/** The cut-out opens or closes this close to its temperature, K. */
const SWITCHES_K = 0.01

/** What the cut-out has done in a run, and what it and the fold-back let through now. */
export interface ProtectionState {
  open: boolean
  /** Each opening and closing, the earliest first. */
  switched: { atS: number; open: boolean }[]
}

/** Share of the current that both let through at `celsius`, 0 to 1. */
export const sharePassedAt = ({ protection }: PowerModel, { open }: ProtectionState, celsius: number): number =>
  open ? 0 : foldBackShare(protection, celsius)

/** True where the cut-out is to move at this temperature of the plate, °C. It never closes again without a closeC. */
export function cutOutMoves({ protection }: PowerModel, state: ProtectionState, celsius: number): boolean {
  const cutOut = protection?.cutOut
  if (!cutOut) return false
  if (!state.open) return celsius >= cutOut.openC - SWITCHES_K
  return cutOut.closeC !== undefined && celsius <= cutOut.closeC + SWITCHES_K
}

/** Open for good: it latches, or the plate can't cool to where it closes. */
export const staysOpen = ({ protection, ambientC }: PowerModel, { open }: ProtectionState): boolean =>
  open && (protection?.cutOut?.closeC ?? Number.NEGATIVE_INFINITY) <= ambientC + SWITCHES_K

/** Temperatures, °C, at which a step of time is to end: where the cut-out moves next and where the fold-back bends. */
export function bendsOf({ protection }: PowerModel, { open }: ProtectionState): number[] {
  const { cutOut, foldBack } = protection ?? {}
  if (open) return cutOut?.closeC === undefined ? [] : [cutOut.closeC]
  return [...(cutOut ? [cutOut.openC] : []), ...(foldBack ? [foldBack.startC] : [])]
}

/** Two cycles are alike when their times on and off differ by less than this share of a cycle. */
const ALIKE = 0.01
/** A run on a pack never repeats itself exactly; it is ended after so many openings at the latest. */
const MOST_OPENINGS = 25

/** The cut-out has opened again, and what follows repeats the cycle before. */
export function repeats({ switched }: ProtectionState): boolean {
  const opened = switched.filter((s) => s.open).map((s) => s.atS)
  const closed = switched.filter((s) => !s.open).map((s) => s.atS)
  const [n, last] = [opened.length, switched[switched.length - 1]]
  if (!last?.open || n < 3) return false
  if (n >= MOST_OPENINGS) return true
  const [o1, o2, o3] = opened.slice(-3) as [number, number, number]
  const [c1, c2] = closed.slice(-2) as [number, number]
  const close = (x: number, y: number) => Math.abs(x - y) <= ALIKE * (o3 - o2)
  return close(c1 - o1, c2 - o2) && close(o2 - c1, o3 - c2)
}

/** The moments of a run, as far as its protection is summed up from them. */
export interface WatchedMoment {
  tS: number
  watchedC: number
  /** Share of the mode's current after the step-down that the protection lets through, 0 to 1. */
  passes: number
  charge: number
  electrics: { totalLm: number }
}

/** What the protection did in a run, s, °C and lm; null for a lamp without one. */
export function protectionRunOf(
  model: PowerModel,
  state: ProtectionState,
  moments: readonly WatchedMoment[],
): ProtectionRun | null {
  if (!model.protection) return null
  const { foldBack } = model.protection
  const opened = state.switched.filter((s) => s.open).map((s) => s.atS)
  const folded = foldBack ? moments.filter((m) => m.watchedC > foldBack.startC) : []
  const lit = moments.filter((m) => m.passes > 0)
  return {
    firstOpenS: opened[0] ?? null,
    openings: opened.length,
    staysOpen: staysOpen(model, state),
    cycle: cycleOf(state, moments),
    foldsFromS: folded[0]?.tS ?? null,
    leastShare: foldBack ? lit.reduce((least, m) => Math.min(least, m.passes), 1) : null,
    shareAtEnd: lit[lit.length - 1]?.passes ?? 0,
  }
}

/** The last whole cycle, from opening to opening; null before the second. */
function cycleOf({ switched }: ProtectionState, moments: readonly WatchedMoment[]): ProtectionRun['cycle'] {
  const opened = switched.filter((s) => s.open)
  const [from, to] = opened.slice(-2)
  const closed = switched.findLast((s) => !s.open)
  if (!from || !to || !closed) return null
  const periodS = to.atS - from.atS
  const onS = to.atS - closed.atS
  const part = moments.filter((m) => m.tS >= from.atS && m.tS <= to.atS)
  let lmS = 0
  for (const [i, m] of part.entries()) {
    const before = part[i - 1]
    if (before) lmS += ((m.tS - before.tS) * (m.electrics.totalLm + before.electrics.totalLm)) / 2
  }
  const used = (part[0]?.charge ?? 0) - (part[part.length - 1]?.charge ?? 0)
  const left = part[part.length - 1]?.charge ?? 0
  return {
    fromS: from.atS,
    periodS,
    onS,
    duty: onS / periodS,
    meanLm: lmS / periodS,
    emptyAboutS: used > 0 ? to.atS + (left / used) * periodS : null,
  }
}
