// Segments and columns of rays made by hand, for the searches in the air.
import { seededRandom } from '../../src/num/rng.ts'
import type { RayColumns } from '../../src/run/exits.ts'
import { makeSegments, type Segments } from '../../src/run/segments.ts'
import { BATCHES } from '../../src/run/types.ts'

export type V3 = readonly [number, number, number]

export interface DrawnSegment {
  from: V3
  /** Not yet of unit length. */
  towards: V3
  lengthMm?: number
  /** Share of the watts of one ray: 1 unless told. */
  weight?: number
  flags?: number
}

/** `rays` segments of together `watts` W, each drawn from random numbers of its own; dealt to the batches in turn. */
export function drawnSegments(
  { rays, watts, seed = 1 }: { rays: number; watts: number; seed?: number },
  draw: (u: () => number, ray: number) => DrawnSegment,
): Segments {
  const random = seededRandom(seed * 7907)
  const out = makeSegments(rays, watts / rays)
  for (let i = 0; i < rays; i++) {
    const { from, towards, lengthMm = 3000, weight = 1, flags = 0 } = draw(random, i)
    const length = Math.hypot(...towards)
    out.xMm[i] = from[0]
    out.yMm[i] = from[1]
    out.zMm[i] = from[2]
    out.dx[i] = towards[0] / length
    out.dy[i] = towards[1] / length
    out.dz[i] = towards[2] / length
    out.lengthMm[i] = lengthMm
    out.watts[i] = (weight * watts) / rays
    out.wavelengthNm[i] = 550
    out.flags[i] = flags
    out.batch[i] = i % BATCHES
  }
  return out
}

/** Even over a disc of this radius about the origin of two axes. */
export function evenDisc(u: () => number, radius: number): [number, number] {
  const r = radius * Math.sqrt(u())
  const turn = 2 * Math.PI * u()
  return [r * Math.cos(turn), r * Math.sin(turn)]
}

export interface ListedSegment extends DrawnSegment {
  watts?: number
  batch?: number
}

/** These segments, 1 W each and dealt to the batches in turn unless they say otherwise. */
export function listedSegments(list: readonly ListedSegment[], wattsOfOne = 0): Segments {
  const out = drawnSegments({ rays: list.length, watts: list.length }, (_u, i) => list[i] as ListedSegment)
  for (const [i, { watts = 1, batch = i % BATCHES }] of list.entries()) {
    out.watts[i] = watts
    out.batch[i] = batch
  }
  return { ...out, wattsOfOne }
}

export interface ListedRay {
  /** Where it crosses the columns' plane. */
  at: readonly [number, number]
  slope?: readonly [number, number]
  watts?: number
  batch?: number
}

/** Rays across the plane z = zMm, 1 W and 300 lm each and dealt to the batches in turn unless they say otherwise. */
export function listedColumns(list: readonly ListedRay[], { zMm = 0, wattsOfOne = 1 } = {}): RayColumns {
  const column = (of: (ray: ListedRay) => number) => Float32Array.from(list, of)
  return {
    count: list.length,
    zMm,
    xMm: column((r) => r.at[0]),
    yMm: column((r) => r.at[1]),
    slopeX: column((r) => r.slope?.[0] ?? 0),
    slopeY: column((r) => r.slope?.[1] ?? 0),
    watts: column((r) => r.watts ?? 1),
    lumens: column((r) => 300 * (r.watts ?? 1)),
    batch: Uint8Array.from(list, (r, i) => r.batch ?? i % BATCHES),
    wattsOfOne,
  }
}
