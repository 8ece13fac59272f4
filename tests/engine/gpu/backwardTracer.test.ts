// Backward tracing on a device that fails: no count may be lost, and what the device loses the processor traces again.
import { expect, test } from 'vitest'
import type { Aim } from '../../../src/engine/backward/aim.ts'
import { backwardEstimate } from '../../../src/engine/backward/estimate.ts'
import { SUM_HITS, SUM_LM, SUM_SQUARES, SUM_W } from '../../../src/engine/backward/estimator.ts'
import { sourcesOf } from '../../../src/engine/backward/sources.ts'
import { graphicsOf } from '../../../src/engine/choice.ts'
import {
  BACK_DRAWS,
  BACK_SCORE,
  BACK_WEIGHT,
  backwardAgrees,
  backwardEnds,
} from '../../../src/engine/gpu/backwardCheck.ts'
import { unsupportedBackward } from '../../../src/engine/gpu/backwardEngine.ts'
import { backwardTables } from '../../../src/engine/gpu/backwardSetup.ts'
import { type BackwardTracer, makeBackwardTracer } from '../../../src/engine/gpu/backwardTracer.ts'
import { RECORD_FLOATS } from '../../../src/engine/gpu/readBack.ts'
import { makeGpuBackward } from '../../../src/engine/gpuBackward.ts'
import { makeBackwardEstimates } from '../../../src/engine/progressive.ts'
import { inlineWorker, makePool } from '../../../src/engine/workers/pool.ts'
import { chooseShape } from '../../../src/job/beam/pilot.ts'
import { benchCheck, gannetHead } from '../../../src/library/demos.ts'
import { Cancelled } from '../../../src/num/scheduler.ts'
import * as KIND from '../../../src/optics/kindRow.ts'
import { W } from '../../../src/optics/records.ts'
import { BATCHES } from '../../../src/run/types.ts'
import { type FakeOptions, fakeDevice } from '../../kit/fakeDevice.ts'
import { sceneOf } from '../../kit/traceHere.ts'

const lamp = benchCheck()
const scene = sceneOf(lamp)
const shape = chooseShape(scene, lamp)
const axis: Aim = { kind: 'cone', thetaRad: 0, phiRad: 0, halfRad: shape.axialConeHalfRad }
const pipeline = { getBindGroupLayout: () => ({}) } as unknown as GPUComputePipeline
const SEED = 3

function eye(options: FakeOptions = {}) {
  const fake = fakeDevice(options)
  return { fake, backwardTracer: makeBackwardTracer(fake.machine, pipeline, scene, shape, SEED) }
}

/** Two workgroups a batch: each of half the rays, with sums that need both of their words. */
const counts = (rays: number) => (bytes: ArrayBuffer) => {
  const words = new Uint32Array(bytes)
  const floats = new Float32Array(bytes)
  for (let group = 0; group < words.length / 8; group++) {
    words.set([7, 3, 5, 1, 2, rays], 8 * group)
    floats[8 * group + 6] = 0.5
  }
}

test('sums are read from both of their words, workgroup by workgroup', async () => {
  const { backwardTracer } = eye({ fill: counts(64) })
  const sums = await backwardTracer.trace(axis, 0, 128)
  expect(sums).toHaveLength(BATCHES)
  for (const sum of sums) {
    expect(sum[SUM_LM]).toBe(2 * (3 * 2 ** 32 + 7))
    expect(sum[SUM_W]).toBe(2 * (2 ** 32 + 5))
    expect(sum[SUM_HITS]).toBe(4)
    expect(sum[SUM_SQUARES]).toBe(2 ** 52)
  }
})

test('a device that loses count of its backward rays is given up', async () => {
  const { backwardTracer, fake } = eye({ fill: counts(63) })
  await expect(backwardTracer.trace(axis, 0, 128)).rejects.toThrow('lost count of its backward rays (126 of 128 ended)')
  expect(fake.machine.gaveUp()).toBe(true)
})

test('closed on the way, it is dropped: nobody goes on for a lamp that nobody waits for', async () => {
  const { backwardTracer } = eye({ fill: counts(64) })
  const going = backwardTracer.trace(axis, 0, 128)
  backwardTracer.close()
  await expect(going).rejects.toThrow(Cancelled)
})

