// Speed of the graphics engine on whatever device is there, full physics, maps and ledger and all: rays per second of every example, and of
// the searchlight the time to ± 1 % on the axis, of a whole sheet while a handle is dragged, and what a ray costs.

import type { Machine } from '../../src/engine/gpu/device.ts'
import { openNodeDevice } from '../../src/engine/gpu/deviceNode.ts'
import { prepare } from '../../src/engine/gpu/gpuEngine.ts'
import type { GpuTracer } from '../../src/engine/gpu/types.ts'
import { solveOperatingPoint } from '../../src/heat/operating.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { DEMOS, gannetHead } from '../../src/library/demos.ts'
import { mean, standardError, T95 } from '../../src/num/stats.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import { BATCHES, FATES } from '../../src/run/types.ts'
import { compile } from '../../src/scene/compile.ts'
import { type Dragged, dragOnDevice } from './drag.ts'
import { type RayCost, rayCost } from './gpuCost.ts'
import { withEmitters, withGrooves } from './growth.ts'

interface GpuSpeed {
  lamp: string
  'million rays/s': number
  'spread %': number
  'rays a repeat': number
  'ms beside': number
}

export interface GpuBench {
  device: string
  rows: GpuSpeed[]
  axis: { rays: number; ms: number; '± %': number }
  long: LongRun
  growth: Awaited<ReturnType<typeof growthOf>>
  drag: Dragged[]
  cost: RayCost
}

interface LongRun {
  rays: number
  seconds: number
  'rays/s': number
  /** Ends of all rays over what was given to them, radiant and luminous: no count lost, none stuck. */
  'ledger W': number
  'ledger lm': number
  /** Delivered share, and its difference from a hundredth of the rays in standard errors: large sums take small additions. */
  delivered: number
  'off a short run, se': number
}

export const median = (values: number[]) => [...values].sort((a, b) => a - b)[values.length >> 1]!
const REPEATS = 7
const GROWTH_REPEATS = 15
const LONG_MS = 300
const WANTED = 0.01

export async function gpuBench(): Promise<GpuBench | { why: string }> {
  const opened = await openNodeDevice()
  if (!opened.ok) return { why: opened.why }
  const { machine } = opened
  const rows: GpuSpeed[] = []
  for (const make of Object.values(DEMOS)) {
    const gpuTracer = await guestOf(machine, make())
    if ('why' in gpuTracer) return gpuTracer
    rows.push(await speedOf(make().name, gpuTracer))
    gpuTracer.close()
  }
  const axis = await axisTime(machine)
  const cost = await rayCost(machine, gannetHead())
  const long = await longRun(machine)
  const growth = [
    ...(await growthOf(machine, 'emitters', [7, 1000, 10_000], withEmitters)),
    ...(await growthOf(machine, 'grooves', [100, 1000, 4000], withGrooves)),
  ]
  const drag = await dragOnDevice(machine)
  machine.device.destroy()
  return { device: machine.name, rows, axis, long, growth, drag, cost }
}

async function guestOf(machine: Machine, lamp: Lamp): Promise<GpuTracer | { why: string }> {
  const scene = compile(lamp, solveOperatingPoint(lamp))
  const options = { seed: 1, plainRandom: false, exitsBelow: 0 }
  const prepared = await prepare(machine, scene, chooseShape(scene, lamp), options)
  return prepared.ok ? prepared.gpuTracer : { why: `${lamp.name}: ${prepared.why}` }
}

/** Repeats go round the lamps, and each is compared with the first lamp's of the same round: what else the machine does falls on all alike. */
async function growthOf(machine: Machine, what: string, counts: number[], make: (count: number) => Lamp) {
  const devices: GpuTracer[] = []
  for (const count of counts) {
    const gpuTracer = await guestOf(machine, make(count))
    if ('why' in gpuTracer) throw new Error(gpuTracer.why)
    devices.push(gpuTracer)
  }
  const ps = counts.map((): number[] => [])
  const each: number[] = []
  for (const gpuTracer of devices) each.push(await raysWorthTiming(gpuTracer))
  for (let i = 0; i < GROWTH_REPEATS; i++)
    for (const [k, gpuTracer] of devices.entries()) ps[k]!.push(1e9 / (await timed(gpuTracer, each[k]!)).raysPerMs)
  for (const gpuTracer of devices) gpuTracer.close()
  const round = (x: number) => Math.round(100 * x) / 100
  return counts.map((count, k) => {
    const ratios = ps[k]!.map((own, i) => own / ps[0]![i]!).sort((x, y) => x - y)
    const quarter = Math.floor(ratios.length / 4)
    return {
      what,
      count,
      'ps a ray': round(median(ps[k]!)),
      ratio: round(median(ratios)),
      'middle half': `${round(ratios[quarter]!)} to ${round(ratios[ratios.length - 1 - quarter]!)}`,
    }
  })
}

