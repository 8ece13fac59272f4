// One pipeline for each make of lamp, made in the background and cached with its device.
import * as KIND from '../../optics/kindRow.ts'
import * as P from '../../optics/params.ts'
import { type TallyLayout, tallyLayout } from '../../run/layout.ts'
import type { TallyShape } from '../../run/types.ts'
import type { Scene } from '../../scene/scene.ts'
import { backwardShader, traceShader } from './shaderText.ts'

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

/** Of a workgroup's own memory: profile and target in two words, eight copies of the ledger's lines and their high words, a batch's scrambled numbers. */
export const gatheredBytes = (layout: TallyLayout): number =>
  8 * (layout.profileRiserLm - layout.profileLm) + 4 * 9 * layout.profileLm + 16 * 66 + 64

interface PipelineCache {
  /** By what is traced and kind of lens. */
  modules: Map<string, GPUShaderModule>
  pipelines: Map<string, Promise<GPUComputePipeline>>
}
const caches = new WeakMap<GPUDevice, PipelineCache>()

export function pipelineFor(
  device: GPUDevice,
  scene: Scene,
  shape: TallyShape,
  plainRandom: boolean,
): Promise<GPUComputePipeline> {
  const constants = constantsOf(device, scene, shape, plainRandom)
  return cachedPipeline(device, 'trace', scene.params[P.lensKind]!, traceShader, constants)
}

/** The same of the backward tracer. */
export function backwardPipelineFor(device: GPUDevice, scene: Scene): Promise<GPUComputePipeline> {
  const constants = { ...makeOf(scene), BACK: 1, WORKGROUP: BACKWARD_LANES }
  return cachedPipeline(device, 'backward', scene.params[P.lensKind]!, backwardShader, constants)
}

/** A backward estimate takes little time: small workgroups, so that a few rays lie on all of a device. */
export const BACKWARD_LANES = 64

function cachedPipeline(
  device: GPUDevice,
  label: string,
  lensKind: number,
  shader: (lensKind: number) => string,
  constants: Record<string, number>,
): Promise<GPUComputePipeline> {
  const of = caches.get(device) ?? { modules: new Map(), pipelines: new Map() }
  caches.set(device, of)
  const key = `${label} ${Object.values(constants).join()}`
  let pipeline = of.pipelines.get(key)
  if (!pipeline) {
    const which = `${label} ${lensKind}`
    const module = of.modules.get(which) ?? device.createShaderModule({ label, code: shader(lensKind) })
    of.modules.set(which, module)
    const compute = { module, entryPoint: 'main', constants }
    pipeline = device.createComputePipelineAsync({ label: key, layout: 'auto', compute })
    of.pipelines.set(key, pipeline)
  }
  return pipeline
}

/** What lamps of one make have in common. */
function makeOf({ params: p, frames, kinds }: Scene) {
  let cups = 0
  for (let at = 0; at < kinds.length; at += KIND.size) if (kinds[at + KIND.optic]! > 0) cups = 1
  return {
    LENS_KIND: p[P.lensKind]!,
    HAS_TUNNEL: p[P.hasTunnel]! > 0 ? 1 : 0,
    ROUND: p[P.sides] === 0 ? 1 : 0,
    CUPS: cups,
    TILTED: frames.length > 0 ? 1 : 0,
  }
}

/** The numbers that the shader is made with. */
export function constantsOf(
  device: GPUDevice,
  scene: Scene,
  shape: TallyShape,
  plainRandom: boolean,
): Record<string, number> {
  const layout = tallyLayout(shape)
  return {
    ...makeOf(scene),
    SUN: scene.params[P.source]! > 0 ? 1 : 0,
    PLAIN: plainRandom ? 1 : 0,
    WORKGROUP: workgroupOf(device),
    LINES: layout.profileLm,
    BINS: layout.profileRiserLm - layout.profileLm,
    BEGIN_ROUNDS,
    ROOM,
  }
}
