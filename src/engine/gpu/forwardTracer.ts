// One scene on the device: chunk after chunk, each read back when it is done.

import { Cancelled } from '../../num/scheduler.ts'
import { inThousands } from '../../num/thousands.ts'
import { scrambledNumbers } from '../../optics/sobol.ts'
import { type TallyLayout, tallyLayout } from '../../run/layout.ts'
import { BATCHES, FATES, type TallyShape } from '../../run/types.ts'
import type { Scene } from '../../scene/scene.ts'

import { assemblyRows } from './assemblyTables.ts'
import { acquireBuffers, type BufferName } from './buffers.ts'
import { FOR_READING, type Machine } from './device.ts'
import { acquireMaps } from './mapBuffers.ts'
import { encodeMapResolve, mapNumbers, mapResolveUniform } from './mapResolve.ts'
import { waitingBytes, workgroupOf } from './pipeline.ts'
import { makeDeviceQueue } from './queue.ts'
import { exitsOf, RECORD_FLOATS, sumsOf } from './readBack.ts'
import { sceneTables } from './sceneTables.ts'
import { packChunk, packSetup } from './setup.ts'
import type { GpuOptions, GpuTracer, PartialTally } from './types.ts'

/** A dispatch stays under about this, so that the screen goes on and no driver's time limit is met. */
const DISPATCH_MS = 7
/** Threads a batch, at most: sixteen batches of them fill a large device. */
const MOST_THREADS = 1 << 13
const FEW_RAYS = 1 << 10
const MOST_RAYS = 1 << 26
/**
 * A device is no help when even a dispatch of FEW_RAYS takes longer, and not only once: a computer may stand still for a moment. Software is
 * as slow as the processor is busy, meets no driver's time limit, and is only used on request.
 */
const TOO_SLOW_MS = 1000
const TOO_SLOW_TIMES = 2

/**
 * Rays a millisecond and batch, by device, from run to run: by the device's own clock, or of the last few dispatches by ours. That is the
 * least that the device does, since this thread has other work while it waits; so the best of them counts.
 */
const speeds = new WeakMap<GPUDevice, number[]>()
const SPEEDS_KEPT = 6
/** Longer than this no other work here takes: such a dispatch was one of the device's, and counts at once. */
const SURELY_SLOW_MS = 2 * DISPATCH_MS
/** The best of them over a dispatch of such a length; a shorter one is mostly the way there and back. */
const best = new WeakMap<GPUDevice, number>()
const TELLS_MS = 3

/** 0 before the first dispatch. */
const speedOf = (device: GPUDevice): number => Math.max(0, ...(speeds.get(device) ?? []))

/** In the order of shaders/kernels/bindings.wgsl. */
const TRACE_BUFFERS: readonly BufferName[] = [
  'setup',
  'chunk',
  'tables',
  'scrambles',
  'tallies',
  'records',
  'waiting',
  'quads',
  'pairs',
]
/** Of an assembled lamp one more. */
const ASSEMBLED_BUFFERS: readonly BufferName[] = [...TRACE_BUFFERS, 'assembly']
const MAP_RESOLVE_BUFFERS: readonly BufferName[] = ['mapWords', 'tallies', 'maps']

export interface Pipelines {
  trace: GPUComputePipeline
  mapResolve: GPUComputePipeline
}

/** Begun and ended, by the device's clock. */
const TIMES_BYTES = 16

/** What of a chunk is read back besides its exit records. */
type Wanted = 'all' | 'sums' | 'nothing'
interface Chunk {
  from: number
  to: number
  recordsBelow: number
  recordAll: boolean
  wanted: Wanted
}

