// From the device's buffers to what every engine gives: sums, maps, exit records.
import type { TallyLayout } from '../../run/layout.ts'
import { BATCHES, EXIT_STRIDE } from '../../run/types.ts'

/** Of one record: x y z dx dy dz weight lumens nm fate, and two more that fill its three vectors. */
export const RECORD_FLOATS = 12
export const RECORD_FATE = 9

/** Steps of the fixed-point sums, as in shaders/kernels/tally.wgsl. */
export const W_STEP = 2 ** -24
export const LM_STEP = 2 ** -14
const HIGH = 2 ** 32

/** A signed number of two words. */
export const wide = (low: number, high: number): number => (high | 0) * HIGH + low

/** One batch's tally from its words. */
export function splitTally(words: Uint32Array, layout: TallyLayout): { sums: Float64Array; maps: Float32Array } {
  const { windowLm, size } = layout
  const sums = new Float64Array(windowLm)
  const maps = new Float32Array(size - windowLm)
  const step = (from: number, to: number, unit: number) => {
    for (let i = from; i < to; i++) {
      const low = words[2 * i]!
      const high = words[2 * i + 1]!
      if (low === 0 && high === 0) continue
      const value = wide(low, high) * unit
      if (i < windowLm) sums[i] = value
      else maps[i - windowLm] = value
    }
  }
  step(layout.fateW, layout.fateLm, W_STEP)
  step(layout.fateLm, layout.emitted, LM_STEP)
  step(layout.emitted, layout.emitted + 1, W_STEP)
  step(layout.emitted + 1, layout.lensW, LM_STEP)
  step(layout.lensW, size, W_STEP)
  return { sums, maps }
}

/** Exit records of one batch, closed up, in the order of the rays. */
export function exitsOf(records: Float32Array, batch: number): Float32Array {
  const stride = RECORD_FLOATS * BATCHES
  const nm = 8
  let count = 0
  for (let at = RECORD_FLOATS * batch; at < records.length; at += stride) if (records[at + nm]! > 0) count++
  const out = new Float32Array(count * EXIT_STRIDE)
  let to = 0
  for (let at = RECORD_FLOATS * batch; at < records.length; at += stride) {
    if (!(records[at + nm]! > 0)) continue
    out.set(records.subarray(at, at + EXIT_STRIDE), to)
    to += EXIT_STRIDE
  }
  return out
}
