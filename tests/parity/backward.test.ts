// Backward tracing on both engines: the same rays, the same sums of them; and both directions of one lamp on the device.
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Aim } from '../../src/engine/backward/aim.ts'
import { type BackwardEstimate, estimateFrom, TRUSTED } from '../../src/engine/backward/estimate.ts'
import { makeBackwardKernel, SUM_HITS, SUM_LM, SUM_SQUARES, SUM_W, SUMS } from '../../src/engine/backward/estimator.ts'
import { sourcesOf } from '../../src/engine/backward/sources.ts'
import { unsupportedBackward } from '../../src/engine/gpu/backwardEngine.ts'
import type { Machine } from '../../src/engine/gpu/device.ts'
import { prepare } from '../../src/engine/gpu/gpuEngine.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { DEMOS } from '../../src/library/demos.ts'
import { mean, standardError } from '../../src/num/stats.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import { BATCHES } from '../../src/run/types.ts'
import type { Scene } from '../../src/scene/scene.ts'
import { amount } from '../kit/amount.ts'
import { broadLamp } from '../kit/forwardBackward.ts'
import { otherMaterial, randomLamp } from '../kit/randomLamp.ts'
import { sceneOf } from '../kit/traceHere.ts'
import { BACK_CAUSES, type ComparedLooks, compareLooks, DIFFERENCES, lookoutOf, SEED } from './bothBackward.ts'
import { SEEDS, testDevice } from './bothEngines.ts'

const PER_BATCH = 160
/** Of all rays at least so many are the same; of one look's, with many bounces, a few less. */
const SAME = 0.999
const SAME_OF_ONE = 0.99
/** Of the rest, so many are rounding's (bothLooks.ts). */
const EXPLAINED = 0.8

/** All directions near the axis; one direction off it; a place in front of the lamp; all round the axis. */
const AIMS: readonly Aim[] = [
  { kind: 'band', fromRad: 0, toRad: 0.7 },
  { kind: 'cone', thetaRad: 0.05, phiRad: 2, halfRad: 0.05 },
  { kind: 'disc', xMm: 200, yMm: -100, zMm: 4000, discMm: 400 },
  { kind: 'ring', thetaRad: 0.1, halfRad: 0.02 },
]

let machine: Machine
const counted: (ComparedLooks & { name: string })[] = []
const total = (of: (c: ComparedLooks) => number) => counted.reduce((sum, c) => sum + of(c), 0)
beforeAll(async () => {
  machine = await testDevice()
})
afterAll(() => {
  const differs = DIFFERENCES.map((kind) => `${total((c) => c.differs[kind])} in ${kind}`)
  const causes = BACK_CAUSES.map((cause) => `${total((c) => c.causes[cause])}: ${cause}`)
  console.log(
    `${machine?.name}: of ${total((c) => c.rays)} backward rays (${total((c) => c.scored)} met light) of ${counted.length} looks differ ` +
      `${differs.join(', ')}\n  ${causes.join('\n  ')}`,
  )
  machine?.device.destroy()
})

/** Their sums on the processor. */
function sumsHere(scene: Scene, aim: Aim, perBatch: number): Float64Array[] {
  const kernel = makeBackwardKernel(scene, aim, SEED, sourcesOf(scene))
  return Array.from({ length: BATCHES }, (_, batch) => {
    const sums = new Float64Array(SUMS)
    kernel.traceBatch(batch, 0, perBatch, sums)
    return sums
  })
}

const over = (sums: Float64Array[], of: number) => sums.reduce((sum, s) => sum + s[of]!, 0)

async function check(name: string, lamp: Lamp): Promise<void> {
  const scene = sceneOf(lamp)
  if (!(scene.emittedW > 0) || unsupportedBackward(scene).length > 0) return
  const backwardTracer = await lookoutOf(machine, scene, chooseShape(scene, lamp))
  for (const aim of AIMS) {
    const compared = await compareLooks(backwardTracer, scene, aim, PER_BATCH)
    counted.push({ name, ...compared })
    const show = () => `${name} ${JSON.stringify(aim)} ${JSON.stringify(compared.worst.slice(0, 3), null, 1)}`
    expect(compared.rays - compared.other, show()).toBeGreaterThanOrEqual(SAME_OF_ONE * compared.rays)
  }
  const aim = AIMS[0]!
  const here = sumsHere(scene, aim, PER_BATCH)
  const there = await backwardTracer.trace(aim, 0, PER_BATCH)
  // In pieces, to the last step: each ray is rounded alone, and whole numbers add up in any order.
  const pieces = [await backwardTracer.trace(aim, 0, 63), await backwardTracer.trace(aim, 63, PER_BATCH)]
  for (const [batch, sum] of there.entries())
    for (const of of [SUM_LM, SUM_W, SUM_HITS]) expect(pieces[0]![batch]![of]! + pieces[1]![batch]![of]!).toBe(sum[of])
  const { other } = counted.findLast((c) => c.name === name && c.scored >= 0)!
  expect(Math.abs(over(there, SUM_HITS) - over(here, SUM_HITS)), name).toBeLessThanOrEqual(other + 3)
  const scale = makeBackwardKernel(scene, aim, SEED, sourcesOf(scene))
  const [a, b] = [estimateFrom(scale, here, PER_BATCH), estimateFrom(scale, there, PER_BATCH)]
  closeTo(name, a, b)
  if (over(here, SUM_SQUARES) > 0 && other === 0)
    expect(over(there, SUM_SQUARES) / over(here, SUM_SQUARES), name).toBeCloseTo(1, 2)
}

