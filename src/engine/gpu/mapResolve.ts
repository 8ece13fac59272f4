// The pass that makes a chunk's maps ready to be read back.

import mapResolve from '../../../shaders/kernels/mapResolve.wgsl?raw'
import type { TallyLayout } from '../../run/layout.ts'
import { BATCHES } from '../../run/types.ts'

const LANES = 128
const made = new WeakMap<GPUDevice, Promise<GPUComputePipeline>>()

/** One for every lamp. */
export function mapResolvePipeline(device: GPUDevice): Promise<GPUComputePipeline> {
  let pipeline = made.get(device)
  if (!pipeline) {
    const module = device.createShaderModule({ label: 'map resolve', code: mapResolve })
    const compute = { module, entryPoint: 'mapResolve' }
    pipeline = device.createComputePipelineAsync({ label: 'map resolve', layout: 'auto', compute })
    made.set(device, pipeline)
  }
  return pipeline
}

/** The uniform that it reads. */
export const mapResolveUniform = ({ size, windowLm, lensW }: TallyLayout): Uint32Array<ArrayBuffer> =>
  Uint32Array.of(size, windowLm, lensW, 0)

/** Numbers of one batch's maps. */
export const mapNumbers = ({ size, windowLm }: TallyLayout): number => size - windowLm

export function encodeMapResolve(
  encoder: GPUCommandEncoder,
  pipeline: GPUComputePipeline,
  group: GPUBindGroup,
  layout: TallyLayout,
): void {
  const pass = encoder.beginComputePass()
  pass.setPipeline(pipeline)
  pass.setBindGroup(0, group)
  pass.dispatchWorkgroups(Math.ceil(mapNumbers(layout) / LANES), BATCHES)
  pass.end()
}
