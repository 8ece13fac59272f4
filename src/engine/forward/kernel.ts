// The reference engine: one ray from emission to its end, and the loop over a chunk of a batch. Nothing is allocated per ray.

import { passCup } from '../../optics/cup.ts'
import { drawAt, SOBOL_DIMENSIONS, seedStream } from '../../optics/draws.ts'
import { chooseWavelength, leaveEmitter, whichEmitter } from '../../optics/emission.ts'
import { leaveFrame } from '../../optics/emitterFrame.ts'
import * as E from '../../optics/emitterRow.ts'
import * as Draw from '../../optics/firstDraws.ts'
import * as FRAME from '../../optics/frameRow.ts'
import * as KIND from '../../optics/kindRow.ts'
import * as P from '../../optics/params.ts'
import { BY_RAYS, leaveByRay, takeWavelength } from '../../optics/rayTable.ts'
import {
  DX,
  DY,
  DZ,
  ENTERED,
  LOSS,
  RAY_SIZE,
  RETURNED,
  RISER,
  STEPS,
  W,
  WAVELENGTH,
  X,
  Y,
  Z,
} from '../../optics/records.ts'
import { scrambleOf } from '../../optics/scrambles.ts'
import { sobolAt, sobolStep, sobolUnits } from '../../optics/sobol.ts'
import { type TallyLayout, tallyLayout } from '../../run/layout.ts'
import { BATCHES, type TallyShape } from '../../run/types.ts'
import type { Scene } from '../../scene/scene.ts'
import { makeAssembledWalk } from './assembledWalk.ts'
import { makeRecorder, type Recorder } from './recorder.ts'
import { buffersOf, type ChunkBuffers, type SparseTally, takeSparse, wordsFor } from './sparseTally.ts'
import { makeTally, type Tally } from './tally.ts'
import { makeWalk, type Trail } from './walk.ts'
import { fate } from './zones.ts'

export interface KernelOptions {
  seed: number
  plainRandom: boolean
  /** Rays with an index below this leave a record. */
  exitsBelow: number
}

export interface Kernel {
  /**
   * Trace indices [from, to) of a batch, adding to `sums` (the tally up to its maps) and `maps` (the rest); gives the exit records made,
   * EXIT_STRIDE floats each.
   */
  traceSplit(batch: number, from: number, to: number, sums: Float64Array, maps: Float32Array): Float32Array
  /** The same of few rays, added to nothing; put into `room`, where it is large enough. */
  traceSparse(batch: number, from: number, to: number, room?: ArrayBuffer | null): SparseTally
  /** As traceSplit, adding to one whole tally. */
  trace(batch: number, from: number, to: number, into: Float64Array): Float32Array
  /** As traceSparse; gives the segments of these rays in air, SEGMENT_STRIDE floats each (run/segments.ts), in place of exit records. */
  recordSparse(batch: number, from: number, to: number): SparseTally
  /** The same rays again, with their corners. */
  retrace(batch: number, index: number, trail: Trail): void
}

const isDelivered = (line: number): boolean => line === fate.delivered || line === fate.deliveredViaRiser

