// Samples of rays that cross planes. Plain columns of numbers; nothing here knows a lamp.
import type { RayColumns } from '../run/exits.ts'
import { BATCHES } from '../run/types.ts'

/** 1 W/mm² in kW/m². */
export const KW_M2 = 1000

export interface Spot2 {
  xMm: number
  yMm: number
}

/** A place on a plane so far in front of the columns'. */
export interface PlanePlace extends Spot2 {
  distanceMm: number
}

/** Rays of some batches, thinned evenly to at most `most`; with the factor that makes their watts stand for the whole. */
export interface Sample {
  index: Uint32Array
  /** Whole over sample, in rays. */
  factor: number
  batches: number
}

/** Rays of the batches asked for last. */
let selected = new Uint32Array(0)

/**
 * Indexes of the rays of some batches, thinned evenly to at most `most`, and the factor by which their watts stand
 * for the whole. An empty sample has factor 0.
 */
export function takeSample(rays: RayColumns, which: (batch: number) => boolean, most: number): Sample {
  const chosen = Array.from({ length: BATCHES }, (_, b) => which(b))
  const batches = chosen.filter(Boolean).length
  if (selected.length < rays.count) selected = new Uint32Array(rays.count)
  let n = 0
  for (let i = 0; i < rays.count; i++) if (chosen[rays.batch[i]!]) selected[n++] = i
  const all = selected.subarray(0, n)
  // Rays are dealt to batches in turn: a stride without a factor in common with their number takes from all alike.
  let stride = Math.max(1, Math.ceil(all.length / most))
  if (stride % 2 === 0) stride++
  const index = new Uint32Array(Math.ceil(all.length / stride))
  for (let k = 0; k < index.length; k++) index[k] = all[k * stride]!
  return { index, factor: index.length > 0 ? (BATCHES / batches) * (all.length / index.length) : 0, batches }
}

/** Rays side by side in memory. */
export interface Gathered {
  rays: RayColumns
  sample: Sample
}

/** Copies the sample's rays side by side in memory: for code that walks through them plane after plane. */
export function gatherRays(rays: RayColumns, sample: Sample): Gathered {
  const { index } = sample
  const column = (from: Float32Array) => {
    const to = new Float32Array(index.length)
    for (let k = 0; k < to.length; k++) to[k] = from[index[k]!]!
    return to
  }
  const batch = new Uint8Array(index.length)
  for (let k = 0; k < batch.length; k++) batch[k] = rays.batch[index[k]!]!
  const count = index.length
  const at = { xMm: column(rays.xMm), yMm: column(rays.yMm) }
  const slopes = { slopeX: column(rays.slopeX), slopeY: column(rays.slopeY) }
  const own = { count, ...at, ...slopes, watts: column(rays.watts), lumens: column(rays.lumens), batch }
  return { rays: { ...rays, ...own }, sample: { ...sample, index: makeIndex(count) } }
}

/** At most so many of the rays, from all batches alike, each worth more W and lm: for a first sheet. */
export function thinRays(rays: RayColumns, most: number): RayColumns {
  if (rays.count <= most) return rays
  const few = gatherRays(
    rays,
    takeSample(rays, () => true, most),
  )
  const { factor } = few.sample
  for (const worth of [few.rays.watts, few.rays.lumens]) for (let k = 0; k < worth.length; k++) worth[k]! *= factor
  return { ...few.rays, wattsOfOne: rays.wattsOfOne * factor }
}

let indexCache = new Uint32Array(0)

/** 0, 1, 2 … */
function makeIndex(count: number): Uint32Array {
  if (indexCache.length < count) indexCache = Uint32Array.from({ length: 2 * count }, (_, k) => k)
  return indexCache.subarray(0, count)
}
