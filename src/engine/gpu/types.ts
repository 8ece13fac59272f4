// What the graphics engine and those that use it agree on.
import type { TallyBuffers } from '../workers/protocol.ts'

export interface GpuOptions {
  seed: number
  plainRandom: boolean
  /** Rays with an index below this leave an exit record. */
  exitsBelow: number
}
/** What one batch adds in a chunk: as a pool's answer. */

export type PartialTally = TallyBuffers & { exits: Float32Array; cells?: Uint32Array }
export interface GpuTracer {
  /** Rays [from, to) of every batch; exit records of those with an index below `exitsBelow`. Throws when the device fails on the way. */
  trace(from: number, to: number, exitsBelow?: number): Promise<PartialTally[]>
  /** The exit records alone, of rays whose sums have been read before. */
  exits(from: number, to: number): Promise<Float32Array[]>
  /** The same rays, each with its end: RECORD_FLOATS a ray, ray by ray over the batches. */
  probe(from: number, to: number): Promise<{ partials: Pick<PartialTally, 'sums'>[]; records: Float32Array }>
  /** How many rays of each batch it traces in so many milliseconds, as far as is known; 0 before it is. */
  raysIn(ms: number): number
  /** Rays a millisecond in dispatches long enough to tell; null before there was one. */
  raysPerMs(): number | null
  /** Ends what is under way, with `Cancelled`. */
  close(): void
}
