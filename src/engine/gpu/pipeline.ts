// One pipeline for each make of lamp, made in the background and kept with its device.
import * as KIND from '../../optics/kindRow.ts'
import * as P from '../../optics/params.ts'
import { type TallyLayout, tallyLayout } from '../../run/layout.ts'
import type { TallyShape } from '../../run/types.ts'
import type { Scene } from '../../scene/scene.ts'
import { traceShader } from './shaderText.ts'

/**
 * Lanes of a workgroup: as many as the device was opened for (device.ts). The more there are, the fewer registers a driver gives to each and the
 * more of them wait for memory at the same time; `npm run bench -- gpu` has the figures.
 */
export const workgroupOf = (device: GPUDevice): number =>
  device.limits.maxComputeInvocationsPerWorkgroup >= 1024 ? 1024 : 256

/** New rays a lane begins in a turn, and the room that a workgroup's waiting rays then need, in rays a lane (shaders/kernels/waiting.wgsl). */
const BEGIN_ROUNDS = 4
const ROOM = BEGIN_ROUNDS + 2
const BYTES_WAITING = 64
/** Of the device's memory, for so many threads. */
export const waitingBytes = (threads: number): number => threads * (ROOM + 1) * BYTES_WAITING

/** Of a workgroup's own memory: the profile, eight copies of the ledger's lines, a batch's scrambled numbers. */
export const gatheredBytes = (layout: TallyLayout): number =>
  4 * (layout.profileRiserLm - layout.profileLm) + 4 * 8 * layout.profileLm + 16 * 66 + 64

interface Kept {
  /** By kind of lens. */
  modules: Map<number, GPUShaderModule>
  pipelines: Map<string, Promise<GPUComputePipeline>>
}
const kept = new WeakMap<GPUDevice, Kept>()

export function pipelineFor(
  device: GPUDevice,
  scene: Scene,
  shape: TallyShape,
  plainRandom: boolean,
): Promise<GPUComputePipeline> {
  let of = kept.get(device)
  if (!of) {
    of = { modules: new Map(), pipelines: new Map() }
    kept.set(device, of)
  }
  const constants = constantsOf(device, scene, shape, plainRandom)
  const key = Object.values(constants).join()
  let pipeline = of.pipelines.get(key)
  if (!pipeline) {
    const lens = scene.params[P.lensKind]!
    const module = of.modules.get(lens) ?? device.createShaderModule({ label: 'trace', code: traceShader(lens) })
    of.modules.set(lens, module)
    pipeline = device.createComputePipelineAsync({
      label: `trace ${key}`,
      layout: 'auto',
      compute: { module, entryPoint: 'main', constants },
    })
    of.pipelines.set(key, pipeline)
  }
  return pipeline
}

/** The numbers that the shader is made with. */
export function constantsOf(
  device: GPUDevice,
  scene: Scene,
  shape: TallyShape,
  plainRandom: boolean,
): Record<string, number> {
  const { params: p, kinds } = scene
  const layout = tallyLayout(shape)
  let cups = 0
  for (let at = 0; at < kinds.length; at += KIND.size) if (kinds[at + KIND.optic]! > 0) cups = 1
  return {
    LENS_KIND: p[P.lensKind]!,
    HAS_TUNNEL: p[P.hasTunnel]! > 0 ? 1 : 0,
    ROUND: p[P.sides] === 0 ? 1 : 0,
    SUN: p[P.source]! > 0 ? 1 : 0,
    CUPS: cups,
    PLAIN: plainRandom ? 1 : 0,
    WORKGROUP: workgroupOf(device),
    LINES: layout.profileLm,
    BINS: layout.profileRiserLm - layout.profileLm,
    BEGIN_ROUNDS,
    ROOM,
  }
}
