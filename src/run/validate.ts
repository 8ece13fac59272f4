// What a run must fulfil before anyone reads it. A fault here is a fault of the program, or of a lamp without light or that traps it, in plain words.
import { type TallyLayout, tallyLayout } from './layout.ts'
import { FATES_OF_PARTS } from './parts.ts'
import { BATCHES, EXIT_STRIDE, FATES, type Run } from './types.ts'

const LEDGER_TOLERANCE = 1e-9
const LOST_AT_MOST = 1e-5
/** The normal distribution's 99.9 %. */
const QUANTILE_999 = 3.09
const UNIT_TOLERANCE = 1e-4

/**
 * Every way in which the run is invalid, one sentence each; empty when it is valid. Never throws.
 * `thorough` false, between rounds: maps are checked in the sums of the halves only, since a value that is no number
 * in a map of one batch is none in the sum of its half either, and exit rays are not checked.
 */
export function findRunFaults(run: Run, thorough = true): string[] {
  if (run.tallies.length !== BATCHES) return [`The run has ${run.tallies.length} batches; it must have ${BATCHES}.`]
  const layout = tallyLayout(run.shape)
  if (run.tallies.some((t) => t.length !== layout.size)) return ['A batch of the run has the wrong length.']
  const quick = !thorough && run.halves
  const faults = run.tallies.flatMap((tally, batch) =>
    tallyFaults(quick ? tally.subarray(0, layout.windowLm) : tally, layout, batch),
  )
  if (quick && !quick.every(isSound))
    faults.push('A map of the run holds a negative weight or a value that is no number.')
  if (faults.length === 0) faults.push(...lostFaults(run, layout))
  if (!quick) faults.push(...exitFaults(run))
  return faults
}

function isSound(sums: Float64Array): boolean {
  const roulette = FATES.indexOf('roulette')
  for (let i = 2 * FATES.length; i < sums.length; i++)
    if (!(sums[i]! >= 0 && sums[i]! < Number.POSITIVE_INFINITY)) return false
  return Number.isFinite(sums[roulette]!)
}

function tallyFaults(tally: Float64Array, layout: TallyLayout, batch: number): string[] {
  const faults: string[] = []
  const roulette = FATES.indexOf('roulette')
  let sum = 0
  for (let i = 0; i < tally.length; i++) {
    const v = tally[i]!
    sum += v
    if (v >= 0 || i === layout.fateW + roulette || i === layout.fateLm + roulette) continue
    faults.push(
      `Batch ${batch + 1} holds ${Number.isNaN(v) ? 'a value that is no number' : `a negative weight (${v})`} at place ${i}.`,
    )
    break
  }
  if (!Number.isFinite(sum) && faults.length === 0) faults.push(`Batch ${batch + 1} holds a value that is not finite.`)
  if (faults.length > 0) return faults
  const parts = layout.partsLm - layout.partsW
  for (const [from, emitted, what, partsAt] of [
    [layout.fateW, tally[layout.emitted]!, 'watts', layout.partsW],
    [layout.fateLm, tally[layout.emitted + 1]!, 'lumens', layout.partsLm],
  ] as const) {
    let ends = 0
    for (let f = 0; f < FATES.length; f++) ends += tally[from + f]!
    if (emitted <= 0) faults.push(`Batch ${batch + 1} emitted no ${what}.`)
    else if (Math.abs(ends / emitted - 1) > LEDGER_TOLERANCE)
      faults.push(
        `The ledger of batch ${batch + 1} does not close in ${what}: ${ends / emitted} of what was emitted is booked.`,
      )
    else if (parts > 0) {
      const lines = FATES_OF_PARTS.reduce((sum, fate) => sum + tally[from + FATES.indexOf(fate)]!, 0)
      const booked = tally.subarray(partsAt, partsAt + parts).reduce((sum, w) => sum + w, 0)
      if (Math.abs(booked - lines) / emitted > LEDGER_TOLERANCE)
        faults.push(`The parts of batch ${batch + 1} do not add up to its ledger in ${what}: ${booked / lines} of it.`)
    }
  }
  return faults
}