/** `ray`: where the ray in flight is stored. Tests store it in single precision, to see what that does to it. */
export function makeKernel(
  scene: Scene,
  shape: TallyShape,
  options: KernelOptions,
  ray: Float64Array = new Float64Array(RAY_SIZE),
): Kernel {
  const { params: p, emitters, frames, kinds, profiles, quantiles, lensIndex, lumPerWatt } = scene
  const count = p[P.emitters]!
  const zOut = p[P.zOut]!
  const sun = p[P.source]! > 0
  const framed = frames.length > 0

  const stream = new Int32Array(3)
  const point = new Int32Array(SOBOL_DIMENSIONS)
  const first = new Float64Array(SOBOL_DIMENSIONS)
  const tally = makeTally(shape)
  const layout = tallyLayout(shape)
  let recorder: Recorder | null = null
  const walk = scene.assembly ? makeAssembledWalk(scene, scene.assembly, ray, stream) : makeWalk(scene, ray, stream)
  const { endAt, follow } = walk
  let emitterNow = 0
  let kindNow = 0
  let batchNow = 0

  /** Start a ray; false when it ends at once. */
  function emitRay(t: Tally): number {
    ray[W] = 1
    ray[RISER] = 0
    ray[STEPS] = 0
    ray[RETURNED] = 0
    ray[ENTERED] = 0
    if (sun) {
      emitterNow = 0
      walk.leaveSun(first)
      chooseWavelength(ray, first, quantiles, 0, lensIndex, lumPerWatt)
      t.emit(ray)
      return walk.beginSun(t)
    }
    emitterNow = whichEmitter(first[Draw.whichEmitter]!, emitters, count)
    const at = emitterNow * E.size
    kindNow = emitters[at + E.kind]! * KIND.size
    const byRays = kinds[kindNow + KIND.profile] === BY_RAYS
    if (byRays) leaveByRay(ray, emitters, at, kinds, kindNow, profiles, first, batchNow)
    else leaveEmitter(ray, emitters, at, kinds, profiles, first)
    if (byRays && ray[WAVELENGTH]! > 0) takeWavelength(ray, lensIndex, lumPerWatt)
    else chooseWavelength(ray, first, quantiles, kinds[kindNow + KIND.spectrumAt]!, lensIndex, lumPerWatt)
    t.emit(ray)
    const passes = kinds[kindNow + KIND.efficiency]!
    if (passes < 1) {
      ray[LOSS] = 1 - passes
      t.book(ray, fate.opticLoss)
      ray[W] = passes
    }
    if (kinds[kindNow + KIND.optic]! > 0) {
      const before = ray[W]!
      const cos = emitters[at + E.cos]!
      const sin = emitters[at + E.sin]!
      const sx = kinds[kindNow + KIND.cupX]!
      const sy = kinds[kindNow + KIND.cupY]!
      const cx = emitters[at + E.x]! - (cos * sx - sin * sy)
      const cy = emitters[at + E.y]! - (sin * sx + cos * sy)
      const zFocus = kinds[kindNow + KIND.z]! - kinds[kindNow + KIND.cupZ]!
      const through = passCup(ray, kinds, kindNow, cx, cy, zFocus)
      if (!through) ray[W] = 0
      ray[LOSS] = before - ray[W]!
      t.book(ray, fate.opticLoss)
      if (!through) return endAt(t, fate.opticLoss)
    }
    // A tilted emitter may shine down onto the face, or stand under it; a single ray may start there.
    if (framed) leaveFrame(ray, frames, emitterNow * FRAME.size)
    if ((framed || byRays) && ray[Z]! < 0) return endAt(t, fate.blocked)
    return walk.begin(t)
  }

  let numbers: Int32Array = new Int32Array(0)
  let numbersOf = -1
  function numbersFor(batch: number): Int32Array {
    if (numbersOf !== batch) {
      numbers = scrambleOf(options.seed, batch)
      numbersOf = batch
    }
    return numbers
  }

  function start(t: Tally, batch: number, index: number): number {
    batchNow = batch
    seedStream(stream, options.seed, batch, index)
    if (options.plainRandom) for (let d = 0; d < SOBOL_DIMENSIONS; d++) first[d] = drawAt(stream, d)
    else sobolUnits(first, point)
    return emitRay(t)
  }

  /** The exit records stay until the next chunk of any kernel. */
  function traceInto(buffers: ChunkBuffers, batch: number, from: number, to: number): Float32Array {
    const nums = numbersFor(batch)
    tally.begin(buffers)
    for (let j = from; j < to; j++) {
      if (j === from) sobolAt(point, nums, j)
      else sobolStep(point, nums, j)
      tally.record = j * BATCHES + batch < options.exitsBelow && !sun
      tally.recordEntry = j * BATCHES + batch < options.exitsBelow && sun
      follow(tally, start(tally, batch, j), null)
    }
    return tally.exits()
  }

  return {
    traceSplit(batch, from, to, sums, maps) {
      const { touched } = unread(layout)
      return traceInto({ sums, maps, touched }, batch, from, to).slice()
    },
    traceSparse(batch, from, to, room) {
      const buffers = buffersOf(layout)
      return takeSparse(buffers, traceInto(buffers, batch, from, to), room)
    },
    trace(...rays) {
      return traceWhole(this, layout, rays)
    },
    recordSparse(batch, from, to) {
      const buffers = buffersOf(layout)
      tally.begin(buffers)
      tally.record = false
      tally.recordEntry = false
      recorder ??= makeRecorder(ray)
      const nums = numbersFor(batch)
      for (let j = from; j < to; j++) {
        if (j === from) sobolAt(point, nums, j)
        else sobolStep(point, nums, j)
        follow(tally, start(tally, batch, j), recorder)
        if (walk.lastEscape() > 0)
          recorder.goesOn(ray[X]!, ray[Y]!, ray[Z]!, walk.lastEscape(), !isDelivered(walk.lastFate()))
        recorder.end(walk.lastFate(), emitterNow)
      }
      return takeSparse(buffers, recorder.take())
    },
    retrace(batch, index, trail) {
      tally.begin(unread(layout))
      tally.record = false
      tally.recordEntry = false
      sobolAt(point, numbersFor(batch), index)
      const zone = start(tally, batch, index)
      follow(tally, zone, trail)
      if (isDelivered(walk.lastFate())) {
        const reach = 0.35 * Math.max(200, p[P.lensBack]!, zOut)
        const s = reach / Math.max(ray[DZ]!, 0.05)
        trail.point(ray[X]! + s * ray[DX]!, ray[Y]! + s * ray[DY]!, ray[Z]! + s * ray[DZ]!, false)
      }
      trail.end(walk.lastFate(), emitterNow)
    },
  }
}

/** By a kernel that adds to sums and maps, into one whole tally. */
export function traceWhole(
  kernel: Pick<Kernel, 'traceSplit'>,
  { windowLm, size }: TallyLayout,
  [batch, from, to, into]: Parameters<Kernel['trace']>,
): Float32Array {
  const maps = new Float32Array(size - windowLm)
  const exits = kernel.traceSplit(batch, from, to, into, maps)
  for (const [i, more] of maps.entries()) into[windowLm + i]! += more
  return exits
}

let nobodys: ChunkBuffers = { sums: new Float64Array(0), maps: new Float32Array(0), touched: new Uint32Array(0) }

/** For what is written and never read; shared by all kernels, so that none leaves arrays to be collected. */
function unread({ windowLm, size }: TallyLayout): ChunkBuffers {
  const cells = size - windowLm
  if (nobodys.sums.length < windowLm || nobodys.maps.length < cells)
    nobodys = {
      sums: new Float64Array(windowLm),
      maps: new Float32Array(cells),
      touched: new Uint32Array(wordsFor(cells)),
    }
  return nobodys
}
