// A handle that is held and dragged: edit after edit of the searchlight's lens or of one of its boards, each as soon as the sheet of the one before is
// there. The tracing service does the same in its worker, less the page itself (`npm run bench -- page`).
import { readFileSync } from 'node:fs'
import { availableParallelism } from 'node:os'
import { type Graphics, graphicsOf } from '../../src/engine/choice.ts'
import { fastKernel } from '../../src/engine/forward/wasm/fastKernel.ts'
import type { Machine } from '../../src/engine/gpu/device.ts'
import type { GpuTracer, PartialTally } from '../../src/engine/gpu/types.ts'
import { makePool, type Pool } from '../../src/engine/workers/pool.ts'
import { nodeTraceWorker } from '../../src/engine/workers/workerNode.ts'
import { solveOperatingPoint } from '../../src/heat/operating.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import { nodeReadingWorker } from '../../src/job/beam/readingWorkerNode.ts'
import type { Sheet } from '../../src/job/beam/sheet.ts'
import { traceLamp } from '../../src/job/beam/trace.ts'
import { makeTracingService, readersFor, type TracingService } from '../../src/job/service/service.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import { BATCHES } from '../../src/run/types.ts'
import { compile } from '../../src/scene/compile.ts'
import { numberAfter } from './arguments.ts'

export interface Dragged {
  engine: string
  /** Threads that read first sheets; 0: the service's own. */
  'reading threads': number
  edits: number
  'sheets/s': number
  /** From an edit to its first sheet, as it would cross to the page. */
  'median ms': number
  'slowest ms': number
  /** Processor time of the one thread that compiles, orders and reads; NaN where the system doesn't tell. A busy machine matters less. */
  'own ms a sheet': number
  /** Processor time of all threads together, collections of garbage included. */
  'all ms a sheet': number
  'rays of a sheet': string
}

const EDITS = 120
/** Edits before, as the service warms its code up when the first lamp has settled; each reading thread compiles its own. */
const WARM_UP = 24
const MOST_THREADS = 16

const median = (values: number[]) => [...values].sort((a, b) => a - b)[values.length >> 1]!

function ownMs(): number {
  try {
    return Number(readFileSync('/proc/thread-self/schedstat', 'utf8').split(' ')[0]) / 1e6
  } catch {
    return Number.NaN
  }
}

/** The lens a quarter of a millimetre further out each time. */
function edited(step: number): Lamp {
  const lamp = gannetHead()
  return lamp.lens ? { ...lamp, lens: { ...lamp.lens, zMm: 1050 + step / 4 } } : lamp
}

/** An outer board, which has room to that side, to and fro by a twentieth of a millimetre and more. */
function boardMoved(step: number): Lamp {
  const lamp = gannetHead()
  const most = Math.max(...lamp.boards.map((board) => board.xMm))
  const xMm = most + 2 - 2 * Math.cos(step / 40)
  return { ...lamp, boards: lamp.boards.map((board) => (board.xMm === most ? { ...board, xMm } : board)) }
}

/**
 * So many edits, each as soon as the service takes it: when the sheet before it is there, or is being read elsewhere. Sheets are copied, as they
 * would be on their way to the page. Gives the time from each edit to its sheet.
 */
async function drags(
  service: TracingService,
  edit: (step: number) => Lamp,
  from: number,
  edits: number,
): Promise<{ times: number[]; last: string }> {
  const times: number[] = []
  let last = ''
  const options = { seed: 1, maxRays: 1 << 30, precision: 0.001, background: false }
  for (let i = from; i < from + edits; i++) {
    const before = performance.now()
    const seen = new Promise<void>((done) => {
      const take = (sheet: Sheet) => {
        const { rays, engine } = structuredClone(sheet)
        last = `${rays} (${engine})`
        times[i - from] ??= performance.now() - before
        done()
      }
      const handed = i < from + edits - 1 ? done : () => {}
      service.trace(edit(i), options, take, handed)
    })
    await seen
  }
  return { times: times.filter((ms) => ms !== undefined), last }
}

