// Backward tracing on a device: which scenes it can trace, and the check of each make of lamp before its first estimate.
import * as P from '../../optics/params.ts'
import { BATCHES, type TallyShape } from '../../run/types.ts'
import type { Scene } from '../../scene/scene.ts'
import type { Aim } from '../backward/aim.ts'
import { backwardUnsupported } from '../backward/sources.ts'
import { backwardAgrees } from './backwardCheck.ts'
import { MOST_SPECTRA, spectraOf } from './backwardSetup.ts'
import { type BackwardTracer, makeBackwardTracer } from './backwardTracer.ts'
import { type Machine, messageOf } from './device.ts'
import { backwardPipelineFor } from './pipeline.ts'

export type BackwardPrepared = { ok: true; backwardTracer: BackwardTracer } | { ok: false; why: string }

/** What can't be traced backwards on a device, in words; empty when all can. The processor traces then. */
export function unsupportedBackward(scene: Scene): string[] {
  const lacks = backwardUnsupported(scene)
  if (scene.frames.length > 0) lacks.push('Tilted or aimed emitters.')
  if (scene.assembly) lacks.push('Tilted or moved lenses, several elements, or tunnels of several stretches.')
  if (scene.params[P.emitters]! >= 1 << 19) lacks.push('More than half a million emitters.')
  if (scene.params[P.lensRings]! >= 1 << 16) lacks.push('More than 65\u202f535 grooves.')
  if (spectraOf(scene) > MOST_SPECTRA) lacks.push(`More than ${MOST_SPECTRA} spectra.`)
  return lacks
}

/** Rays of the check, of each aim: over all directions near the axis, and from a place in front of the lamp. */
const CHECK_RAYS = 1024
const CHECK_AIMS: readonly Aim[] = [
  { kind: 'band', fromRad: 0, toRad: 0.6 },
  { kind: 'disc', xMm: 100, yMm: -50, zMm: 10_000, discMm: 400 },
]

interface Checked {
  pipeline: GPUComputePipeline
  /** What the check found amiss; null when both engines agreed. */
  fault: string | null
}
/** By make of lamp, as the runs' pipelines (gpuEngine.ts). */
const checked = new WeakMap<Promise<GPUComputePipeline>, Checked>()

export async function prepareBackward(
  machine: Machine,
  scene: Scene,
  shape: TallyShape,
  seed: number,
): Promise<BackwardPrepared> {
  const lacks = unsupportedBackward(scene)
  if (lacks.length > 0) return { ok: false, why: lacks.join(' ') }
  if (machine.lost()) return { ok: false, why: machine.lost()! }
  try {
    const key = backwardPipelineFor(machine.device, scene)
    const pipeline = await key
    const backwardTracer = makeBackwardTracer(machine, pipeline, scene, shape, seed)
    let make = checked.get(key)
    if (!make) {
      make = { pipeline, fault: await check(backwardTracer, scene, seed) }
      checked.set(key, make)
    }
    if (make.fault === null) return { ok: true, backwardTracer }
    backwardTracer.close()
    return { ok: false, why: `the graphics device failed its check: ${make.fault}` }
  } catch (error) {
    return { ok: false, why: machine.lost() ?? `the graphics device failed: ${messageOf(error)}` }
  }
}

async function check(backwardTracer: BackwardTracer, scene: Scene, seed: number): Promise<string | null> {
  for (const aim of CHECK_AIMS) {
    const { records } = await backwardTracer.probe(aim, 0, CHECK_RAYS / BATCHES)
    const fault = backwardAgrees(scene, aim, seed, records)
    if (fault) return fault
  }
  return null
}

/** The same without waiting, for a make of lamp that has been traced backwards before; null for others. */
export function prepareBackwardSync(
  machine: Machine,
  scene: Scene,
  shape: TallyShape,
  seed: number,
): BackwardTracer | null {
  if (machine.lost() || unsupportedBackward(scene).length > 0) return null
  const key = backwardPipelineFor(machine.device, scene)
  key.catch(() => {}) // reported by `prepareBackward`
  const make = checked.get(key)
  return make && make.fault === null ? makeBackwardTracer(machine, make.pipeline, scene, shape, seed) : null
}
