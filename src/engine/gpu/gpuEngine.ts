// The GPU engine: the same rays as the CPU's, the whole model, tallied in the same layout. It traces nothing before it has agreed with the
// CPU on a small run.
import * as P from '../../optics/params.ts'
import { scrambledNumbers } from '../../optics/sobol.ts'
import { tallyLayout } from '../../run/layout.ts'
import { BATCHES, type TallyShape } from '../../run/types.ts'
import type { Scene } from '../../scene/scene.ts'
import type { Used } from '../cpu/protocol.ts'
import { COPY_DST, COPY_SRC, FOR_READING, MAP_READ, type Machine, STORAGE, UNIFORM, wordsOf } from './device.ts'
import { gatheredBytes, pipelineFor, WORKGROUP } from './pipeline.ts'
import { exitsOf, RECORD_FLOATS, splitTally } from './readBack.ts'
import { agrees } from './selfCheck.ts'
import { joinTables, packSetup, packStretch } from './setup.ts'

export interface GpuOptions {
  seed: number
  plainRandom: boolean
  /** Rays with an index below this leave an exit record. */
  exitsBelow: number
}

/** What one batch adds in a stretch: as a pool's answer. */
export type Share = Used & { exits: Float32Array }

export interface Guest {
  /** Rays [from, to) of every batch. Throws when the device is lost on the way. */
  trace(from: number, to: number): Promise<Share[]>
  /** The same rays, each with its end: RECORD_FLOATS a ray, ray by ray over the batches. */
  probe(from: number, to: number): Promise<{ shares: Share[]; records: Float32Array }>
  close(): void
}

export type Prepared = { ok: true; guest: Guest } | { ok: false; why: string }

const CHECK_RAYS = 2048
/** A dispatch is kept under about this, so that the screen goes on and no driver's time limit is met. */
const DISPATCH_MS = 7
/** Threads a batch, at most: sixteen batches of them fill a large device. */
const MOST_THREADS = 1 << 14
const FEW_RAYS = 1 << 10
const MOST_RAYS = 1 << 26

/** What this engine can't trace; empty when it can trace all of it. */
export function lacks(scene: Scene, shape: TallyShape, limits: GPUSupportedLimits): string[] {
  const found: string[] = []
  if (scene.params[P.emitters]! >= 1 << 19) found.push('more than half a million emitters')
  const layout = tallyLayout(shape)
  if (gatheredBytes(layout) > limits.maxComputeWorkgroupStorageSize) found.push('so many profile bins')
  if (8 * layout.size * BATCHES > limits.maxStorageBufferBindingSize) found.push('maps so large')
  return found
}

export async function prepare(
  machine: Machine,
  scene: Scene,
  shape: TallyShape,
  options: GpuOptions,
): Promise<Prepared> {
  const missing = lacks(scene, shape, machine.device.limits)
  if (missing.length > 0) return { ok: false, why: `the graphics engine does not trace ${missing.join(', ')}` }
  if (machine.lost()) return { ok: false, why: machine.lost()! }
  try {
    machine.device.pushErrorScope('validation')
    machine.device.pushErrorScope('out-of-memory')
    const pipeline = await pipelineFor(machine.device, scene, shape, options.plainRandom)
    const guest = makeGuest(machine, pipeline, scene, shape, options)
    const memory = await machine.device.popErrorScope()
    const invalid = await machine.device.popErrorScope()
    const fault = memory?.message ?? invalid?.message
    const why = fault ?? agrees(scene, shape, options, await guest.probe(0, CHECK_RAYS / BATCHES))
    if (!why) return { ok: true, guest }
    guest.close()
    return { ok: false, why: `the graphics engine failed its check: ${why}` }
  } catch (error) {
    return { ok: false, why: `the graphics engine failed: ${machine.lost() ?? wordsOf(error)}` }
  }
}

/** Rays a millisecond and batch, by device: kept from run to run. */
const speeds = new WeakMap<GPUDevice, number>()