export function makeForwardTracer(
  machine: Machine,
  pipelines: Pipelines,
  scene: Scene,
  shape: TallyShape,
  options: GpuOptions,
): GpuTracer {
  const { device } = machine
  const layout = tallyLayout(shape)
  const buffers = acquireBuffers(device)
  const tables = sceneTables(scene)
  buffers.fill('setup', packSetup(scene, shape, tables.starts))
  buffers.fill('tables', tables.data)
  buffers.fill('quads', tables.quads)
  buffers.fill('pairs', tables.pairs)
  if (scene.assembly) buffers.fill('assembly', assemblyRows(scene.assembly))
  buffers.fill('scrambles', scramblesOf(options.seed))
  buffers.fill('mapWords', mapResolveUniform(layout))
  buffers.ensure('chunk', 32)
  if (buffers.clock) buffers.ensure('times', TIMES_BYTES)
  buffers.ensure('tallies', 8 * layout.size * BATCHES)
  buffers.ensure('maps', 4 * mapNumbers(layout) * BATCHES)
  buffers.ensure('records', 4 * RECORD_FLOATS)
  buffers.ensure('waiting', waitingBytes(scene, BATCHES * workgroupOf(device)))
  let closed = false
  let slow = 0
  const queue = makeDeviceQueue(machine, () => closed)

  function dispatch(s: Chunk, start: number, end: number): void {
    const lanes = workgroupOf(device)
    // the same for all dispatches of a chunk: rays wait from one to the next
    const log2Threads = threadsFor(s.to - s.from, lanes)
    const { seed } = options
    const { from: begin, recordsBelow, recordAll } = s
    const words = {
      seed,
      begin,
      start,
      end,
      log2Threads,
      recordsBelow,
      recordAll: recordAll ? 1 : 0,
      goesOn: end < s.to ? 1 : 0,
    }
    device.queue.writeBuffer(buffers.ensure('chunk', 32), 0, packChunk(words))
    const encoder = device.createCommandEncoder()
    const timestampWrites = buffers.clock && {
      querySet: buffers.clock,
      ...(start === s.from ? { beginningOfPassWriteIndex: 0 } : {}),
      endOfPassWriteIndex: 1,
    }
    const pass = encoder.beginComputePass(timestampWrites ? { timestampWrites } : {})
    pass.setPipeline(pipelines.trace)
    pass.setBindGroup(0, buffers.group(pipelines.trace, scene.assembly ? ASSEMBLED_BUFFERS : TRACE_BUFFERS))
    pass.dispatchWorkgroups((BATCHES << log2Threads) / lanes)
    pass.end()
    device.queue.submit([encoder.finish()])
  }

  const assertUsable = () => {
    if (machine.lost()) throw new Error(machine.lost()!)
    if (closed) throw new Cancelled()
  }

  /** One dispatch of so many rays took so long. */
  function learn(rays: number, ms: number): void {
    if (rays < FEW_RAYS) return
    const known = speeds.get(device) ?? []
    const measured = rays / Math.max(0.05, ms)
    // Upwards in steps: a small dispatch is all overhead.
    const next = known.length > 0 ? Math.min(measured, 4 * Math.max(...known)) : measured
    speeds.set(device, ms > SURELY_SLOW_MS ? [next] : [...known, next].slice(-SPEEDS_KEPT))
    if (ms >= TELLS_MS) best.set(device, Math.max(best.get(device) ?? 0, measured * BATCHES))
    slow = rays === FEW_RAYS && ms > TOO_SLOW_MS ? slow + 1 : 0
    if (slow < TOO_SLOW_TIMES || machine.software) return
    const perSecond = inThousands(Math.round((1000 * rays * BATCHES) / ms))
    machine.giveUp(`the graphics device was too slow (${perSecond} rays a second)`)
  }

  /** The same by the device's own clock, over a whole chunk; rounded to nothing it tells nothing. */
  function learnSurely(rays: number, [begun, ended]: BigUint64Array): void {
    const ms = Number(ended! - begun!) / 1e6
    if (ms > 0 && rays >= FEW_RAYS) speeds.set(device, [rays / ms])
  }

  /** Dispatch by dispatch; the next is on its way before the last has ended. */
  async function run(s: Chunk): Promise<void> {
    let then = performance.now()
    let before: Promise<unknown> = Promise.resolve()
    let raysBefore = 0
    const ended = async () => {
      await before
      const now = performance.now()
      learn(raysBefore, now - then)
      then = now
      assertUsable()
    }
    for (let start = s.from; start < s.to; ) {
      const speed = speedOf(device)
      const rays = Math.round(Math.min(MOST_RAYS, speed ? Math.max(FEW_RAYS, speed * DISPATCH_MS) : FEW_RAYS))
      const end = Math.min(s.to, start + rays)
      dispatch(s, start, end)
      const done = device.queue.onSubmittedWorkDone()
      await ended()
      raysBefore = end - start
      before = done
      start = end
    }
    await ended()
  }

  async function runChunk(s: Chunk): Promise<ReadBack> {
    assertUsable()
    const slots = Math.max(0, Math.min(s.to, Math.ceil(s.recordsBelow / BATCHES)) - s.from) * BATCHES
    const recordBytes = slots * 4 * RECORD_FLOATS
    const plan = planOf(layout, s, recordBytes)
    const records = buffers.ensure('records', recordBytes)
    const tallies = buffers.ensure('tallies', 8 * layout.size * BATCHES)
    const back = buffers.ensure('back', plan.bytes)
    const lanes = workgroupOf(device)
    buffers.ensure('waiting', waitingBytes(scene, BATCHES << threadsFor(s.to - s.from, lanes)))
    await buffers.allocated()
    assertUsable()
    const clear = device.createCommandEncoder()
    clear.clearBuffer(tallies)
    if (slots > 0) clear.clearBuffer(records, 0, recordBytes)
    device.queue.submit([clear.finish()])
    await run(s)
    const encoder = device.createCommandEncoder()
    if (plan.mapBytes > 0) {
      encodeMapResolve(encoder, pipelines.mapResolve, buffers.group(pipelines.mapResolve, MAP_RESOLVE_BUFFERS), layout)
      encoder.copyBufferToBuffer(buffers.ensure('maps', plan.mapBytes), 0, back, plan.mapsAt, plan.mapBytes)
    }
    for (let batch = 0; batch < BATCHES && plan.sumBytes > 0; batch++)
      encoder.copyBufferToBuffer(tallies, 8 * layout.size * batch, back, plan.sumBytes * batch, plan.sumBytes)
    if (slots > 0) encoder.copyBufferToBuffer(records, 0, back, plan.recordsAt, recordBytes)
    if (buffers.clock) {
      const times = buffers.ensure('times', TIMES_BYTES)
      encoder.resolveQuerySet(buffers.clock, 0, 2, times, 0)
      encoder.copyBufferToBuffer(times, 0, back, plan.timesAt, TIMES_BYTES)
    }
    device.queue.submit([encoder.finish()])
    await back.mapAsync(FOR_READING, 0, plan.bytes)
    try {
      const range = back.getMappedRange(0, plan.bytes)
      if (buffers.clock) learnSurely(s.to - s.from, new BigUint64Array(range, plan.timesAt, 2))
      const read = plan.read(range)
      if (s.wanted !== 'nothing') closes(read.sums, s)
      return read
    } finally {
      back.unmap()
    }
  }

  /** A driver that loses count is not to be trusted again. */
  function closes(sums: Float64Array[], { from, to }: Chunk): void {
    for (const sum of sums) {
      let ends = 0
      for (let f = 0; f < FATES.length; f++) ends += sum[f]!
      if (sum[layout.emitted] === to - from && Math.abs(ends / (to - from) - 1) < 1e-9) continue
      machine.giveUp(`the graphics device lost count of its rays (${ends} of ${to - from} ended)`)
      throw new Error(machine.lost()!)
    }
  }

  return {
    async trace(from, to, exitsBelow = options.exitsBelow) {
      const chunk: Chunk = { from, to, recordsBelow: exitsBelow, recordAll: false, wanted: 'all' }
      const { sums, maps, exits } = await queue.next(() => runChunk(chunk))
      return sums.map((sum, batch): PartialTally => ({ sums: sum, maps: maps[batch]!, exits: exits[batch]! }))
    },
    async exits(from, to) {
      const recordsBelow = Math.min(to * BATCHES, options.exitsBelow)
      const chunk: Chunk = { from, to, recordsBelow, recordAll: false, wanted: 'nothing' }
      return (await queue.next(() => runChunk(chunk))).exits
    },
    async probe(from, to) {
      const chunk: Chunk = { from, to, recordsBelow: to * BATCHES, recordAll: true, wanted: 'sums' }
      const { sums, records } = await queue.next(() => runChunk(chunk))
      return { partials: sums.map((sum) => ({ sums: sum })), records }
    },
    raysIn: (ms) => speedOf(device) * ms,
    raysPerMs: () => best.get(device) ?? null,
    close() {
      if (closed) return
      closed = true
      queue.ended().then(() => buffers.release())
    },
  }
}

