// The kernel in WebAssembly where the scene allows it, else the reference: the same bits.

import { SOBOL_DIMENSIONS } from '../../../optics/draws.ts'
import * as KIND from '../../../optics/kindRow.ts'
import * as P from '../../../optics/params.ts'
import { scrambleOf } from '../../../optics/scrambles.ts'
import { sobolAt } from '../../../optics/sobol.ts'
import { makeRoom, planRoom } from '../../../optics/wasm/machine.ts'
import { PARAMS_AT, POINT_AT, SIDES_MOST } from '../../../optics/wasm/slots.ts'
import { tallyLayout } from '../../../run/layout.ts'
import { BATCHES, EXIT_STRIDE, type TallyShape } from '../../../run/types.ts'
import type { Scene } from '../../../scene/scene.ts'
import { type Kernel, type KernelOptions, makeKernel, traceWhole } from '../kernel.ts'
import { type SparseTally, takeSparse, wordsFor } from '../sparseTally.ts'
import { type WasmInstance, wasmInstance } from './instance.ts'
import { BINS_AT, binCounts, binNumbers, COUNTS_AT, NUMBERS_BYTES } from './slots.ts'

/** KIND.profile of a map by direction. */
const BY_MAP = 2
/** Rays of one call: their exit records have to find room. */
const CALL = 4096
/** For segments at the end of the memory; more is made when they need it. */
const SEGMENTS_BYTES = 1 << 19

export function fastKernel(scene: Scene, shape: TallyShape, options: KernelOptions): Kernel {
  const machine = fits(scene, options) ? wasmInstance() : null
  if (!machine) return makeKernel(scene, shape, options)
  let reference: Kernel | null = null
  return {
    ...straightWay(machine, scene, shape, options),
    retrace(...ray) {
      reference ??= makeKernel(scene, shape, options)
      reference.retrace(...ray)
    },
  }
}

/**
 * A plain lamp and the low-discrepancy sequence; its emitters on the face, looking along the axis, without cups, their profiles round or single rays,
 * unless the sun shines in their place.
 */
function fits({ params, frames, boards, kinds, assembly }: Scene, { plainRandom }: KernelOptions): boolean {
  if (assembly || plainRandom || boards.length > 0 || params[P.sides]! > SIDES_MOST) return false
  if (params[P.source]! > 0) return true
  if (frames.length > 0) return false
  for (let at = 0; at + KIND.size <= kinds.length; at += KIND.size)
    if (kinds[at + KIND.optic]! > 0 || kinds[at + KIND.profile]! === BY_MAP) return false
  return true
}

