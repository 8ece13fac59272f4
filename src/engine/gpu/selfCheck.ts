// Before a device is trusted: a few rays on both engines. A wrong driver must not give wrong beams.
import * as P from '../../optics/params.ts'
import { BATCHES, EXIT_STRIDE, FATES, type TallyShape } from '../../run/types.ts'
import type { Scene } from '../../scene/scene.ts'
import { type KernelOptions, makeKernel } from '../forward/kernel.ts'
import { RECORD_FATE, RECORD_FLOATS } from './readBack.ts'

/** Of a hundred rays so many may differ: near an edge, single precision may fall on its other side. */
const DIFFERENT_MOST = 0.01
const DIRECTION_TO = 1e-3
const CLOSES_TO = 1e-9

interface Probe {
  partials: readonly { sums: Float64Array }[]
  records: Float32Array
}

/** Null when both engines agree; else what they differ in. */
export function agrees(scene: Scene, shape: TallyShape, options: KernelOptions, probe: Probe): string | null {
  const { records } = probe
  const rays = records.length / RECORD_FLOATS / BATCHES
  const ends = cpuEnds(scene, shape, options, rays)
  let fates = 0
  let directions = 0
  for (let i = 0; i < rays * BATCHES; i++) {
    const at = i * RECORD_FLOATS
    if (!(records[at + 8]! > 0)) return `ray ${i} left no record`
    const same = records[at + RECORD_FATE] === ends.fate[i]
    if (!same) fates++
    const exit = ends.exit[i]
    if (!same || !exit) continue
    const off = Math.hypot(records[at + 3]! - exit[3]!, records[at + 4]! - exit[4]!, records[at + 5]! - exit[5]!)
    if (!(off < DIRECTION_TO)) directions++
  }
  const most = DIFFERENT_MOST * rays * BATCHES
  if (fates > most) return `${fates} of ${rays * BATCHES} rays end otherwise than on the processor`
  if (directions > most) return `${directions} of ${rays * BATCHES} rays leave another way than on the processor`
  for (const { sums } of probe.partials) {
    let ends = 0
    for (let f = 0; f < FATES.length; f++) ends += sums[f]!
    if (!(Math.abs(ends / rays - 1) < CLOSES_TO)) return `its ledger closes to ${ends / rays}`
  }
  return null
}

function cpuEnds(scene: Scene, shape: TallyShape, options: KernelOptions, rays: number) {
  const kernel = makeKernel(scene, shape, { ...options, exitsBelow: rays * BATCHES })
  const fate = new Uint8Array(rays * BATCHES)
  // In sunlight the kernel keeps rays as they come in; what leaves again has no record there.
  const sun = scene.params[P.source]! > 0
  const exit: (Float32Array | undefined)[] = []
  for (let batch = 0; batch < BATCHES; batch++) {
    const sums = new Float64Array(4096)
    const maps = new Float32Array(1)
    const exits = kernel.traceSplit(batch, 0, rays, sums, maps)
    let at = 0
    for (let i = 0; i < rays; i++) {
      const id = i * BATCHES + batch
      kernel.retrace(batch, i, {
        point() {},
        stops: () => false,
        end: (f) => {
          fate[id] = f
        },
      })
      const leaves = fate[id] === FATES.indexOf('delivered') || fate[id] === FATES.indexOf('deliveredViaRiser')
      if (!leaves || sun) continue
      exit[id] = exits.subarray(at, at + EXIT_STRIDE)
      at += EXIT_STRIDE
    }
  }
  return { fate, exit }
}