async function drag(
  engine: string,
  pool: Pool,
  readers: number,
  graphics?: Graphics,
  warmUp = WARM_UP,
  edits = EDITS,
  edit = edited,
): Promise<Dragged> {
  await graphics?.ready
  if (graphics && !graphics.stub) await madeReady(pool, graphics)
  const readerClients = () => Array.from({ length: readers }, () => nodeReadingWorker())
  const service = makeTracingService(pool, readerClients, () => graphics)
  service.startReaders()
  const before = (1 + readers) * warmUp
  await drags(service, edit, 0, before)
  const from = performance.now()
  const own = ownMs()
  const all = process.cpuUsage()
  const { times, last } = await drags(service, edit, before, edits)
  const seconds = (performance.now() - from) / 1000
  const { user, system } = process.cpuUsage(all)
  const row = {
    engine,
    'reading threads': readers,
    edits,
    'sheets/s': Math.round((10 * times.length) / seconds) / 10,
    'median ms': Math.round(10 * median(times)) / 10,
    'slowest ms': Math.round(10 * Math.max(...times)) / 10,
    'own ms a sheet': Math.round((10 * (ownMs() - own)) / edits) / 10,
    'all ms a sheet': Math.round((user + system) / 100 / edits) / 10,
    'rays of a sheet': last,
  }
  service.close()
  return row
}

/** The first of its make is checked against the processor: no sheet waits for that on the page, nor is it counted here. */
async function madeReady(pool: Pool, graphics: Graphics): Promise<void> {
  const options = { seed: 1, maxRays: 1 << 16, precision: 0, background: false, graphics, graphicsFirst: true }
  await traceLamp(pool, edited(0), options, () => {})
}

const openPool = (threads = Math.min(MOST_THREADS, availableParallelism())) =>
  makePool(Array.from({ length: threads }, () => nodeTraceWorker()))

/** One board moved with each edit, on so many threads (`--threads N`, all of the machine's) and as many reading threads as the page has then. */
export async function dragBoard(args: readonly string[]): Promise<Dragged[]> {
  const threads = numberAfter(args, '--threads', Math.min(MOST_THREADS, availableParallelism()))
  const readers = numberAfter(args, '--readers', readersFor(threads))
  return [
    await drag(`processor, ${threads} threads`, openPool(threads), readers, undefined, WARM_UP, EDITS, boardMoved),
  ]
}

/** Threads that read first sheets: none, and as many as the service has at most. */
const READERS = [0, 4]

/** On a device. */
export async function dragOnDevice(machine: Machine): Promise<Dragged[]> {
  const rows: Dragged[] = []
  // A software device would take minutes over all of them.
  const [warmUp, edits] = machine.software ? [1, 3] : [WARM_UP, EDITS]
  for (const readers of READERS) {
    const graphics = graphicsOf(machine)
    rows.push(await drag(machine.name, openPool(), readers, graphics, warmUp, edits))
  }
  return rows
}

/** On the processor; and with an engine that answers at once with a million rays traced before: what is left is ours to read them. */
export async function dragHere(): Promise<Dragged[]> {
  const rows: Dragged[] = []
  for (const readers of READERS) {
    rows.push(await drag('processor', openPool(), readers))
    rows.push(await drag('a million rays at once (recorded)', openPool(), readers, recorded()))
  }
  return rows
}

const RECORDED = 1 << 16
const NEVER_LOST = { name: 'recorded', lost: () => null } as unknown as Machine

function recorded(): Graphics {
  const partials = record()
  const gpuTracer: GpuTracer = {
    async trace(from, to) {
      if (from > 0 || to > RECORDED) await new Promise(() => {}) // the sheet after the first is not asked for
      return partials.map(({ sums, maps, exits }) => ({ sums: sums.slice(), maps: maps.slice(), exits: exits.slice() }))
    },
    exits: () => new Promise(() => {}),
    probe: () => Promise.reject(new Error('not asked for here')),
    raysIn: () => RECORDED,
    raysPerMs: () => null,
    close() {},
  }
  return { ...graphicsOf(NEVER_LOST), worth: () => true, stub: () => gpuTracer }
}

function record(): PartialTally[] {
  const lamp = edited(0)
  const scene = compile(lamp, solveOperatingPoint(lamp))
  const shape = chooseShape(scene, lamp)
  const { size, windowLm } = tallyLayout(shape)
  const kernel = fastKernel(scene, shape, { seed: 1, plainRandom: false, exitsBelow: 1 << 15 })
  return Array.from({ length: BATCHES }, (_, batch) => {
    const sums = new Float64Array(windowLm)
    const maps = new Float32Array(size - windowLm)
    const exits = kernel.traceSplit(batch, 0, RECORDED, sums, maps)
    return { sums, maps, exits }
  })
}
