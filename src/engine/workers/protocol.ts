// What passes between the pool and a tracing worker. Buffers are transferred, never copied.
import { tallyLayout } from '../../run/layout.ts'
import type { TallyShape } from '../../run/types.ts'
import type { Scene } from '../../scene/scene.ts'
import type { Aim } from '../backward/aim.ts'
import { type BackwardKernel, SUMS } from '../backward/estimator.ts'
import { findSources, type Sources } from '../backward/sources.ts'
import { fastBackwardKernel } from '../backward/wasm/fastKernel.ts'
import type { Kernel, KernelOptions } from '../forward/kernel.ts'
import { fastKernel } from '../forward/wasm/fastKernel.ts'
import type { WorkerSide } from './port.ts'

interface LoadRequest {
  kind: 'load'
  load: number
  scene: Scene
  shape: TallyShape
  options: KernelOptions
}
interface ForwardTask {
  kind: 'trace'
  load: number
  task: number
  batch: number
  from: number
  to: number
  /** Buffers of an earlier reply, to be used again: of whole maps, or of a sparse tally. */
  reuse: TallyBuffers | null
  room: ArrayBuffer | null
}
/** A chunk of backward rays. */
interface BackwardTask {
  kind: 'backward'
  load: number
  task: number
  aim: Aim
  batch: number
  from: number
  to: number
}
/** A chunk of forward rays whose segments are recorded: they come in place of exit records. */
interface RecordTask {
  kind: 'record'
  load: number
  task: number
  batch: number
  from: number
  to: number
}
interface UnloadRequest {
  kind: 'unload'
  load: number
}
export type TraceTask = ForwardTask | BackwardTask | RecordTask
export type WorkerRequest = LoadRequest | TraceTask | UnloadRequest

/** The tally of one chunk: sums up to the maps in double, the maps in single precision. Of backward rays: the sums alone. */
export interface TallyBuffers {
  sums: Float64Array
  maps: Float32Array
}

export interface WorkerReply extends TallyBuffers {
  task: number
  exits: Float32Array
  /** Set where few cells were hit: their places in the maps; `maps` then holds their values alone. */
  cells?: Uint32Array
  /** Set when the order failed: a bug, passed on in its words. */
  failed?: string
}

/** The buffers of a message that are moved instead of copied. */
export function transferList(message: WorkerRequest | WorkerReply): Transferable[] {
  if ('sums' in message) {
    // A sparse tally is one buffer.
    const { sums, maps, exits } = message
    return [...new Set([sums.buffer, maps.buffer, exits.buffer])] as Transferable[]
  }
  if (message.kind !== 'trace') return []
  if (message.room) return [message.room]
  return message.reuse ? ([message.reuse.sums.buffer, message.reuse.maps.buffer] as Transferable[]) : []
}

/** A chunk of so few rays leaves most cells of the maps empty: only the others are sent. */
const FEW_RAYS = 2048
export const isFew = ({ from, to }: { from: number; to: number }): boolean => to - from <= FEW_RAYS

interface Load {
  scene: Scene
  seed: number
  /** Made with the first forward chunk: backward tasks need none. */
  kernel: () => Kernel
  sums: number
  maps: number
  /** Made at the first backward ray, and shared by all aims. */
  sources: Sources | null
  backwardKernels: Map<string, BackwardKernel>
}

function backwardKernelOf(load: Load, aim: Aim): BackwardKernel {
  const key = JSON.stringify(aim)
  let kernel = load.backwardKernels.get(key)
  if (!kernel) {
    load.sources ??= findSources(load.scene)
    kernel = fastBackwardKernel(load.scene, aim, load.seed, load.sources)
    load.backwardKernels.set(key, kernel)
  }
  return kernel
}

/** The worker's side: runs tasks, gives replies. */
function makeTaskRunner(): (order: WorkerRequest) => WorkerReply | null {
  const loads = new Map<number, Load>()
  return (order) => {
    if (order.kind === 'load') {
      const { windowLm, size } = tallyLayout(order.shape)
      loads.set(order.load, {
        scene: order.scene,
        seed: order.options.seed,
        kernel: once(() => fastKernel(order.scene, order.shape, order.options)),
        sums: windowLm,
        maps: size - windowLm,
        sources: null,
        backwardKernels: new Map(),
      })
      return null
    }
    if (order.kind === 'unload') {
      loads.delete(order.load)
      return null
    }
    const load = loads.get(order.load)
    if (!load) {
      const none = { sums: new Float64Array(0), maps: new Float32Array(0), exits: new Float32Array(0) }
      return { task: order.task, ...none, failed: 'the scene is no longer loaded' }
    }
    if (order.kind === 'backward') {
      const sums = new Float64Array(SUMS)
      backwardKernelOf(load, order.aim).traceBatch(order.batch, order.from, order.to, sums)
      return { task: order.task, sums, maps: new Float32Array(0), exits: new Float32Array(0) }
    }
    if (order.kind === 'record')
      return { task: order.task, ...load.kernel().recordSparse(order.batch, order.from, order.to) }
    if (isFew(order))
      return { task: order.task, ...load.kernel().traceSparse(order.batch, order.from, order.to, order.room) }
    const sums = order.reuse?.sums.length === load.sums ? order.reuse.sums.fill(0) : new Float64Array(load.sums)
    const maps = order.reuse?.maps.length === load.maps ? order.reuse.maps.fill(0) : new Float32Array(load.maps)
    const exits = load.kernel().traceSplit(order.batch, order.from, order.to, sums, maps)
    return { task: order.task, sums, maps, exits }
  }
}

/** A worker's own loop: takes requests, posts replies. */
export function serveTasks(side: WorkerSide<WorkerRequest, WorkerReply>): void {
  const runTask = makeTaskRunner()
  side.onRequest((request) => {
    const reply = runTask(request)
    if (reply) side.post(reply, transferList(reply))
  })
}

function once<T extends object>(make: () => T): () => T {
  let made: T | null = null
  return () => {
    made ??= make()
    return made
  }
}

export type { KernelOptions }
