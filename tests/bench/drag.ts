// A handle that is held and dragged: edit after edit of the searchlight's lens, each as soon as the sheet of the one before is there. The
// desk does the same in its worker, less the page itself (`npm run bench -- page`).
import { readFileSync } from 'node:fs'
import { availableParallelism } from 'node:os'
import { type Graphics, graphicsOf } from '../../src/engine/choice.ts'
import { nodeHand } from '../../src/engine/cpu/handNode.ts'
import { makePool, type Pool } from '../../src/engine/cpu/pool.ts'
import type { Machine } from '../../src/engine/gpu/device.ts'
import type { Guest, Share } from '../../src/engine/gpu/gpuEngine.ts'
import { fastKernel } from '../../src/engine/wasm/fastKernel.ts'
import { operatingPoint } from '../../src/heat/operating.ts'
import { chooseShape } from '../../src/job/shape.ts'
import type { Sheet } from '../../src/job/sheet.ts'
import { traceLamp } from '../../src/job/trace.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import { BATCHES } from '../../src/run/types.ts'
import { compile } from '../../src/scene/compile.ts'

export interface Dragged {
  engine: string
  edits: number
  'sheets/s': number
  /** From an edit to its first sheet, as it would cross to the page. */
  'median ms': number
  'slowest ms': number
  /** Processor time of the one thread that compiles, orders and reads; NaN where the system doesn't tell. A busy machine matters less. */
  'own ms a sheet': number
  'rays of a sheet': number
}

const EDITS = 60
/** Edits before, as the desk warms its code up when the first lamp has settled. */
const WARM_UP = 40
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

async function firstSheetOf(pool: Pool, lamp: Lamp, graphics: Graphics | undefined): Promise<Sheet | null> {
  let first: Sheet | null = null
  const options = { seed: 1, maxRays: 1 << 30, precision: 0.001, background: false, graphics }
  const control = { stopped: () => first !== null, ready: () => Promise.resolve() }
  await traceLamp(pool, lamp, options, (sheet) => (first ??= structuredClone(sheet)), control)
  return first
}

async function drag(
  engine: string,
  pool: Pool,
  graphics?: Graphics,
  warmUp = WARM_UP,
  edits = EDITS,
): Promise<Dragged> {
  await graphics?.ready
  if (graphics && !graphics.standIn) await madeReady(pool, graphics)
  for (let i = 0; i < warmUp; i++) await firstSheetOf(pool, edited(i), graphics)
  const times: number[] = []
  let rays = 0
  const from = performance.now()
  const own = ownMs()
  for (let i = 0; i < edits; i++) {
    const before = performance.now()
    pool.clear()
    rays = (await firstSheetOf(pool, edited(warmUp + i), graphics))?.rays ?? 0
    times.push(performance.now() - before)
  }
  const seconds = (performance.now() - from) / 1000
  return {
    engine,
    edits,
    'sheets/s': Math.round((10 * edits) / seconds) / 10,
    'median ms': Math.round(10 * median(times)) / 10,
    'slowest ms': Math.round(10 * Math.max(...times)) / 10,
    'own ms a sheet': Math.round((10 * (ownMs() - own)) / edits) / 10,
    'rays of a sheet': rays,
  }
}

/** The first of its make is checked against the processor: no sheet waits for that on the page, nor is it counted here. */
async function madeReady(pool: Pool, graphics: Graphics): Promise<void> {
  const options = { seed: 1, maxRays: 1 << 16, precision: 0, background: false, graphics, graphicsFirst: true }
  await traceLamp(pool, edited(0), options, () => {})
}

const openPool = () =>
  makePool(Array.from({ length: Math.min(MOST_THREADS, availableParallelism()) }, () => nodeHand()))

/** On a device. */
export async function dragOnDevice(machine: Machine): Promise<Dragged> {
  const pool = openPool()
  try {
    // A software device would take minutes over all of them.
    const [warmUp, edits] = machine.software ? [1, 3] : [WARM_UP, EDITS]
    return await drag(machine.name, pool, graphicsOf(machine), warmUp, edits)
  } finally {
    pool.close()
  }
}

/** On the processor; and with an engine that answers at once with a million rays traced before: what is left is ours to read them. */
export async function dragHere(): Promise<Dragged[]> {
  const pool = openPool()
  try {
    const processor = await drag('processor', pool)
    return [processor, await drag('a million rays at once (recorded)', pool, recorded())]
  } finally {
    pool.close()
  }
}

const RECORDED = 1 << 16
const NEVER_LOST = { name: 'recorded', lost: () => null } as unknown as Machine

function recorded(): Graphics {
  const shares = record()
  const guest: Guest = {
    async trace(from, to) {
      if (from > 0 || to > RECORDED) await new Promise(() => {}) // the sheet after the first is not asked for
      return shares.map(({ sums, maps, exits }) => ({ sums: sums.slice(), maps: maps.slice(), exits: exits.slice() }))
    },
    exits: () => new Promise(() => {}),
    probe: () => Promise.reject(new Error('not asked for here')),
    raysIn: () => RECORDED,
    raysPerMs: () => null,
    close() {},
  }
  return { ...graphicsOf(NEVER_LOST), worth: () => true, standIn: () => guest }
}

function record(): Share[] {
  const lamp = edited(0)
  const scene = compile(lamp, operatingPoint(lamp))
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
