// What passes between the pool and a tracing worker. Buffers are handed over, never copied.
import type { TallyShape } from '../../run/types.ts'
import type { Scene } from '../../scene/scene.ts'
import { type Kernel, type KernelOptions, makeKernel, type Trail } from './kernel.ts'

export interface LoadOrder {
  kind: 'load'
  load: number
  scene: Scene
  shape: TallyShape
  options: KernelOptions
  size: number
}
export interface TraceOrder {
  kind: 'trace'
  load: number
  task: number
  batch: number
  from: number
  to: number
}
export interface DropOrder {
  kind: 'drop'
  load: number
}
export type Order = LoadOrder | TraceOrder | DropOrder

export interface Answer {
  task: number
  tally: Float64Array
  exits: Float32Array
  /** Set when the order could not be carried out: a bug, passed on in its words. */
  failed?: string
}

/** The worker's side: carries out orders, gives answers. */
export function makeWorkshop(): (order: Order) => Answer | null {
  const loads = new Map<number, { kernel: Kernel; size: number }>()
  return (order) => {
    if (order.kind === 'load') {
      loads.set(order.load, { kernel: makeKernel(order.scene, order.shape, order.options), size: order.size })
      return null
    }
    if (order.kind === 'drop') {
      loads.delete(order.load)
      return null
    }
    const load = loads.get(order.load)
    const tally = new Float64Array(load?.size ?? 0)
    if (!load) return { task: order.task, tally, exits: new Float32Array(0), failed: 'the scene is no longer loaded' }
    const exits = load.kernel.trace(order.batch, order.from, order.to, tally)
    return { task: order.task, tally, exits }
  }
}

export type { KernelOptions, Trail }
