// The job on Node: worker threads, or this thread.
import { nodeHand } from '../engine/cpu/handNode.ts'
import { hereHand, makePool } from '../engine/cpu/pool.ts'
import { openNodeDevice } from '../engine/gpu/deviceNode.ts'
import type { Lamp } from '../lamp/schema.ts'
import { type JobOptions, NoDevice, type Sheet } from './sheet.ts'
import { RUNNING, traceLamp } from './trace.ts'

export interface NodeJobOptions extends JobOptions {
  /** Worker threads; 0: this thread. */
  threads: number
  /** auto: the graphics device where there is one that isn't software; gpu: that or nothing. Default cpu. */
  engine?: EngineChoice
}

export type EngineChoice = 'cpu' | 'gpu' | 'auto'

/** Trace a lamp and read the sheet. */
export async function traceInNode(
  lamp: Lamp,
  options: NodeJobOptions,
  onProgress?: (sheet: { rays: number; maxRays: number }) => void,
): Promise<Sheet> {
  const found = await deviceFor(options.engine ?? 'cpu')
  const hands = options.threads > 0 ? Array.from({ length: options.threads }, () => nodeHand()) : [hereHand()]
  const pool = makePool(hands, Math.max(1, options.threads))
  try {
    const progress = (rays: number) => onProgress?.({ rays, maxRays: options.maxRays })
    const all = { onlyLast: true, ...options, ...found }
    const sheet = await traceLamp(pool, lamp, all, () => {}, RUNNING, progress)
    if (!sheet) throw new Error('job: the trace ended without a sheet')
    return sheet
  } finally {
    pool.close()
  }
}

/** A device computed by the processor is right, but slower than the processor itself. */
const SOFTWARE = /swiftshader|llvmpipe|lavapipe|software|basic render/i

async function deviceFor(engine: EngineChoice): Promise<Pick<JobOptions, 'machine' | 'machineOnly'>> {
  if (engine === 'cpu') return {}
  const opened = await openNodeDevice()
  if (!opened.ok) {
    if (engine === 'gpu') throw new NoDevice(opened.why)
    return {}
  }
  if (engine === 'auto' && SOFTWARE.test(opened.machine.name)) return {}
  return { machine: opened.machine, machineOnly: engine === 'gpu' }
}
