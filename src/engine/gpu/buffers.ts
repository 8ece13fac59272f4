// What one run needs of a device's memory. A lamp that is being dragged is a new scene many times a second: its buffers are taken over from
// the run before, and only what differs is sent.
import { CLOCK, COPY_DST, COPY_SRC, MAP_READ, QUERY_RESOLVE, STORAGE, UNIFORM } from './device.ts'

const USES = {
  setup: UNIFORM | COPY_DST,
  chunk: UNIFORM | COPY_DST,
  tables: STORAGE | COPY_DST,
  scrambles: STORAGE | COPY_DST,
  tallies: STORAGE | COPY_SRC | COPY_DST,
  records: STORAGE | COPY_SRC | COPY_DST,
  waiting: STORAGE,
  quads: STORAGE | COPY_DST,
  pairs: STORAGE | COPY_DST,
  assembly: UNIFORM | COPY_DST,
  mapWords: UNIFORM | COPY_DST,
  maps: STORAGE | COPY_SRC,
  backwardSetup: UNIFORM | COPY_DST,
  backwardQuads: STORAGE | COPY_DST,
  backwardWords: STORAGE | COPY_DST,
  partials: STORAGE | COPY_SRC,
  times: QUERY_RESOLVE | COPY_SRC,
  back: MAP_READ | COPY_DST,
} as const
export type BufferName = keyof typeof USES

/** Sets held for the next run: one that ends, one that begins, and the sun's. */
const FREE_MOST = 3
const SMALLEST = 48

/** The device's memory is full: for this lamp, perhaps not for the next. */
class OutOfDeviceMemory extends Error {}

export interface BufferSet {
  /** At least so many bytes. The contents stay if the buffer was large enough already, else they are lost. */
  ensure(place: BufferName, bytes: number): GPUBuffer
  fill(place: BufferName, data: ArrayBufferView<ArrayBuffer> | ArrayBuffer): void
  /** Resolves when every buffer has been allocated; throws `OutOfDeviceMemory`. */
  allocated(): Promise<void>
  /** When the device began and ended a run's chunk, in its own nanoseconds; null where it doesn't tell. */
  clock: GPUQuerySet | null
  /** The places at their bindings (null: none), for a pipeline. */
  group(pipeline: GPUComputePipeline, places: readonly (BufferName | null)[]): GPUBindGroup
  release(): void
}

/** Forward and backward tracers fill different buffers. */
export type Purpose = 'forward' | 'backward'
const freeSets: Record<Purpose, WeakMap<GPUDevice, BufferSet[]>> = { forward: new WeakMap(), backward: new WeakMap() }

export function acquireBuffers(device: GPUDevice, purpose: Purpose = 'forward'): BufferSet {
  return freeSets[purpose].get(device)?.pop() ?? makeBufferSet(device, purpose)
}

function makeBufferSet(device: GPUDevice, purpose: Purpose): BufferSet {
  const freeOfPurpose = freeSets[purpose]
  const buffers = new Map<BufferName, GPUBuffer>()
  let groups = new Map<GPUComputePipeline, GPUBindGroup>()
  let scopes: Promise<GPUError | null>[] = []
  /** Not before its buffer is known to be there: writing into one that isn't is a fault of its own. */
  const writes: [BufferName, ArrayBufferView<ArrayBuffer> | ArrayBuffer][] = []
  let broken = false

  function room(place: BufferName, bytes: number): GPUBuffer {
    const there = buffers.get(place)
    if (there && there.size >= bytes) return there
    there?.destroy()
    device.pushErrorScope('out-of-memory')
    const size = Math.max(SMALLEST, 4 * Math.ceil(bytes / 4))
    const buffer = device.createBuffer({ label: place, size, usage: USES[place] })
    scopes.push(device.popErrorScope())
    buffers.set(place, buffer)
    groups = new Map()
    return buffer
  }

  const clock =
    purpose === 'forward' && device.features.has(CLOCK) ? device.createQuerySet({ type: 'timestamp', count: 2 }) : null

  const set: BufferSet = {
    ensure: room,
    clock,
    fill(place, data) {
      room(place, data.byteLength)
      writes.push([place, data])
    },
    async allocated() {
      const errors = scopes.length > 0 ? await Promise.all(scopes) : []
      scopes = []
      if (broken || errors.some((error) => error !== null)) {
        broken = true
        throw new OutOfDeviceMemory('the graphics device has not enough memory for this lamp')
      }
      for (const [place, data] of writes.splice(0)) device.queue.writeBuffer(buffers.get(place)!, 0, data)
    },
    group(pipeline, places) {
      let group = groups.get(pipeline)
      if (!group) {
        const entries = places.flatMap((place, binding) =>
          place ? [{ binding, resource: { buffer: buffers.get(place)! } }] : [],
        )
        group = device.createBindGroup({ layout: pipeline.getBindGroupLayout(0), entries })
        groups.set(pipeline, group)
      }
      return group
    },
    release() {
      writes.length = 0
      const unused = freeOfPurpose.get(device) ?? []
      freeOfPurpose.set(device, unused)
      if (!broken && unused.length < FREE_MOST) unused.push(set)
      else {
        for (const buffer of buffers.values()) buffer.destroy()
        clock?.destroy()
      }
    },
  }
  return set
}