/** The same rays: far closer than chance would bring two looks. */
function closeTo(name: string, a: BackwardEstimate, b: BackwardEstimate): void {
  const slack = (value: number, se: number) => Math.max(0.5 * se, 1e-4 * value)
  expect(Math.abs(a.value - b.value), name).toBeLessThanOrEqual(slack(a.value, a.se))
  expect(Math.abs(a.watts.value - b.watts.value), name).toBeLessThanOrEqual(slack(a.watts.value, a.watts.se))
}

describe('ray by ray', () => {
  test.each(SEEDS)('random lamp %i', async (seed) => {
    // One broad emitter, so that more rays meet light; every third as it comes, with several small ones.
    await check(`random ${seed}`, seed % 3 === 0 ? randomLamp(seed) : broadLamp(seed))
  })

  test.each(Object.keys(DEMOS))('example %s', async (id) => {
    await check(id, DEMOS[id]!())
  })

  test('a lens whose absorption goes over the wavelength: PVC, with facets cut for silicone', async () => {
    await check('other material', otherMaterial(broadLamp(5), 5))
  })

  test('two kinds of emitters and a line: a wavelength is drawn for all of them', async () => {
    await check('several spectra', severalSpectra())
  })

  test('of all rays together 999 in 1,000 are the same', () => {
    expect(new Set(counted.map((c) => c.name)).size).toBeGreaterThanOrEqual(amount(20, 30))
    expect(total((c) => c.scored)).toBeGreaterThan(0.1 * total((c) => c.rays))
    expect(total((c) => c.rays - c.other)).toBeGreaterThanOrEqual(SAME * total((c) => c.rays))
    const unseen = total((c) => c.causes['not seen on the processor'])
    expect(total((c) => c.other) - unseen).toBeGreaterThanOrEqual(EXPLAINED * total((c) => c.other))
  })
})

/** The searchlight with boards of other emitters among its own: a cooler white, and a single line. */
function severalSpectra(): Lamp {
  const lamp = DEMOS['gannet-head']!()
  const [type] = lamp.emitterTypes
  const board = lamp.boardTypes[0]!
  lamp.emitterTypes.push(
    { ...type!, id: 'other', spectrum: { kind: 'white', classK: 3000 } },
    { ...type!, id: 'line', spectrum: { kind: 'mono', wavelengthNm: 590 } },
  )
  lamp.boardTypes.push({ ...board, id: 'other', emitter: 'other' }, { ...board, id: 'line', emitter: 'line' })
  lamp.boards = lamp.boards.map((b, i) => ({ ...b, type: i % 3 === 0 ? b.type : i % 3 === 1 ? 'other' : 'line' }))
  return lamp
}

describe('both ends on the device', () => {
  const APART = 4
  /** Half degrees: out to 5°, 20° and 50°, as in tests/fuzz/forwardBackward.test.ts. */
  const EDGES = [0, 10, 40, 100]
  const BIN = Math.PI / 360
  const FORWARD = 4096
  const BACKWARD = 2048
  const LAMPS = amount([8, 10, 13], [1, 2, 4, 5, 7, 8, 10, 11, 13, 14, 16, 17, 19, 20, 22, 23])
  let compared = 0

  test.each(LAMPS)('broad lamp %i', async (seed) => {
    const lamp = broadLamp(seed)
    const scene = sceneOf(lamp)
    if (unsupportedBackward(scene).length > 0) return
    const shape = { ...chooseShape(scene, lamp), fineHalfRad: Math.PI / 2, fineBins: 180 }
    const prepared = await prepare(machine, scene, shape, { seed, plainRandom: false, exitsBelow: 0 })
    if (!prepared.ok) throw new Error(prepared.why)
    const partials = await prepared.gpuTracer.trace(0, FORWARD)
    prepared.gpuTracer.close()
    // With seed 1002 lamp 2 stands 4.9 standard errors off what many seeds say, on either engine alike (to 1e-7): the error from sixteen batches.
    const backwardTracer = await lookoutOf(machine, scene, shape, seed + 2000)
    const { profileLm, emitted } = tallyLayout(shape)
    for (const [k, to] of EDGES.slice(1).entries()) {
      const from = EDGES[k]!
      const aim: Aim = { kind: 'band', fromRad: from * BIN, toRad: to * BIN }
      const scale = makeBackwardKernel(scene, aim, seed + 2000, sourcesOf(scene))
      const back = estimateFrom(scale, await backwardTracer.trace(aim, 0, BACKWARD), BACKWARD)
      const sr = 2 * Math.PI * (Math.cos(aim.fromRad) - Math.cos(aim.toRad))
      const cd = partials.map(({ sums }) => {
        const lm = sums.subarray(profileLm + from, profileLm + to).reduce((a, b) => a + b, 0)
        return (lm * scene.emittedLm) / sums[emitted + 1]! / sr
      })
      if (back.effective < TRUSTED || !(mean(cd) > 0)) continue
      const apart = (back.value - mean(cd)) / Math.hypot(back.se, standardError(cd))
      expect(Math.abs(apart), `${from} to ${to} half degrees: ${mean(cd)}, backward ${back.value}`).toBeLessThan(APART)
      compared++
    }
    backwardTracer.close()
  })

  test('enough was compared', () => {
    expect(compared).toBeGreaterThan(1.25 * LAMPS.length)
  })
})
