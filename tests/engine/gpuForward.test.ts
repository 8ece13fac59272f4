// Rounds traced by a gpuTracer, here a kernel of the processor's own: what it traces, what it loses, what comes late.
import { expect, test } from 'vitest'
import { makeKernel } from '../../src/engine/forward/kernel.ts'
import { acquireMaps, releaseMaps } from '../../src/engine/gpu/mapBuffers.ts'
import type { GpuTracer, PartialTally } from '../../src/engine/gpu/types.ts'
import { recycleRun } from '../../src/engine/partialTallies.ts'
import { nextGpuRoundEnd, type RoundsOptions, runRounds } from '../../src/engine/rounds.ts'
import { inlineWorker, makePool } from '../../src/engine/workers/pool.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import { stileLamp } from '../../src/library/demos.ts'
import { Cancelled } from '../../src/num/scheduler.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import { BATCHES, EXIT_STRIDE, type Run } from '../../src/run/types.ts'
import { expectWithin } from '../kit/expect.ts'
import { expectSameRun } from '../kit/sameRun.ts'
import { sceneOf } from '../kit/traceHere.ts'

const lamp = stileLamp()
const scene = sceneOf(lamp)
const shape = chooseShape(scene, lamp)
const { windowLm, size } = tallyLayout(shape)
const RAYS = 1 << 18
const OPTIONS: RoundsOptions = { seed: 3, maxRays: RAYS, exitsBelow: RAYS }

/** Fails from its `failsAt`-th round on. */
function kernelGuest({ failsAt = Number.POSITIVE_INFINITY, raysIn = 0 } = {}) {
  const requests: { from: number; to: number; exitsBelow: number }[] = []
  const late: { from: number; to: number }[] = []
  let closed = false
  const trace = (from: number, to: number, exitsBelow: number): PartialTally[] => {
    const kernel = makeKernel(scene, shape, { seed: 3, plainRandom: false, exitsBelow })
    return Array.from({ length: BATCHES }, (_, batch) => {
      const sums = new Float64Array(windowLm)
      const maps = new Float32Array(size - windowLm)
      return { sums, maps, exits: kernel.traceSplit(batch, from, to, sums, maps) }
    })
  }
  const gpuTracer: GpuTracer = {
    async trace(from, to, exitsBelow = OPTIONS.exitsBelow) {
      requests.push({ from, to, exitsBelow })
      if (requests.length >= failsAt) throw new Error('gone')
      return trace(from, to, exitsBelow)
    },
    async exits(from, to) {
      late.push({ from, to })
      return trace(from, to, OPTIONS.exitsBelow).map((share) => share.exits)
    },
    probe: () => Promise.reject(new Error('not asked for here')),
    raysIn: () => raysIn,
    raysPerMs: () => null,
    close() {
      closed = true
    },
  }
  return { gpuTracer, asked: requests, late, closed: () => closed }
}

async function run(options: Partial<RoundsOptions>, seen: (run: Run) => void = () => {}): Promise<Run> {
  const pool = makePool([inlineWorker()])
  try {
    return await runRounds(pool, scene, shape, { ...OPTIONS, ...options }, (r) => {
      seen(r)
      return true
    })
  } finally {
    pool.close()
  }
}

test('a gpuTracer lost in its second round: the pool goes on where that began, and the run is as if it had traced all', async () => {
  const alone = await run({})
  const { gpuTracer, asked: requests } = kernelGuest({ failsAt: 2 })
  const rays: number[] = []
  const helped = await run({ gpuTracer: () => gpuTracer }, (r) => rays.push(r.rays))
  expectSameRun(helped, alone)
  // Asked for no third round, although it was still offered.
  expect(requests.map(({ from }) => from)).toEqual([0, 1024])
  expect(rays).toEqual([1024, 4096, 16384].map((n) => n * BATCHES))
})

test('tallies that another run has left full give the same run: dense partials and sparse ones', async () => {
  const fresh = await run({ maxRays: 1 << 17, gpuTracer: () => kernelGuest({ raysIn: 5000 }).gpuTracer })
  const sparse = await run({ maxRays: 1 << 17 })
  const copy = structuredClone(fresh)
  const [a, b] = [await run({ seed: 8 }), await run({ seed: 9 })]
  recycleRun(a)
  recycleRun(b)
  expectSameRun(await run({ maxRays: 1 << 17, gpuTracer: () => kernelGuest({ raysIn: 5000 }).gpuTracer }), copy)
  expectSameRun(await run({ maxRays: 1 << 17 }), sparse)
  // And the halves are the sums of their batches.
  for (const [parity, half] of copy.halves!.entries()) {
    const sum = new Float64Array(size)
    for (let batch = parity; batch < BATCHES; batch += 2)
      for (let i = 0; i < size; i++) sum[i]! += copy.tallies[batch]![i]!
    for (let i = 0; i < size; i++)
      if (half[i] !== sum[i]) expectWithin(half[i]!, sum[i]!, { rel: 1e-11, because: 'order of sums over rounds' })
  }
})

