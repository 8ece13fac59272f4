// One scene traced backwards on the device: the same backward rays as the processor's (backward/estimator.ts), their sums read back
// workgroup by workgroup and added up here.

import { Cancelled } from '../../num/scheduler.ts'
import { BATCHES, type TallyShape } from '../../run/types.ts'
import type { Scene } from '../../scene/scene.ts'
import type { Aim } from '../backward/aim.ts'
import { SUM_HITS, SUM_LM, SUM_SQUARES, SUM_W, SUMS } from '../backward/estimator.ts'
import { sourcesOf } from '../backward/sources.ts'

import { BACKWARD_SETUP_WORDS, backwardTables, packBackwardSetup } from './backwardSetup.ts'
import { acquireBuffers, type BufferName } from './buffers.ts'
import { FOR_READING, type Machine } from './device.ts'
import { scramblesOf } from './forwardTracer.ts'
import { BACKWARD_LANES } from './pipeline.ts'
import { makeDeviceQueue } from './queue.ts'
import { RECORD_FLOATS } from './readBack.ts'
import { sceneTables } from './sceneTables.ts'
import { packSetup } from './setup.ts'

export interface BackwardTracer {
  /** Backward rays [from, to) of every batch: their sums (backward/estimator.ts). Throws when the device fails on the way. */
  trace(aim: Aim, from: number, to: number): Promise<Float64Array[]>
  /** The same rays, each with its end: RECORD_FLOATS a ray, ray by ray over the batches. */
  probe(aim: Aim, from: number, to: number): Promise<{ sums: Float64Array[]; records: Float32Array }>
  /** Ends what is under way, with `Cancelled`. */
  close(): void
}

/** A dispatch stays under about this, as the forward tracer's do. */
const DISPATCH_MS = 7
/** Threads a batch, at most. */
const MOST_THREADS = 1 << 13
/** Rays of a batch in a dispatch: before the device's speed is known, and at most. */
const FEW_RAYS = 1 << 12
const MOST_RAYS = 1 << 20
/** In one chunk, so that no workgroup's sum can wrap: 2⁶⁴ steps are 2¹⁵ rays of 2⁴⁹ each, of which a usual one has 2³⁵. */
const CHUNK = 1 << 22
const WORDS_OF_GROUP = 8
/** The squares are summed in these steps' squares: single precision would overflow. */
const SQUARE = 2 ** 52

/** In the order of shaders/kernels/bindings.wgsl and backwardSetup.wgsl. */
const PLACES: readonly (BufferName | null)[] = [
  ...(['setup', null, 'tables', 'scrambles', null, 'records', null, 'quads', null] as const),
  ...(['backwardSetup', 'backwardQuads', 'backwardWords', 'partials'] as const),
]

/** Backward rays a millisecond and batch, by device, from estimate to estimate. */
const speeds = new WeakMap<GPUDevice, number>()

