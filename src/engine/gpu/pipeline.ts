// One pipeline for each make of lamp, made in the background and kept with its device.
import * as KIND from '../../optics/kindRow.ts'
import * as P from '../../optics/params.ts'
import { type TallyLayout, tallyLayout } from '../../run/layout.ts'
import type { TallyShape } from '../../run/types.ts'
import type { Scene } from '../../scene/scene.ts'
import { traceShader } from './shaderText.ts'

export const WORKGROUP = 128

/** Of a workgroup's own memory: the profiles, eight copies of the ledger's lines, a batch's scrambled numbers. */
export const gatheredBytes = (layout: TallyLayout): number =>
  8 * (layout.windowLm - layout.profileLm) + 8 * 8 * layout.profileLm + 4 * 198

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
  const constants = constantsOf(scene, shape, plainRandom)
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

function constantsOf(scene: Scene, shape: TallyShape, plainRandom: boolean): Record<string, number> {
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
    WORKGROUP,
    LINE_WORDS: 2 * layout.profileLm,
    HEAD_WORDS: 2 * (layout.windowLm - layout.profileLm),
  }
}