/** Of each batch: so many that a chunk of four times as many takes long enough to time. */
async function raysWorthTiming(gpuTracer: GpuTracer): Promise<number> {
  let each = 1 << 14
  for (let took = 0; took < LONG_MS / 4 && each < 2 ** 29; each *= 2)
    took = Math.min(await time(gpuTracer, each), await time(gpuTracer, each))
  return each
}

/** Two lengths of chunk: the difference is rays alone. */
async function timed(gpuTracer: GpuTracer, each: number): Promise<{ raysPerMs: number; besideMs: number }> {
  const long = await time(gpuTracer, 4 * each)
  const short = await time(gpuTracer, each)
  return { raysPerMs: (3 * each * BATCHES) / (long - short), besideMs: short - (long - short) / 3 }
}

async function speedOf(lamp: string, gpuTracer: GpuTracer): Promise<GpuSpeed> {
  const each = await raysWorthTiming(gpuTracer)
  const speeds: number[] = []
  const beside: number[] = []
  for (let i = 0; i < REPEATS; i++) {
    const { raysPerMs, besideMs } = await timed(gpuTracer, each)
    speeds.push(raysPerMs)
    beside.push(besideMs)
  }
  const perMs = median(speeds)
  return {
    lamp,
    'million rays/s': Math.round(perMs / 10) / 100,
    'spread %': Math.round((100 * (Math.max(...speeds) - Math.min(...speeds))) / perMs),
    'rays a repeat': 3 * each * BATCHES,
    'ms beside': Math.round(100 * median(beside)) / 100,
  }
}

async function time(gpuTracer: GpuTracer, each: number): Promise<number> {
  const from = performance.now()
  await gpuTracer.trace(0, each)
  return performance.now() - from
}

/** From rays ordered to sums read back, forward, as many rays as ± 1 % (95 %) on the axial candela takes. */
async function axisTime(machine: Machine): Promise<GpuBench['axis']> {
  const lamp = gannetHead()
  const gpuTracer = await guestOf(machine, lamp)
  if ('why' in gpuTracer) throw new Error(gpuTracer.why)
  const scene = compile(lamp, solveOperatingPoint(lamp))
  const at = tallyLayout(chooseShape(scene, lamp))
  for (let each = 1 << 16; ; each = Math.ceil(each * 1.25)) {
    const times: number[] = []
    let share = 1
    for (let i = 0; i < REPEATS; i++) {
      const from = performance.now()
      const partials = await gpuTracer.trace(0, each)
      times.push(performance.now() - from)
      const cd = partials.map(({ sums }) => sums[at.axialLm]! / sums[at.emitted + 1]!)
      share = (T95 * standardError(cd)) / mean(cd)
    }
    if (share > WANTED && each < 1 << 22) continue
    gpuTracer.close()
    return { rays: each * BATCHES, ms: Math.round(10 * median(times)) / 10, '± %': Math.round(1e4 * share) / 100 }
  }
}

/** Ten thousand million rays in one chunk: the sums neither overflow nor stagnate. */
async function longRun(machine: Machine): Promise<LongRun> {
  const lamp = gannetHead()
  const gpuTracer = await guestOf(machine, lamp)
  if ('why' in gpuTracer) throw new Error(gpuTracer.why)
  const scene = compile(lamp, solveOperatingPoint(lamp))
  const at = tallyLayout(chooseShape(scene, lamp))
  const each = 1e10 / BATCHES
  const short = await gpuTracer.trace(0, each / 100)
  const from = performance.now()
  const long = await gpuTracer.trace(0, each)
  const seconds = (performance.now() - from) / 1000
  gpuTracer.close()
  const ratio = (first: number, emitted: number) => {
    let ends = 0
    let inputs = 0
    for (const { sums } of long) {
      for (let f = 0; f < FATES.length; f++) ends += sums[first + f]!
      inputs += sums[emitted]!
    }
    return ends / inputs
  }
  const line = at.fateLm + FATES.indexOf('delivered')
  const partials = (of: typeof long) => of.map(({ sums }) => sums[line]! / sums[at.emitted + 1]!)
  const se = Math.hypot(standardError(partials(short)), standardError(partials(long)))
  return {
    rays: each * BATCHES,
    seconds: Math.round(1000 * seconds) / 1000,
    'rays/s': Math.round((each * BATCHES) / seconds),
    'ledger W': ratio(at.fateW, at.emitted),
    'ledger lm': ratio(at.fateLm, at.emitted + 1),
    delivered: mean(partials(long)),
    'off a short run, se': Math.round((100 * (mean(partials(long)) - mean(partials(short)))) / se) / 100,
  }
}