export function makeBackwardTracer(
  machine: Machine,
  pipeline: GPUComputePipeline,
  scene: Scene,
  shape: TallyShape,
  seed: number,
): BackwardTracer {
  const { device } = machine
  const sources = sourcesOf(scene)
  const buffers = acquireBuffers(device, 'backward')
  const tables = sceneTables(scene)
  const { backwardQuads, words, places } = backwardTables(scene, sources)
  buffers.fill('setup', packSetup(scene, shape, tables.starts))
  buffers.fill('tables', tables.data)
  buffers.fill('quads', tables.quads)
  buffers.fill('scrambles', scramblesOf(seed))
  buffers.fill('backwardQuads', backwardQuads)
  buffers.fill('backwardWords', words)
  buffers.ensure('backwardSetup', 4 * BACKWARD_SETUP_WORDS)
  buffers.ensure('records', 4 * RECORD_FLOATS)
  let closed = false
  const queue = makeDeviceQueue(machine, () => closed)

  const assertUsable = () => {
    if (machine.lost()) throw new Error(machine.lost()!)
    if (closed) throw new Cancelled()
  }

  interface Chunk {
    aim: Aim
    from: number
    to: number
    recordAll: boolean
  }

  async function runChunk({ aim, from, to, recordAll }: Chunk) {
    assertUsable()
    const log2Threads = threadsFor(to - from)
    const groups = (BATCHES << log2Threads) / BACKWARD_LANES
    const partialBytes = 4 * WORDS_OF_GROUP * groups
    const recordBytes = recordAll ? 4 * RECORD_FLOATS * BATCHES * (to - from) : 0
    const partials = buffers.ensure('partials', partialBytes)
    const records = buffers.ensure('records', recordBytes)
    const back = buffers.ensure('back', partialBytes + recordBytes)
    await buffers.allocated()
    assertUsable()
    for (let start = from; start < to; ) {
      const speed = speeds.get(device) ?? 0
      const rays = Math.round(Math.min(MOST_RAYS, Math.max(FEW_RAYS, speed * DISPATCH_MS)))
      const end = Math.min(to, start + rays)
      const chunk = { seed, begin: from, start, end, log2Threads, goesOn: start > from ? 1 : 0 }
      const packed = packBackwardSetup(scene, sources, places, aim, { ...chunk, recordAll: recordAll ? 1 : 0 })
      const begun = performance.now()
      device.queue.writeBuffer(buffers.ensure('backwardSetup', 4 * BACKWARD_SETUP_WORDS), 0, packed)
      const encoder = device.createCommandEncoder()
      const pass = encoder.beginComputePass()
      pass.setPipeline(pipeline)
      pass.setBindGroup(0, buffers.group(pipeline, PLACES))
      pass.dispatchWorkgroups(groups)
      pass.end()
      if (end === to) {
        encoder.copyBufferToBuffer(partials, 0, back, 0, partialBytes)
        if (recordAll) encoder.copyBufferToBuffer(records, 0, back, partialBytes, recordBytes)
      }
      device.queue.submit([encoder.finish()])
      if (end < to) await device.queue.onSubmittedWorkDone()
      else await back.mapAsync(FOR_READING, 0, partialBytes + recordBytes)
      learn(device, end - start, performance.now() - begun)
      assertUsable()
      start = end
    }
    try {
      const range = back.getMappedRange(0, partialBytes + recordBytes)
      return {
        sums: addUp(new Uint32Array(range, 0, partialBytes / 4), to - from),
        records: new Float32Array(range, partialBytes, recordBytes / 4).slice(),
      }
    } finally {
      back.unmap()
    }
  }

  /** The workgroups' sums, batch by batch. A driver that loses count is not to be trusted again. */
  function addUp(words: Uint32Array, rays: number): Float64Array[] {
    const sums = Array.from({ length: BATCHES }, () => new Float64Array(SUMS))
    const counted = new Float64Array(BATCHES)
    const bits = new Float32Array(words.buffer, words.byteOffset, words.length)
    for (let group = 0; WORDS_OF_GROUP * group < words.length; group++) {
      const at = WORDS_OF_GROUP * group
      const sum = sums[group % BATCHES]!
      sum[SUM_LM]! += words[at + 1]! * 2 ** 32 + words[at]!
      sum[SUM_W]! += words[at + 3]! * 2 ** 32 + words[at + 2]!
      sum[SUM_HITS]! += words[at + 4]!
      counted[group % BATCHES]! += words[at + 5]!
      sum[SUM_SQUARES]! += bits[at + 6]! * SQUARE
    }
    const off = counted.findIndex((n) => n !== rays)
    if (off >= 0) {
      machine.giveUp(`the graphics device lost count of its backward rays (${counted[off]} of ${rays} ended)`)
      throw new Error(machine.lost()!)
    }
    return sums
  }

  return {
    async trace(aim, from, to) {
      const all = Array.from({ length: BATCHES }, () => new Float64Array(SUMS))
      for (let at = from; at < to; at += CHUNK) {
        const chunk = { aim, from: at, to: Math.min(to, at + CHUNK), recordAll: false }
        const { sums } = await queue.next(() => runChunk(chunk))
        for (const [batch, sum] of sums.entries()) for (let i = 0; i < SUMS; i++) all[batch]![i]! += sum[i]!
      }
      return all
    },
    probe: (aim, from, to) => queue.next(() => runChunk({ aim, from, to, recordAll: true })),
    close() {
      if (closed) return
      closed = true
      queue.ended().then(() => buffers.release())
    },
  }
}

/** Upwards at once; downwards slowly, for the rays may have waited behind a run's dispatches. */
function learn(device: GPUDevice, rays: number, ms: number): void {
  if (rays < FEW_RAYS) return
  const measured = rays / Math.max(0.05, ms)
  const speed = speeds.get(device) ?? measured
  speeds.set(device, measured > speed ? Math.min(measured, 4 * speed) : Math.max(measured, 0.9 * speed))
}

/** Threads of a batch as a power of two: one a ray, as far as a device has room for them. */
function threadsFor(rays: number): number {
  const least = Math.log2(BACKWARD_LANES)
  return Math.max(least, Math.min(Math.log2(MOST_THREADS), Math.ceil(Math.log2(Math.max(1, rays)))))
}
