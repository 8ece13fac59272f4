// The reference kernel with its straight way in WebAssembly, where the scene allows it: the same bits, half as fast again.

import { SOBOL_DIMENSIONS } from '../../../optics/draws.ts'
import * as KIND from '../../../optics/kindRow.ts'
import * as P from '../../../optics/params.ts'
import { scrambleOf } from '../../../optics/scrambles.ts'
import { sobolAt } from '../../../optics/sobol.ts'
import { tallyLayout } from '../../../run/layout.ts'
import { BATCHES, EXIT_STRIDE, type TallyShape } from '../../../run/types.ts'
import type { Scene } from '../../../scene/scene.ts'
import { type Kernel, type KernelOptions, makeKernel } from '../kernel.ts'
import { makeRoom, type WasmInstance, wasmInstance } from './instance.ts'
import { BINS_AT, binCounts, binNumbers, COUNTS_AT, PARAMS_AT, POINT_AT, TABLES_AT } from './slots.ts'

/** KIND.profile of a map by direction. */
const BY_MAP = 2
/** Rays of one call: their exit records have to find room. */
const CALL = 4096

export function fastKernel(scene: Scene, shape: TallyShape, options: KernelOptions): Kernel {
  const kernel = makeKernel(scene, shape, options)
  const machine = fits(scene, options) ? wasmInstance() : null
  return machine ? { ...kernel, traceSplit: straightWay(machine, scene, shape, options) } : kernel
}

/** A plain lamp, emitters on the face that look along the axis, without cups, whose profiles are round or single rays, and the low-discrepancy sequence. */
function fits({ params, frames, kinds, assembly }: Scene, { plainRandom }: KernelOptions): boolean {
  if (assembly || plainRandom || params[P.source]! > 0 || frames.length > 0) return false
  for (let at = 0; at + KIND.size <= kinds.length; at += KIND.size)
    if (kinds[at + KIND.optic]! > 0 || kinds[at + KIND.profile]! === BY_MAP) return false
  return true
}

function straightWay(
  machine: WasmInstance,
  scene: Scene,
  shape: TallyShape,
  { seed, exitsBelow }: KernelOptions,
): Kernel['traceSplit'] {
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

  function moveIn(): void {
    if (machine.user === me) return
    makeRoom(machine, room.bytes)
    const { buffer } = machine.memory
    new Float32Array(buffer, PARAMS_AT, params.length).set(params)
    new Float64Array(buffer, BINS_AT).set(Object.values(binNumbers(shape, params[P.lensPitch]!)))
    new Int32Array(buffer, COUNTS_AT).set(Object.values(binCounts(shape, layout)))
    for (const [i, table] of tables.entries()) new Float32Array(buffer, room.starts[i], table.length).set(table)
    machine.place(...room.starts)
    machine.scene = scene
    machine.user = me
  }

  return (batch, from, to, sums, maps) => {
    moveIn()
    const { buffer } = machine.memory
    const inSums = new Float64Array(buffer, sumsAt, sums.length)
    const inMaps = new Float32Array(buffer, mapsAt, maps.length)
    const numbers = scrambleOf(seed, batch)
    inSums.set(sums)
    inMaps.set(maps)
    new Int32Array(buffer, numbersAt, numbers.length).set(numbers)
    const parts: Float32Array[] = []
    for (let at = from; at < to; at += CALL) {
      sobolAt(point, numbers, at)
      new Int32Array(buffer, POINT_AT, point.length).set(point)
      const recordBelow = Math.max(0, Math.ceil((exitsBelow - batch) / BATCHES))
      const bytes = machine.trace(seed, batch, at, Math.min(to, at + CALL), Math.min(recordBelow, 0x7fffffff))
      if (bytes > 0) parts.push(new Float32Array(buffer, exitsAt, bytes / 4).slice())
    }
    sums.set(inSums)
    maps.set(inMaps)
    return parts.length === 1 ? parts[0]! : joined(parts)
  }
}

/** One after another from TABLES_AT, each on a line of its own. */
function planRoom(sizes: readonly number[]): { starts: number[]; bytes: number } {
  let at = TABLES_AT
  const starts = sizes.map((size) => {
    const start = at
    at += Math.ceil(size / 64) * 64
    return start
  })
  return { starts, bytes: at }
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