test('a gpuTracer lost in its first round', async () => {
  expectSameRun(await run({ gpuTracer: () => kernelGuest({ failsAt: 1 }).gpuTracer }), await run({}))
})

test('somebody watches: the first round brings few exit records, the second those it left out', async () => {
  const { gpuTracer, asked: requests, late } = kernelGuest({ raysIn: 5000 })
  const seen: Run[] = []
  const watched = await run({ gpuTracer: () => gpuTracer, watched: true }, (r) => seen.push(r))
  const alone = await run({})
  expect(requests[0]).toEqual({ from: 0, to: 4096, exitsBelow: 1 << 15 })
  expect(late).toEqual([{ from: 2048, to: 4096 }])
  expect(seen[0]!.rays).toBe(4096 * BATCHES)
  expect(seen[0]!.exits.fromRays).toBe(1 << 15)
  expect(seen[1]!.exits.fromRays).toBe(seen[1]!.rays)
  expect(watched.exits.count).toBe(alone.exits.count)
  const sum = (r: Run) => r.exits.data.reduce((all, x) => all + x, 0)
  expectWithin(sum(watched), sum(alone), { rel: 1e-9, because: 'the same rows in another order' })
  expect(watched.exits.batch.length * EXIT_STRIDE).toBe(watched.exits.data.length)
})

test('a gpuTracer lost after such a first round: the pool brings the records that are missing', async () => {
  const { gpuTracer } = kernelGuest({ raysIn: 5000, failsAt: 2 })
  const watched = await run({ gpuTracer: () => gpuTracer, watched: true })
  const alone = await run({})
  expect([watched.exits.count, watched.exits.fromRays]).toEqual([alone.exits.count, alone.exits.fromRays])
  for (let i = 0; i < windowLm; i++) {
    const [a, b] = [watched.tallies[5]![i]!, alone.tallies[5]![i]!]
    if (a !== b) expectWithin(a, b, { rel: 1e-11, because: 'order of sums' })
  }
})

test('unwatched, a gpuTracer’s rounds depend on nothing but the numbers of rays; watched, on its speed, within bounds', () => {
  const ends = (watched: boolean, perMs: number) => {
    const list: number[] = []
    for (let end = 0; list.length < 4; list.push(end))
      end = nextGpuRoundEnd(end, { raysIn: (ms) => perMs * ms }, watched)
    return list
  }
  expect(ends(false, 1)).toEqual(ends(false, 1e6))
  expect(ends(false, 1)).toEqual([1024, 17408, 34816, 69632])
  // A device that does hardly anything in the time of a look gets the smallest rounds, a large one a million rays at once.
  expect(ends(true, 1)).toEqual([1024, 2048, 3072, 4096])
  expect(ends(true, 1e6)).toEqual([65536, 131072, 262144, 524288])
})

test('read aside: the partials come back and the run is the same; kept there, the run ends as dropped', async () => {
  const alone = await run({ maxRays: 1 << 17 })
  const rays: number[] = []
  const aside: RoundsOptions['readElsewhere'] = async (first) => {
    rays.push(first.rays, first.recorded)
    return first.partials
  }
  expectSameRun(await run({ maxRays: 1 << 17, readElsewhere: aside }), alone)
  expect(rays).toEqual([1 << 14, 1 << 14])
  await expect(run({ maxRays: 1 << 17, readElsewhere: async () => null })).rejects.toThrow(Cancelled)
  // The only round there is needs nobody else.
  const never: RoundsOptions['readElsewhere'] = () => Promise.reject(new Error('not asked for here'))
  expect((await run({ maxRays: 1 << 14, readElsewhere: never })).rays).toBe(1 << 14)
})

test('arrays of a device’s maps are used again, each by one at a time', () => {
  const sizes = [3, 5, 3]
  const taken = sizes.map(acquireMaps)
  for (const maps of taken) releaseMaps(maps)
  const again = [acquireMaps(3), acquireMaps(3), acquireMaps(3), acquireMaps(5)]
  expect(again.map((maps) => maps.length)).toEqual([3, 3, 3, 5])
  expect(again.map((maps) => taken.indexOf(maps))).toEqual([0, 2, -1, 1])
})
