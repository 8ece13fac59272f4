// The reference kernel with its straight way in WebAssembly, where the scene allows it: the same bits, half as fast again.

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
import { type Kernel, type KernelOptions, makeKernel } from '../kernel.ts'
import { takeSparse } from '../sparseTally.ts'
import { type WasmInstance, wasmInstance } from './instance.ts'
import { BINS_AT, binCounts, binNumbers, COUNTS_AT } from './slots.ts'

/** KIND.profile of a map by direction. */
const BY_MAP = 2
/** Rays of one call: their exit records have to find room. */
const CALL = 4096

export function fastKernel(scene: Scene, shape: TallyShape, options: KernelOptions): Kernel {
  const kernel = makeKernel(scene, shape, options)
  const machine = fits(scene, options) ? wasmInstance() : null
  return machine ? { ...kernel, ...straightWay(machine, scene, shape, options) } : kernel
}

/** A plain lamp, emitters on the face that look along the axis, without cups, whose profiles are round or single rays, and the low-discrepancy sequence. */
function fits({ params, frames, kinds, assembly }: Scene, { plainRandom }: KernelOptions): boolean {
  if (assembly || plainRandom || params[P.source]! > 0 || frames.length > 0 || params[P.sides]! > SIDES_MOST)
    return false
  for (let at = 0; at + KIND.size <= kinds.length; at += KIND.size)
    if (kinds[at + KIND.optic]! > 0 || kinds[at + KIND.profile]! === BY_MAP) return false
  return true
}

function straightWay(
  machine: WasmInstance,
  scene: Scene,
  shape: TallyShape,
  { seed, exitsBelow }: KernelOptions,
): Pick<Kernel, 'traceSplit' | 'traceSparse'> {
  const layout = tallyLayout(shape)
  const { params, emitters, kinds, profiles, quantiles, lensIndex, lumPerWatt, rings, faceCorners } = scene
  const tables = [emitters, kinds, profiles, quantiles, lensIndex, lumPerWatt, rings, faceCorners]
  const room = planRoom([
    ...tables.map((t) => t.byteLength),
    8 * layout.windowLm,
    4 * (layout.size - layout.windowLm),
    4 * EXIT_STRIDE * CALL,
    4 * 33 * SOBOL_DIMENSIONS,
  ])
  const [sumsAt, mapsAt, exitsAt, numbersAt] = room.starts.slice(tables.length) as [number, number, number, number]
  const point = new Int32Array(SOBOL_DIMENSIONS)
  const me = {}
  /** The maps in the memory are zeros. */
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
    machine.scene = scene
    machine.user = me
    clean = false
  }

  /** Adds to the sums and maps in the memory; gives the exit records of each call. */
  function traceInside(batch: number, from: number, to: number): Float32Array[] {
    const { buffer } = machine.memory
    const numbers = scrambleOf(seed, batch)
    new Int32Array(buffer, numbersAt, numbers.length).set(numbers)
    const parts: Float32Array[] = []
    for (let at = from; at < to; at += CALL) {
      sobolAt(point, numbers, at)
      new Int32Array(buffer, POINT_AT, point.length).set(point)
      const recordBelow = Math.max(0, Math.ceil((exitsBelow - batch) / BATCHES))
      const bytes = machine.trace(seed, batch, at, Math.min(to, at + CALL), Math.min(recordBelow, 0x7fffffff))
      if (bytes > 0) parts.push(new Float32Array(buffer, exitsAt, bytes / 4).slice())
    }
    return parts
  }

  const sumsInside = () => new Float64Array(machine.memory.buffer, sumsAt, layout.windowLm)
  const mapsInside = () => new Float32Array(machine.memory.buffer, mapsAt, layout.size - layout.windowLm)
  return {
    traceSplit(batch, from, to, sums, maps) {
      moveIn()
      clean = false
      sumsInside().set(sums.subarray(0, layout.windowLm)) // of a whole tally the first part
      mapsInside().set(maps)
      const parts = traceInside(batch, from, to)
      sums.set(sumsInside())
      maps.set(mapsInside())
      return parts.length === 1 ? parts[0]! : joined(parts)
    },
    traceSparse(batch, from, to) {
      moveIn()
      if (!clean) mapsInside().fill(0)
      clean = false
      sumsInside().fill(0)
      const parts = traceInside(batch, from, to)
      const tally = takeSparse(sumsInside(), mapsInside(), parts.length === 1 ? parts[0]! : joined(parts))
      clean = true
      return tally
    },
  }
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
