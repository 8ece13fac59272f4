// Backward tracing on a graphics device: backward rays per second of every example, and of the searchlight the time to ± 1 % (95 %) on its axial
// candela: of the look alone, and from the edit on.

import type { Aim } from '../../src/engine/backward/aim.ts'
import { estimateFrom } from '../../src/engine/backward/estimate.ts'
import { makeBackwardKernel } from '../../src/engine/backward/estimator.ts'
import { sourcesOf } from '../../src/engine/backward/sources.ts'
import { prepareBackward, prepareBackwardSync } from '../../src/engine/gpu/backwardEngine.ts'
import type { BackwardTracer } from '../../src/engine/gpu/backwardTracer.ts'
import type { Machine } from '../../src/engine/gpu/device.ts'
import { openNodeDevice } from '../../src/engine/gpu/deviceNode.ts'
import { solveOperatingPoint } from '../../src/heat/operating.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { DEMOS, gannetHead } from '../../src/library/demos.ts'
import { T95 } from '../../src/num/stats.ts'
import { BATCHES } from '../../src/run/types.ts'
import { compile } from '../../src/scene/compile.ts'
import { median } from './gpu.ts'

export interface BackwardSpeed {
  lamp: string
  'million backward rays/s': number
  'spread %': number
  'rays a repeat': number
  'met light %': number
}

export interface AxisLook {
  seed: number
  rays: number
  cd: number
  '± %': number
  /** From the look's order to its sums read back and the estimate made; buffers filled before. */
  'ms look': number
  /** From the edited lamp: compiled, sent to the device, looked at, estimated. */
  'ms from the edit': number
}

/** A software device takes a minute over what a real one does in a second: it only shows that the bench runs. */
const repeatsOn = (machine: Machine) => (machine.software ? 3 : 9)
const wantedOn = (machine: Machine) => (machine.software ? 0.05 : 0.01)
const firstOn = (machine: Machine) => (machine.software ? 1 << 8 : 1 << 11)
const seedsOn = (machine: Machine) => (machine.software ? 1 : 5)
const LONG_MS = 100
const axisOf = (lamp: Lamp): Aim => {
  const halfRad = (lamp.reading.axialConeHalfDeg * Math.PI) / 180
  return { kind: 'cone', thetaRad: 0, phiRad: 0, halfRad }
}
const sceneOf = (lamp: Lamp) => compile(lamp, solveOperatingPoint(lamp))
const round = (x: number, digits = 2) => Math.round(10 ** digits * x) / 10 ** digits

export async function gpuBackward(): Promise<
  { device: string; speeds: BackwardSpeed[]; axis: AxisLook[]; prepareMs: number } | { why: string }
> {
  const opened = await openNodeDevice()
  if (!opened.ok) return { why: opened.why }
  const { machine } = opened
  const speeds: BackwardSpeed[] = []
  let prepareMs = 0
  for (const make of machine.software ? [gannetHead] : Object.values(DEMOS)) {
    const lamp = make()
    const scene = sceneOf(lamp)
    const from = performance.now()
    const prepared = await prepareBackward(machine, scene, chooseShape(scene, lamp), 1)
    if (!prepared.ok) return { why: `${lamp.name}: ${prepared.why}` }
    if (speeds.length === 0) prepareMs = round(performance.now() - from, 1)
    speeds.push(await speedOf(lamp, prepared.backwardTracer, firstOn(machine), repeatsOn(machine)))
    prepared.backwardTracer.close()
  }
  const axis: AxisLook[] = []
  for (let seed = 1; seed <= seedsOn(machine); seed++) axis.push(await axisLook(machine, seed))
  machine.device.destroy()
  return { device: machine.name, speeds, axis, prepareMs }
}

async function time(backwardTracer: BackwardTracer, aim: Aim, each: number): Promise<number> {
  const from = performance.now()
  await backwardTracer.trace(aim, 0, each)
  return performance.now() - from
}

/** Two lengths of look: the difference is rays alone. */
async function speedOf(
  lamp: Lamp,
  backwardTracer: BackwardTracer,
  first: number,
  repeats: number,
): Promise<BackwardSpeed> {
  const aim = axisOf(lamp)
  let each = first
  for (let took = 0; took < LONG_MS && each < 1 << 22; each *= 2) took = await time(backwardTracer, aim, each)
  const perMs: number[] = []
  for (let i = 0; i < repeats; i++) {
    const [long, short] = [await time(backwardTracer, aim, each), await time(backwardTracer, aim, each / 4)]
    perMs.push((0.75 * each * BATCHES) / (long - short))
  }
  const { rays, hits } = await hitsOf(backwardTracer, aim)
  const middle = median(perMs)
  return {
    lamp: lamp.name,
    'million backward rays/s': round(middle / 1000),
    'spread %': Math.round((100 * (Math.max(...perMs) - Math.min(...perMs))) / middle),
    'rays a repeat': 0.75 * each * BATCHES,
    'met light %': round((100 * hits) / rays, 1),
  }
}

async function hitsOf(backwardTracer: BackwardTracer, aim: Aim) {
  const each = 1 << 8
  const sums = await backwardTracer.trace(aim, 0, each)
  return { rays: each * BATCHES, hits: sums.reduce((sum, s) => sum + s[2]!, 0) }
}

/** As many rays as ± 1 % takes with this seed: counted, not reckoned. */
async function axisLook(machine: Machine, seed: number): Promise<AxisLook> {
  const aim = axisOf(gannetHead())
  for (let each = firstOn(machine); ; each = 64 * Math.ceil((each * 1.25) / 64)) {
    const { estimate } = await fromTheEdit(machine, seed, each, aim, 0)
    const share = (T95 * estimate.se) / estimate.value
    if (share > wantedOn(machine) && each < 1 << 20) continue
    const runs: Awaited<ReturnType<typeof fromTheEdit>>[] = []
    // Each an edit of its own: the lens a little further on.
    for (let i = 1; i <= repeatsOn(machine); i++) runs.push(await fromTheEdit(machine, seed, each, aim, i))
    return {
      ...{ seed, rays: each * BATCHES, cd: Math.round(estimate.value), '± %': round(100 * share) },
      'ms look': round(median(runs.map((r) => r.lookMs))),
      'ms from the edit': round(median(runs.map((r) => r.allMs))),
    }
  }
}

async function fromTheEdit(machine: Machine, seed: number, each: number, aim: Aim, edit: number) {
  const lamp = gannetHead()
  if (lamp.lens) lamp.lens = { ...lamp.lens, zMm: 1050 + 0.01 * edit }
  const begun = performance.now()
  const scene = sceneOf(lamp)
  const backwardTracer = prepareBackwardSync(machine, scene, chooseShape(scene, lamp), seed)
  if (!backwardTracer) throw new Error(machine.lost() ?? 'the device does not look at this lamp')
  const scale = makeBackwardKernel(scene, aim, seed, sourcesOf(scene))
  const looked = performance.now()
  const estimate = estimateFrom(scale, await backwardTracer.trace(aim, 0, each), each)
  const ended = performance.now()
  backwardTracer.close()
  return { estimate, lookMs: ended - looked, allMs: ended - begun }
}
