// From the device's buffers to what every engine gives: sums, maps, exit records.
import type { TallyLayout } from '../../run/layout.ts'
import { BATCHES, EXIT_STRIDE } from '../../run/types.ts'

/** Of one record: x y z dx dy dz weight lumens nm fate, and two more that fill its three vectors. */
export const RECORD_FLOATS = 12
export const RECORD_FATE = 9

/** Steps of the fixed-point sums, as in shaders/kernels/tally.wgsl. */
export const W_STEP = 2 ** -23
export const LM_STEP = 2 ** -13
const HIGH = 2 ** 32

/** A signed number of two words. */
export const wide = (low: number, high: number): number => (high | 0) * HIGH + low

/** The exact part of one batch's tally, all but the maps, from its words. */
export function sumsOf(words: Uint32Array, layout: TallyLayout): Float64Array {
  const sums = new Float64Array(layout.windowLm)
  const step = (from: number, to: number, unit: number) => {
    for (let i = from; i < to; i++) sums[i] = wide(words[2 * i]!, words[2 * i + 1]!) * unit
  }
  step(layout.fateW, layout.fateLm, W_STEP)
  step(layout.fateLm, layout.emitted, LM_STEP)
  step(layout.emitted, layout.emitted + 1, W_STEP)
  step(layout.emitted + 1, layout.partsW, LM_STEP)
  step(layout.partsW, layout.partsLm, W_STEP)
  step(layout.partsLm, layout.windowLm, LM_STEP)
  return sums
}

/** Exit records by batch, closed up, in the order of the rays; batch after batch in `records`, ray by ray. */
export function exitsOf(records: Float32Array): Float32Array[] {
  const nm = 8
  const counts = new Uint32Array(BATCHES)
  for (let at = 0, batch = 0; at < records.length; at += RECORD_FLOATS, batch = (batch + 1) % BATCHES)
    if (records[at + nm]! > 0) counts[batch]!++
  const all = Array.from(counts, (count) => new Float32Array(count * EXIT_STRIDE))
  const to = new Uint32Array(BATCHES)
  for (let at = 0, batch = 0; at < records.length; at += RECORD_FLOATS, batch = (batch + 1) % BATCHES) {
    if (!(records[at + nm]! > 0)) continue
    const out = all[batch]!
    const from = to[batch]!
    for (let k = 0; k < EXIT_STRIDE; k++) out[from + k] = records[at + k]!
    to[batch] = from + EXIT_STRIDE
  }
  return all
}