test('what a device loses on the way the processor sees again: the same estimate as without it', async () => {
  const requests: [number, number][] = []
  let there = true
  const dies: BackwardTracer = {
    async trace(_aim, from, to) {
      requests.push([from, to])
      there = false
      throw new Error('lost')
    },
    probe: () => Promise.reject(new Error('none')),
    close() {},
  }
  const pool = makePool([inlineWorker()])
  const options = { seed: SEED, plainRandom: false, exitsBelow: 0 }
  const far = makeBackwardEstimates(pool, scene, shape, options, () => (there ? dies : null))!
  expect(far.firstRays()).toBe(1 << 13)
  const estimate = far.at(axis)
  const first = await estimate.upTo(64)
  expect(requests).toEqual([[0, 64]])
  expect(far.firstRays()).toBe(256)
  const second = await estimate.upTo(200)
  expect(requests).toHaveLength(1)
  // To the last bit, but for the sum of squares: only whole numbers add up in any order.
  const here = (each: number) => backwardEstimate(scene, axis, { seed: SEED, rays: each * BATCHES }).batches
  expect(first.batches).toEqual(here(64))
  expect(second.batches).toEqual(here(200))
  far.close()
  pool.close()
})

test('the helper lets a device go that fails, and says why', async () => {
  const { machine } = fakeDevice()
  const helper = makeGpuBackward(graphicsOf(machine), scene, shape, SEED)
  expect(helper.tracer()).toBeNull()
  await helper.ready
  // All zero: no ray of the check was traced.
  expect(helper.tracer()).toBeNull()
  expect(helper.fault()).toContain('the graphics device lost count of its backward rays (0 of 64 ended)')
  helper.close()
  // A device in software is left to the run that asked for it.
  const software = fakeDevice({ name: 'SwiftShader' })
  const slow = makeGpuBackward(graphicsOf(software.machine), scene, shape, SEED)
  await slow.ready
  expect([software.machine.software, slow.tracer(), slow.fault(), software.made()]).toEqual([true, null, '', 0])
  const none = makeGpuBackward(undefined, scene, shape, SEED)
  await none.ready
  expect([none.tracer(), none.fault()]).toEqual([null, ''])
})

test('the check: a device that traces another path, or sees less light, is not trusted', () => {
  const rays = 256
  const wide: Aim = { kind: 'disc', xMm: 0, yMm: 0, zMm: 2000, discMm: 100 }
  const scene = sceneOf(gannetHead())
  const endOf = backwardEnds(scene, wide, SEED)
  const records = new Float32Array(rays * RECORD_FLOATS)
  for (let i = 0; i < rays; i++) {
    const { ray, draws, score } = endOf(i % BATCHES, Math.floor(i / BATCHES))
    records[i * RECORD_FLOATS + BACK_WEIGHT] = ray[W]!
    records[i * RECORD_FLOATS + BACK_DRAWS] = draws
    records[i * RECORD_FLOATS + BACK_SCORE] = score
  }
  expect(backwardAgrees(scene, wide, SEED, records)).toBeNull()
  expect(backwardAgrees(scene, wide, SEED + 1, records)).toContain('rays traced backwards differ')
  for (const at of [BACK_WEIGHT, BACK_DRAWS, BACK_SCORE]) {
    const wrong = records.slice()
    for (let i = 0; i < rays; i++) wrong[i * RECORD_FLOATS + at]! *= 0.9
    expect(backwardAgrees(scene, wide, SEED, wrong), `${at}`).toContain('differ')
  }
})

test('planes and sources go to the device as the processor has them', () => {
  const lit = sceneOf(gannetHead())
  const sources = sourcesOf(lit)
  const { backwardQuads, words, places } = backwardTables(lit, sources)
  const plane = sources.planes[0]!
  expect(places.planes).toBe(sources.planes.length)
  expect(Array.from(backwardQuads.subarray(0, 4))).toEqual(
    [plane.zMm, plane.fromX, plane.fromY, plane.perMm].map((x) => Math.fround(x)),
  )
  const [columns, rows, cellsAt] = new Uint32Array(backwardQuads.buffer, 16, 3)
  expect([columns, rows]).toEqual([plane.columns, plane.rows])
  for (let cell = 0; cell < plane.columns * plane.rows; cell++)
    expect(Array.from(words.subarray(words[cellsAt! + cell], words[cellsAt! + cell + 1]))).toEqual(
      Array.from(plane.items.subarray(plane.start[cell], plane.start[cell + 1])),
    )
  const at = 4 * (places.sourcesAt + 2 * 5)
  expect(backwardQuads[at + 2]).toBe(Math.fround(sources.radiance[5]!))
  expect(backwardQuads[at + 4]).toBe(Math.fround(sources.share[5]!))
})

test('what a device does not look at is said in words', () => {
  expect(unsupportedBackward(scene)).toEqual([])
  const kinds = new Float32Array(40 * KIND.size)
  for (let k = 0; k < 40; k++) kinds[k * KIND.size + KIND.spectrumAt] = 1025 * k
  expect(unsupportedBackward({ ...scene, kinds })).toEqual(['More than 32 spectra.'])
})
