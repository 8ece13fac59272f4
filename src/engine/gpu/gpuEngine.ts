// The GPU engine: the same rays as the CPU's, the whole model, tallied in the same layout. It traces nothing before it has agreed with the
// CPU on a small run.
import * as P from '../../optics/params.ts'
import * as RING from '../../optics/ringRow.ts'
import { tallyLayout } from '../../run/layout.ts'
import { BATCHES, type TallyShape } from '../../run/types.ts'
import type { Scene } from '../../scene/scene.ts'
import { MOST_ELEMENTS, MOST_STRETCHES, ringsOf } from './assemblyTables.ts'
import { type Machine, messageOf } from './device.ts'
import { makeForwardTracer } from './forwardTracer.ts'
import { mapResolvePipeline } from './mapResolve.ts'
import { gatheredBytes, pipelineFor } from './pipeline.ts'
import { agrees } from './selfCheck.ts'
import type { GpuOptions, GpuTracer } from './types.ts'

export type Prepared = { ok: true; gpuTracer: GpuTracer } | { ok: false; why: string }

const CHECK_RAYS = 2048
/** The bins of a run leave room for the ledger of about so many in the least memory that a device may have (16 KiB a workgroup). */
const MANY_STRETCHES = 100

/** What this engine can't trace; empty when it can trace all of it. */
export function unsupported(scene: Scene, shape: TallyShape, limits: GPUSupportedLimits): string[] {
  const found: string[] = []
  if (scene.params[P.emitters]! >= 1 << 19) found.push('more than half a million emitters')
  if (ringsOf(scene).length / RING.size >= 1 << 16) found.push('more than 65\u202f535 grooves')
  if (scene.boards.length > 0 && scene.assembly)
    found.push('boards that stop light (tilted by more than 10°) in such a lamp')
  if (scene.params[P.source] === 0 && scene.params[P.byRays] === 1)
    found.push('the single rays of an emitter’s ray file')
  if ((shape.parts?.elements ?? 0) > MOST_ELEMENTS) found.push('so many elements')
  if ((shape.parts?.stretches ?? 0) > MOST_STRETCHES) found.push('so many stretches of a tunnel')
  const layout = tallyLayout(shape)
  if (gatheredBytes(layout) > limits.maxComputeWorkgroupStorageSize)
    found.push(
      (shape.parts?.stretches ?? 0) > MANY_STRETCHES ? 'so many stretches of a tunnel' : 'so many profile bins',
    )
  if (8 * layout.size * BATCHES > limits.maxStorageBufferBindingSize) found.push('maps so large')
  return found
}

interface Checked {
  trace: GPUComputePipeline
  mapResolve: GPUComputePipeline
  /** What the check found amiss; null when both engines agreed. */
  fault: string | null
}
/**
 * By make of lamp (of which each has one pipeline): once it has agreed with the processor, the shader that stands in the driver is right. An
 * edit that only changes numbers is not checked again; the ledger of every chunk is.
 */
const checked = new WeakMap<Promise<GPUComputePipeline>, Checked>()

export async function prepare(
  machine: Machine,
  scene: Scene,
  shape: TallyShape,
  options: GpuOptions,
): Promise<Prepared> {
  const missing = unsupported(scene, shape, machine.device.limits)
  if (missing.length > 0) return { ok: false, why: `the graphics engine does not trace ${missing.join(', ')}` }
  if (machine.lost()) return { ok: false, why: machine.lost()! }
  try {
    const { device } = machine
    const key = pipelineFor(device, scene, shape, options.plainRandom)
    const [trace, mapResolve] = await Promise.all([key, mapResolvePipeline(device)])
    let make = checked.get(key)
    const gpuTracer = makeForwardTracer(machine, make ?? { trace, mapResolve }, scene, shape, options)
    if (!make) {
      const fault = agrees(scene, shape, options, await gpuTracer.probe(0, CHECK_RAYS / BATCHES))
      make = { trace, mapResolve, fault }
      checked.set(key, make)
    }
    if (make.fault === null) return { ok: true, gpuTracer }
    gpuTracer.close()
    return { ok: false, why: `the graphics device failed its check: ${make.fault}` }
  } catch (error) {
    return { ok: false, why: machine.lost() ?? `the graphics device failed: ${messageOf(error)}` }
  }
}

/** The same without waiting, for a make of lamp that has been traced before; null for others. */
export function prepareSync(machine: Machine, scene: Scene, shape: TallyShape, options: GpuOptions): GpuTracer | null {
  if (machine.lost() || unsupported(scene, shape, machine.device.limits).length > 0) return null
  const key = pipelineFor(machine.device, scene, shape, options.plainRandom)
  key.catch(() => {}) // reported by `prepare`
  const make = checked.get(key)
  return make && make.fault === null ? makeForwardTracer(machine, make, scene, shape, options) : null
}