function lostFaults(run: Run, layout: TallyLayout): string[] {
  const limit = shareOf(run, layout, 'limit')
  const share = limit + shareOf(run, layout, 'lost')
  return isWithin(run, share)
    ? []
    : [
        `${share.toExponential(2)} of the light was stopped by the bounce limit or lost to rounding; at most ${LOST_AT_MOST} may be.`,
      ]
}

/** Share of the emitted watts that ended so. */
function shareOf({ tallies }: Run, layout: TallyLayout, fate: (typeof FATES)[number]): number {
  let ended = 0
  let emitted = 0
  for (const t of tallies) {
    ended += t[layout.fateW + FATES.indexOf(fate)]!
    emitted += t[layout.emitted]!
  }
  return ended / emitted
}

const isWithin = (run: Run, share: number): boolean => share * run.rays <= lostRaysLimit(run.rays)

/**
 * Rays of `rays` that may be lost before a run counts as faulty: the 99.9 % quantile of a Poisson count of mean 1e-5
 * · rays. A run of 16,384 rays that loses one has lost six times the allowed fraction, and that alone shows nothing.
 * Cornish and Fisher's expansion to the skewness (M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions,
 * 1964, 26.2.49; from memory).
 */
export function lostRaysLimit(rays: number): number {
  const mean = LOST_AT_MOST * rays
  return mean + QUANTILE_999 * Math.sqrt(mean) + (QUANTILE_999 ** 2 - 1) / 6
}

function exitFaults(run: Run): string[] {
  const { data, count } = run.exits
  if (data.length < count * EXIT_STRIDE) return ['The exit rays are fewer than their count says.']
  for (let i = 0, at = 0; i < count; i++, at += EXIT_STRIDE) {
    const length = Math.sqrt(data[at + 3]! ** 2 + data[at + 4]! ** 2 + data[at + 5]! ** 2)
    if (!(Math.abs(length - 1) < UNIT_TOLERANCE)) return [`Exit ray ${i} has no unit direction (length ${length}).`]
    let sum = 0
    for (let k = 0; k < EXIT_STRIDE; k++) sum += data[at + k]!
    if (!Number.isFinite(sum)) return [`Exit ray ${i} holds a value that is not finite.`]
    if (data[at + 6]! < 0 || data[at + 7]! < 0) return [`Exit ray ${i} has a negative weight.`]
  }
  return []
}

/** By its name it is known when it has crossed from another thread. */
export const LAMP_FAULT = 'LampFault'

/** A lamp that can't be traced, through no fault of the program. */
export class LampFault extends Error {
  override name = LAMP_FAULT
}

/**
 * Throws an error that names every fault of the run, unless it is valid; a `LampFault` where the lamp gives no light, or mirrors it to and fro
 * without end and that is its only fault. `thorough`: see
 * `findRunFaults`.
 */
export function expectValid(run: Run, thorough = true): void {
  if (run.emittedW === 0)
    throw new LampFault(
      'The lamp gives no light: it has no boards, or no current through any emitter that gives light.',
    )
  const faults = findRunFaults(run, thorough)
  if (faults.length === 0) return
  const trapped = trappedShare(run)
  if (faults.length === 1 && trapped > 0) throw new LampFault(trappedWords(trapped))
  throw new Error(`The run is invalid: ${faults.join(' ')}`)
}

/** Share of the light that met the bounce limit, where that is all that is wrong with what was lost; otherwise 0. */
function trappedShare(run: Run): number {
  const layout = tallyLayout(run.shape)
  const limit = shareOf(run, layout, 'limit')
  return !isWithin(run, limit) && isWithin(run, shareOf(run, layout, 'lost')) ? limit : 0
}

/** 0.94²⁰⁰ is 1e-5, what may be lost; no path is given up before its 200th bounce. */
const trappedWords = (share: number): string =>
  `${(100 * share).toPrecision(2)} % of the light is reflected so often in the lamp that its trace is cut short. No figure would be right. Use a tunnel and a face that reflect less, a wider opening, or a lens with a longer focal length for its width. Where tunnel and face reflect under 94 % and no lens is so short, the fault is the program’s.`
