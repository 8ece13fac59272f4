// The same rays on both engines, ray by ray.

import { makeKernel } from '../../src/engine/forward/kernel.ts'
import type { Machine } from '../../src/engine/gpu/device.ts'
import { openNodeDevice } from '../../src/engine/gpu/deviceNode.ts'
import { prepare } from '../../src/engine/gpu/gpuEngine.ts'
import { RECORD_FATE, RECORD_FLOATS } from '../../src/engine/gpu/readBack.ts'
import type { GpuTracer } from '../../src/engine/gpu/types.ts'
import * as P from '../../src/optics/params.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import { BATCHES, EXIT_STRIDE, FATES, type TallyShape } from '../../src/run/types.ts'
import type { Scene } from '../../src/scene/scene.ts'
import { amount } from '../kit/amount.ts'
import { seeds } from '../kit/expect.ts'
import { CAUSES, type Cause, makeCauses, POSITION_MM } from './causes.ts'

/** How far two ways of the same ray may be apart in single precision. */
export const DIRECTION = 1e-4
export const WEIGHT = 1e-4

export type Difference = 'fate' | 'position' | 'direction' | 'weight'

export interface Compared {
  rays: number
  differs: Record<Difference, number>
  /** Any of them. */
  other: number
  /** What the others come from. */
  causes: Record<Cause, number>
  worst: { ray: number; of: Difference; cause: Cause; cpu: number[]; gpu: number[] }[]
  gpuTracer: GpuTracer
  sums: { cpu: Float64Array[]; gpu: Float64Array[] }
}

export async function compare(machine: Machine, scene: Scene, shape: TallyShape, perBatch: number): Promise<Compared> {
  const options = { seed: 7, plainRandom: false, exitsBelow: perBatch * BATCHES }
  const prepared = await prepare(machine, scene, shape, options)
  if (!prepared.ok) throw new Error(prepared.why)
  const { records, partials } = await prepared.gpuTracer.probe(0, perBatch)
  const kernel = makeKernel(scene, shape, options)
  const layout = tallyLayout(shape)
  const maps = new Float32Array(layout.size - layout.windowLm)
  const differs = { fate: 0, position: 0, direction: 0, weight: 0 }
  const worst: Compared['worst'] = []
  const causes = Object.fromEntries(CAUSES.map((cause) => [cause, 0])) as Record<Cause, number>
  const causeOf = makeCauses(scene, shape, options.seed)
  const sums = { cpu: [] as Float64Array[], gpu: partials.map((s) => s.sums) }
  let other = 0
  for (let batch = 0; batch < BATCHES; batch++) {
    const sum = new Float64Array(layout.windowLm)
    const exits = kernel.traceSplit(batch, 0, perBatch, sum, maps)
    sums.cpu.push(sum)
    let exit = 0
    for (let i = 0; i < perBatch; i++) {
      let fate = 0
      let last: number[] = []
      kernel.retrace(batch, i, {
        point: (x, y, z) => {
          last = [x, y, z]
        },
        stops: () => false,
        end: (f) => {
          fate = f
        },
      })
      let cpu = [...last]
      // In sunlight the processor keeps rays as they come in: of those that leave again it has a point far out on their way.
      if (scene.params[P.source]! > 0) exit = 0
      else if (fate === FATES.indexOf('delivered') || fate === FATES.indexOf('deliveredViaRiser')) {
        cpu = Array.from(exits.subarray(exit, exit + EXIT_STRIDE))
        exit += EXIT_STRIDE
      }
      const id = i * BATCHES + batch
      const at = id * RECORD_FLOATS
      const gpu = Array.from(records.subarray(at, at + RECORD_FLOATS))
      const of = difference(scene, fate, cpu, gpu)
      if (!of) continue
      other++
      differs[of]++
      const cause = causeOf(id)
      causes[cause]++
      if (worst.length < 12) worst.push({ ray: id, of, cause, cpu: [fate, ...cpu], gpu })
    }
  }
  return { rays: perBatch * BATCHES, differs, other, causes, worst, gpuTracer: prepared.gpuTracer, sums }
}

const RIM = FATES.indexOf('lensRim')
const RETURNED = FATES.indexOf('lensReturnedLost')

function difference(scene: Scene, fate: number, cpu: number[], gpu: number[]): Difference | null {
  if (gpu[RECORD_FATE] !== fate) return 'fate'
  // A ray that ends inside the lens is not moved to its end by the processor: it has no place.
  const p = scene.params
  const inLens = fate === RETURNED && gpu[2]! > p[P.lensFront]! - 1e-3 && gpu[2]! < p[P.lensBack]! + 1e-3
  if (fate !== RIM && !inLens) {
    const [off, along] = apart(cpu, gpu)
    const scale = Math.max(1, Math.hypot(cpu[0]!, cpu[1]!, cpu[2]!) / 100)
    if (off > POSITION_MM * scale + DIRECTION * along) return 'position'
  }
  if (cpu.length < EXIT_STRIDE) return null
  if (Math.hypot(cpu[3]! - gpu[3]!, cpu[4]! - gpu[4]!, cpu[5]! - gpu[5]!) > DIRECTION) return 'direction'
  return Math.abs(cpu[6]! - gpu[6]!) > WEIGHT ? 'weight' : null
}

/** How far apart the two places are, across and along the ray: light that falls on a plane at a grazing angle lands where the last bit says. */
export function apart(cpu: ArrayLike<number>, gpu: ArrayLike<number>): [number, number] {
  const d = [cpu[0]! - gpu[0]!, cpu[1]! - gpu[1]!, cpu[2]! - gpu[2]!]
  const along = d[0]! * gpu[3]! + d[1]! * gpu[4]! + d[2]! * gpu[5]!
  return [Math.hypot(d[0]! - along * gpu[3]!, d[1]! - along * gpu[4]!, d[2]! - along * gpu[5]!), Math.abs(along)]
}

/** Random lamps. For each make of lamp a device that the processor computes compiles for seconds: the usual ones are of few makes, with every kind of part. */
export const SEEDS = amount([3, 5, 7, 8, 10, 12, 13, 15, 17, 18, 19, 22, 23, 24, 25, 29, 32, 34, 35, 36], seeds(36))

/** The device that the tests run on. Without one they fail, in words. */
export async function testDevice(): Promise<Machine> {
  const opened = await openNodeDevice()
  if (!opened.ok)
    throw new Error(
      `Parity needs a device for WebGPU: ${opened.why}. Any Vulkan driver will do, or the software one that Chromium brings (npm run test:parity finds it).`,
    )
  return opened.machine
}