interface ReadBack {
  sums: Float64Array[]
  maps: Float32Array[]
  /** By batch; where all rays were recorded, none, but the records. */
  exits: Float32Array[]
  records: Float32Array
}

/** Where each part of a chunk lies in the one buffer that is read back. */
function planOf(layout: TallyLayout, { wanted, recordAll }: Chunk, recordBytes: number) {
  const { windowLm } = layout
  const sumBytes = wanted === 'nothing' ? 0 : 8 * windowLm
  const mapBytes = wanted === 'all' ? 4 * mapNumbers(layout) * BATCHES : 0
  const mapsAt = sumBytes * BATCHES
  const recordsAt = mapsAt + mapBytes
  const batches = Array.from({ length: BATCHES }, (_, batch) => batch)
  return {
    sumBytes,
    mapBytes,
    mapsAt,
    recordsAt,
    timesAt: recordsAt + recordBytes,
    bytes: recordsAt + recordBytes + TIMES_BYTES,
    /** Copies: what is mapped goes away. */
    read(range: ArrayBuffer): ReadBack {
      const sums = sumBytes > 0 ? batches : []
      const maps = mapBytes > 0 ? batches : []
      const n = mapNumbers(layout)
      const mapped = new Float32Array(range, recordsAt, recordBytes / 4)
      const records = recordAll ? mapped.slice() : inScratch(mapped)
      return {
        sums: sums.map((batch) => sumsOf(new Uint32Array(range, sumBytes * batch, 2 * windowLm), layout)),
        maps: maps.map((batch) => {
          const copy = acquireMaps(n)
          copy.set(new Float32Array(range, mapsAt + 4 * n * batch, n))
          return copy
        }),
        exits: recordAll ? [] : exitsOf(records),
        records: recordAll ? records : NONE,
      }
    },
  }
}

const NONE = new Float32Array(0)
let scratch = NONE

/** What is mapped is slow to read here and there: all of it at once first, into memory that the next time takes again. */
function inScratch(mapped: Float32Array): Float32Array {
  if (scratch.length < mapped.length) scratch = new Float32Array(mapped.length)
  scratch.set(mapped)
  return scratch.subarray(0, mapped.length)
}

let scrambled: { seed: number; words: Int32Array<ArrayBuffer> } | null = null

/** Of one seed, mostly. */
export function scramblesOf(seed: number): Int32Array<ArrayBuffer> {
  if (scrambled?.seed !== seed) {
    const words = new Int32Array(198 * BATCHES)
    for (let batch = 0; batch < BATCHES; batch++) words.set(scrambledNumbers(seed, batch), 198 * batch)
    scrambled = { seed, words }
  }
  return scrambled.words
}

/** Threads of a batch as a power of two: enough to fill a device, few enough that each has some rays to its own. */
function threadsFor(rays: number, lanes: number): number {
  const least = Math.log2(lanes)
  return Math.max(least, Math.min(Math.log2(MOST_THREADS), Math.floor(Math.log2(Math.max(1, rays / 16)))))
}