function makeGuest(
  machine: Machine,
  pipeline: GPUComputePipeline,
  scene: Scene,
  shape: TallyShape,
  options: GpuOptions,
): Guest {
  const { device } = machine
  const layout = tallyLayout(shape)
  const tables = joinTables(scene)
  const scrambles = new Int32Array(198 * BATCHES)
  for (let batch = 0; batch < BATCHES; batch++) scrambles.set(scrambledNumbers(options.seed, batch), 198 * batch)
  const store = (usage: number, size: number) => device.createBuffer({ size: Math.max(16, size), usage })
  const filled = (usage: number, data: ArrayBufferView<ArrayBuffer> | ArrayBuffer) => {
    const buffer = store(usage | COPY_DST, data.byteLength)
    device.queue.writeBuffer(buffer, 0, data)
    return buffer
  }
  const tallyBytes = 8 * layout.size * BATCHES
  const setup = filled(UNIFORM, packSetup(scene, shape, tables.starts))
  const tableBuffer = filled(STORAGE, tables.data as Float32Array<ArrayBuffer>)
  const scrambleBuffer = filled(STORAGE, scrambles)
  const tallies = store(STORAGE | COPY_SRC | COPY_DST, tallyBytes)
  const talliesBack = store(MAP_READ | COPY_DST, tallyBytes)
  const stretch = store(UNIFORM | COPY_DST, 32)
  let records = store(STORAGE | COPY_SRC | COPY_DST, 48)
  let recordsBack = store(MAP_READ | COPY_DST, 48)

  const bound = () =>
    device.createBindGroup({
      layout: pipeline.getBindGroupLayout(0),
      entries: [setup, stretch, tableBuffer, scrambleBuffer, tallies, records].map((buffer, binding) => ({
        binding,
        resource: { buffer },
      })),
    })
  let group = bound()

  /** Room for the records of rays [from, to), as far as they are asked for; gives the number of slots. */
  function makeRoom(from: number, to: number, below: number): number {
    const slots = Math.max(0, Math.min(to, Math.ceil(below / BATCHES)) - from) * BATCHES
    const bytes = Math.max(1, slots) * 4 * RECORD_FLOATS
    if (records.size < bytes) {
      records.destroy()
      recordsBack.destroy()
      records = store(STORAGE | COPY_SRC | COPY_DST, bytes)
      recordsBack = store(MAP_READ | COPY_DST, bytes)
      group = bound()
    }
    return slots
  }

  function dispatch(begin: number, start: number, end: number, below: number, recordAll: boolean): void {
    const log2Threads = threadsFor(end - start)
    const { seed } = options
    const words = { seed, begin, start, end, log2Threads, recordsBelow: below, recordAll: recordAll ? 1 : 0, unused: 0 }
    device.queue.writeBuffer(stretch, 0, packStretch(words))
    const encoder = device.createCommandEncoder()
    const pass = encoder.beginComputePass()
    pass.setPipeline(pipeline)
    pass.setBindGroup(0, group)
    pass.dispatchWorkgroups((BATCHES << log2Threads) / WORKGROUP)
    pass.end()
    device.queue.submit([encoder.finish()])
  }

  /** Dispatch by dispatch; the next is on its way before the last has ended. */
  async function run(from: number, to: number, below: number, recordAll: boolean): Promise<void> {
    let last = performance.now()
    let before: Promise<unknown> = Promise.resolve()
    let raysBefore = 0
    for (let start = from; start < to; ) {
      const speed = speeds.get(device)
      const rays = Math.round(Math.min(MOST_RAYS, speed ? Math.max(FEW_RAYS, speed * DISPATCH_MS) : FEW_RAYS))
      const end = Math.min(to, start + rays)
      dispatch(from, start, end, below, recordAll)
      const done = device.queue.onSubmittedWorkDone()
      await before
      const now = performance.now()
      if (raysBefore >= FEW_RAYS) {
        const measured = raysBefore / Math.max(0.05, now - last)
        // upwards in steps: a small dispatch is all overhead
        speeds.set(device, speed ? Math.min(measured, 4 * speed) : measured)
      }
      last = now
      raysBefore = end - start
      before = done
      start = end
    }
    await before
    if (machine.lost()) throw new Error(machine.lost()!)
  }

  async function stretchOf(from: number, to: number, below: number, recordAll: boolean) {
    const slots = makeRoom(from, to, below)
    const bytes = slots * 4 * RECORD_FLOATS
    const clear = device.createCommandEncoder()
    clear.clearBuffer(tallies)
    if (slots > 0) clear.clearBuffer(records, 0, bytes)
    device.queue.submit([clear.finish()])
    await run(from, to, below, recordAll)
    const copy = device.createCommandEncoder()
    copy.copyBufferToBuffer(tallies, 0, talliesBack, 0, tallyBytes)
    if (slots > 0) copy.copyBufferToBuffer(records, 0, recordsBack, 0, bytes)
    device.queue.submit([copy.finish()])
    await talliesBack.mapAsync(FOR_READING)
    const words = new Uint32Array(talliesBack.getMappedRange())
    const shares = Array.from({ length: BATCHES }, (_, batch) =>
      splitTally(words.subarray(2 * layout.size * batch, 2 * layout.size * (batch + 1)), layout),
    )
    talliesBack.unmap()
    let kept = new Float32Array(0)
    if (slots > 0) {
      await recordsBack.mapAsync(FOR_READING, 0, bytes)
      kept = new Float32Array(recordsBack.getMappedRange(0, bytes)).slice()
      recordsBack.unmap()
    }
    return { shares, kept }
  }

  return {
    async trace(from, to) {
      const { shares, kept } = await stretchOf(from, to, options.exitsBelow, false)
      return shares.map((share, batch) => ({ ...share, exits: exitsOf(kept, batch) }))
    },
    async probe(from, to) {
      const { shares, kept } = await stretchOf(from, to, to * BATCHES, true)
      return { shares: shares.map((share) => ({ ...share, exits: new Float32Array(0) })), records: kept }
    },
    close() {
      for (const b of [setup, tableBuffer, scrambleBuffer, tallies, talliesBack, stretch, records, recordsBack])
        b.destroy()
    },
  }
}

/** Threads of a batch as a power of two: enough to fill a device, few enough that each has some rays to its own. */
function threadsFor(rays: number): number {
  const least = Math.log2(WORKGROUP)
  return Math.max(least, Math.min(Math.log2(MOST_THREADS), Math.floor(Math.log2(Math.max(1, rays / 16)))))
}