function straightWay(
  machine: WasmInstance,
  scene: Scene,
  shape: TallyShape,
  { seed, exitsBelow }: KernelOptions,
): Omit<Kernel, 'retrace'> {
  const layout = tallyLayout(shape)
  const { params, emitters, kinds, profiles, quantiles, lensIndex, lumPerWatt, rings, faceCorners } = scene
  const sources = params[P.source]! > 0 ? [NONE, NONE, NONE] : [emitters, kinds, profiles]
  const tables = [...sources, quantiles, lensIndex, lumPerWatt, rings, faceCorners]
  const room = planRoom([
    ...tables.map((t) => t.byteLength),
    8 * layout.windowLm,
    4 * (layout.size - layout.windowLm),
    4 * EXIT_STRIDE * CALL,
    NUMBERS_BYTES + 4 * wordsFor(layout.size - layout.windowLm),
    SEGMENTS_BYTES,
  ])
  const [sumsAt = 0, mapsAt = 0, exitsAt = 0, numbersAt = 0, segmentsAt = 0] = room.starts.slice(tables.length)
  const point = new Int32Array(SOBOL_DIMENSIONS)
  const me = {}
  /** The maps and bits in the memory are zeros. */
  let clean = false

  function moveIn(): void {
    if (machine.user === me) return
    makeRoom(machine, room.bytes)
    const { buffer } = machine.memory
    new Float32Array(buffer, PARAMS_AT, params.length).set(params)
    new Float64Array(buffer, BINS_AT).set(Object.values(binNumbers(shape)))
    new Int32Array(buffer, COUNTS_AT).set(Object.values(binCounts(shape, layout)))
    for (const [i, table] of tables.entries()) new Float32Array(buffer, room.starts[i], table.length).set(table)
    machine.place(...room.starts)
    machine.params = params
    machine.user = me
    clean = false
  }

  function moveNumbers(batch: number): Int32Array {
    const numbers = scrambleOf(seed, batch)
    new Int32Array(machine.memory.buffer, numbersAt, numbers.length).set(numbers)
    return numbers
  }

  function startAt(numbers: Int32Array, index: number): void {
    sobolAt(point, numbers, index)
    new Int32Array(machine.memory.buffer, POINT_AT, point.length).set(point)
  }

  /** Adds to the sums and maps in the memory; gives the exit records of each call, the last where they lie in the memory. */
  function traceInside(batch: number, from: number, to: number): Float32Array[] {
    const { buffer } = machine.memory
    const numbers = moveNumbers(batch)
    const parts: Float32Array[] = []
    for (let at = from; at < to; at += CALL) {
      startAt(numbers, at)
      const recordBelow = Math.max(0, Math.ceil((exitsBelow - batch) / BATCHES))
      const bytes = machine.trace(seed, batch, at, Math.min(to, at + CALL), Math.min(recordBelow, 0x7fffffff))
      const exits = new Float32Array(buffer, exitsAt, bytes / 4)
      if (bytes > 0) parts.push(at + CALL < to ? exits.slice() : exits)
    }
    return parts
  }

  /** As traceInside; gives the segments where they lie in the memory. */
  function recordInside(batch: number, from: number, to: number): Float32Array {
    const numbers = moveNumbers(batch)
    machine.startSegments()
    for (let at = from; at < to; ) {
      startAt(numbers, at)
      const end = machine.memory.buffer.byteLength
      at = machine.record(seed, batch, at, to, end)
      if (at < to) makeRoom(machine, end + (end - segmentsAt))
    }
    return new Float32Array(machine.memory.buffer, segmentsAt, machine.segmentBytes() / 4)
  }

  const sumsInside = () => new Float64Array(machine.memory.buffer, sumsAt, layout.windowLm)
  const mapsInside = () => new Float32Array(machine.memory.buffer, mapsAt, layout.size - layout.windowLm)
  const bitsInside = () =>
    new Uint32Array(machine.memory.buffer, numbersAt + NUMBERS_BYTES, wordsFor(layout.size - layout.windowLm))

  function sparse(traced: () => Float32Array, room: ArrayBuffer | null = null): SparseTally {
    moveIn()
    if (!clean) {
      mapsInside().fill(0)
      bitsInside().fill(0)
    }
    clean = false
    sumsInside().fill(0)
    const exits = traced()
    const tally = takeSparse({ sums: sumsInside(), maps: mapsInside(), touched: bitsInside() }, exits, room)
    clean = true
    return tally
  }

  return {
    traceSplit(batch, from, to, sums, maps) {
      moveIn()
      clean = false
      sumsInside().set(sums.subarray(0, layout.windowLm)) // of a whole tally the first part
      mapsInside().set(maps)
      const exits = joined(traceInside(batch, from, to))
      sums.set(sumsInside())
      maps.set(mapsInside())
      return exits
    },
    traceSparse: (batch, from, to, room) => sparse(() => exitsOf(traceInside(batch, from, to)), room),
    recordSparse: (batch, from, to) => sparse(() => recordInside(batch, from, to)),
    trace(...rays) {
      return traceWhole(this, layout, rays)
    },
  }
}

const NONE = new Float32Array(0)

function exitsOf(parts: readonly Float32Array[]): Float32Array {
  const [only] = parts
  return only && parts.length === 1 ? only : joined(parts)
}

function joined(parts: readonly Float32Array[]): Float32Array {
  const all = new Float32Array(parts.reduce((sum, p) => sum + p.length, 0))
  let at = 0
  for (const part of parts) {
    all.set(part, at)
    at += part.length
  }
  return all
}
