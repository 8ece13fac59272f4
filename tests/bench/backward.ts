// What ± 1 % (95 %) on the searchlight's axial candela costs from either end, on one core, side by side: rays and processor time, from the
// scene on. Error falls as the root of the rays for plain random numbers and faster for the sequence, so rays are counted, not reckoned.
import { backwardEstimate } from '../../src/engine/backward/estimate.ts'
import { makeKernel } from '../../src/engine/forward/kernel.ts'
import { solveOperatingPoint } from '../../src/heat/operating.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { gridPlaces } from '../../src/num/places.ts'
import { mean, standardError, T95 } from '../../src/num/stats.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import { BATCHES } from '../../src/run/types.ts'
import { compile } from '../../src/scene/compile.ts'
import type { Scene } from '../../src/scene/scene.ts'

export interface FromOneEnd {
  from: string
  rays: number
  cpuMs: number
  cd: number
  plusMinusPercent: number
}

const WANTED = 0.01
const CONE = 0.25 * (Math.PI / 180)

/** Processor time of this thread's work, ms: a busy machine matters less. */
function timed<T>(work: () => T): { ms: number; value: T } {
  const from = process.cpuUsage().user
  const value = work()
  return { ms: (process.cpuUsage().user - from) / 1000, value }
}

function backward(scene: Scene, seed: number): FromOneEnd {
  const aim = { kind: 'cone' as const, thetaRad: 0, phiRad: 0, halfRad: CONE }
  // More rays until the error is there; only the last try is charged, as a run that goes on would have it.
  for (let rays = 16_384; ; rays = Math.ceil((rays * 1.25) / BATCHES) * BATCHES) {
    const { ms, value } = timed(() => backwardEstimate(scene, aim, { seed, rays }))
    const share = (T95 * value.se) / value.value
    if (share <= WANTED || rays > 1e8)
      return { from: 'the target', rays, cpuMs: ms, cd: value.value, plusMinusPercent: 100 * share }
  }
}

function forward(scene: Scene, lamp: Lamp, seed: number): FromOneEnd {
  const shape = chooseShape(scene, lamp)
  const at = tallyLayout(shape)
  const kernel = makeKernel(scene, shape, { seed, plainRandom: false, exitsBelow: 0 })
  const sums = Array.from({ length: BATCHES }, () => new Float64Array(at.windowLm))
  const maps = new Float32Array(at.size - at.windowLm)
  const sr = 4 * Math.PI * Math.sin(shape.axialConeHalfRad / 2) ** 2
  let cpuMs = 0
  for (let each = 0; ; ) {
    const to = Math.max(16_384, Math.ceil(each * 1.25))
    cpuMs += timed(() => {
      for (const [batch, s] of sums.entries()) kernel.traceSplit(batch, each, to, s, maps)
    }).ms
    each = to
    const cd = sums.map((s) => (scene.emittedLm * s[at.axialLm]!) / s[at.emitted + 1]! / sr)
    const share = (T95 * standardError(cd)) / mean(cd)
    if (share <= WANTED || each > 1e7)
      return { from: 'the emitters', rays: each * BATCHES, cpuMs, cd: mean(cd), plusMinusPercent: 100 * share }
  }
}

const middle = (rows: FromOneEnd[]) => rows.sort((a, b) => a.cpuMs - b.cpuMs)[rows.length >> 1]!

/** Medians over seeds, engines warm. */
export function directionsCost(seeds = 5): FromOneEnd[] {
  const lamp = gannetHead()
  const scene = compile(lamp, solveOperatingPoint(lamp))
  backward(scene, 99)
  forward(scene, lamp, 99)
  const over = (f: (seed: number) => FromOneEnd) => middle(Array.from({ length: seeds }, (_, i) => f(i + 1)))
  return [over((s) => forward(scene, lamp, s)), over((s) => backward(scene, s))].map((row) => ({
    ...row,
    cpuMs: Math.round(row.cpuMs * 10) / 10,
    cd: Math.round(row.cd),
    plusMinusPercent: Math.round(row.plusMinusPercent * 100) / 100,
  }))
}

/** The searchlight's light out of `count` collimators that cover the same share of the same square, whatever their number. */
function withEmitters(count: number): Lamp {
  const lamp = gannetHead()
  const side = Math.ceil(Math.sqrt(count))
  const pitch = 120 / side
  const sites = gridPlaces(side, side, pitch, pitch).slice(0, count)
  const optics = lamp.opticTypes.map((o) => (o.kind === 'collimator' ? { ...o, exitDiameterMm: 0.9 * pitch } : o))
  return {
    ...lamp,
    opticTypes: optics,
    boardTypes: [{ ...lamp.boardTypes[0]!, sites }],
    boards: [{ ...lamp.boards[0]!, xMm: 0, yMm: 0 }],
  }
}

/** Nanoseconds a backward ray, by number of emitters, and the ratio to the first. */
export function backwardGrowth(): { emitters: number; nsPerRay: number; ratio: number }[] {
  const aim = { kind: 'cone' as const, thetaRad: 0, phiRad: 0, halfRad: CONE }
  const rays = 200_000
  const ns = [9, 100, 1024, 10_000].map((count) => {
    const lamp = withEmitters(count)
    const scene = compile(lamp, solveOperatingPoint(lamp))
    backwardEstimate(scene, aim, { seed: 9, rays: 1600 }) // the grid is made once a scene
    const times = [1, 2, 3].map((seed) => timed(() => backwardEstimate(scene, aim, { seed, rays })).ms)
    return { count, ns: (1e6 * times.sort((a, b) => a - b)[1]!) / rays }
  })
  return ns.map((row) => ({
    emitters: row.count,
    nsPerRay: Math.round(row.ns),
    ratio: Math.round((100 * row.ns) / ns[0]!.ns) / 100,
  }))
}
