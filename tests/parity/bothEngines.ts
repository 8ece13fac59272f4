// The same rays on both engines, ray by ray.
import { makeKernel } from '../../src/engine/cpu/kernel.ts'
import type { Machine } from '../../src/engine/gpu/device.ts'
import { type Guest, prepare } from '../../src/engine/gpu/gpuEngine.ts'
import { RECORD_FATE, RECORD_FLOATS } from '../../src/engine/gpu/readBack.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import { BATCHES, EXIT_STRIDE, FATES, type TallyShape } from '../../src/run/types.ts'
import type { Scene } from '../../src/scene/scene.ts'

/** How far two ways of the same ray may be apart in single precision. */
export const POSITION_MM = 2e-3
export const DIRECTION = 1e-4
export const WEIGHT = 1e-4

export type Difference = 'fate' | 'position' | 'direction' | 'weight'

export interface Compared {
  rays: number
  differs: Record<Difference, number>
  /** Any of them. */
  other: number
  worst: { ray: number; of: Difference; cpu: number[]; gpu: number[] }[]
  /** Largest share of any line's difference, in watts emitted. */
  guest: Guest
  sums: { cpu: Float64Array[]; gpu: Float64Array[] }
}

export async function compare(machine: Machine, scene: Scene, shape: TallyShape, perBatch: number): Promise<Compared> {
  const options = { seed: 7, plainRandom: false, exitsBelow: perBatch * BATCHES }
  const prepared = await prepare(machine, scene, shape, options)
  if (!prepared.ok) throw new Error(prepared.why)
  const { records, shares } = await prepared.guest.probe(0, perBatch)
  const kernel = makeKernel(scene, shape, options)
  const layout = tallyLayout(shape)
  const maps = new Float32Array(layout.size - layout.windowLm)
  const differs = { fate: 0, position: 0, direction: 0, weight: 0 }
  const worst: Compared['worst'] = []
  const sums = { cpu: [] as Float64Array[], gpu: shares.map((s) => s.sums) }
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
      if (fate === FATES.indexOf('delivered') || fate === FATES.indexOf('deliveredViaRiser')) {
        cpu = Array.from(exits.subarray(exit, exit + EXIT_STRIDE))
        exit += EXIT_STRIDE
      }
      const id = i * BATCHES + batch
      const at = id * RECORD_FLOATS
      const gpu = Array.from(records.subarray(at, at + RECORD_FLOATS))
      const of = difference(fate, cpu, gpu)
      if (!of) continue
      other++
      differs[of]++
      if (worst.length < 12) worst.push({ ray: id, of, cpu: [fate, ...cpu], gpu })
    }
  }
  return { rays: perBatch * BATCHES, differs, other, worst, guest: prepared.guest, sums }
}

function difference(fate: number, cpu: number[], gpu: number[]): Difference | null {
  if (gpu[RECORD_FATE] !== fate) return 'fate'
  const scale = Math.max(1, Math.hypot(cpu[0]!, cpu[1]!, cpu[2]!) / 100)
  if (Math.hypot(cpu[0]! - gpu[0]!, cpu[1]! - gpu[1]!, cpu[2]! - gpu[2]!) > POSITION_MM * scale) return 'position'
  if (cpu.length < EXIT_STRIDE) return null
  if (Math.hypot(cpu[3]! - gpu[3]!, cpu[4]! - gpu[4]!, cpu[5]! - gpu[5]!) > DIRECTION) return 'direction'
  return Math.abs(cpu[6]! - gpu[6]!) > WEIGHT ? 'weight' : null
}
