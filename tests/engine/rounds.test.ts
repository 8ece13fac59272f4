import { describe, expect, test } from 'vitest'
import { makeKernel } from '../../src/engine/forward/kernel.ts'
import { runRounds, schedule } from '../../src/engine/rounds.ts'
import { inlineWorker, makePool, type TraceWorker } from '../../src/engine/workers/pool.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import { Cancelled } from '../../src/num/scheduler.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import { BATCHES, EXIT_STRIDE, type Run } from '../../src/run/types.ts'
import { findRunFaults } from '../../src/run/validate.ts'
import { expectWithin } from '../kit/expect.ts'
import { randomLamp } from '../kit/randomLamp.ts'
import { expectSameRun } from '../kit/sameRun.ts'
import { sceneOf } from '../kit/traceHere.ts'

// A lamp with a tunnel, a Fresnel lens and a white spectrum.
const SEED = Array.from({ length: 200 }, (_, i) => i + 1).find((seed) => {
  const { lens, tunnel, emitterTypes } = randomLamp(seed)
  return (
    lens?.kind === 'fresnel' &&
    tunnel !== null &&
    tunnel.reflectance > 0.5 &&
    emitterTypes[0]!.spectrum.kind === 'white'
  )
})!
const lamp = randomLamp(SEED)
const scene = sceneOf(lamp)
const shape = chooseShape(scene, lamp)
const { size } = tallyLayout(shape)
const OPTIONS = { seed: 3, plainRandom: false, exitsBelow: 1 << 15 }

async function runWith(workers: TraceWorker[], maxRays: number, after = (_: Run, __: boolean) => true): Promise<Run> {
  const pool = makePool(workers)
  try {
    return await runRounds(pool, scene, shape, { seed: 3, maxRays, exitsBelow: 1 << 15 }, after)
  } finally {
    pool.close()
  }
}

describe('schedule', () => {
  test('a rough look at 16,384 rays, then four times, then steps of a quarter million', () => {
    expect(schedule(1 << 20)).toEqual([1024, 4096, 16384, 32768, 49152, 65536])
    expect(schedule(16)).toEqual([1])
    expect(schedule(1)).toEqual([1])
    expect(schedule(20_000)).toEqual([1024, 1250])
    expect(schedule(16384 * 16)).toEqual([1024, 4096, 16384])
  })
  test('rises, and ends where it should', () => {
    for (const rays of [100, 5000, 70_001, 1_000_000, 123_456_789]) {
      const ends = schedule(rays)
      expect(ends[ends.length - 1]).toBe(Math.ceil(rays / BATCHES))
      for (let i = 1; i < ends.length; i++) expect(ends[i]!).toBeGreaterThan(ends[i - 1]!)
    }
  })
})

describe('one kernel', () => {
  test('cut into pieces, the sums differ by rounding only and the exit rays not at all', () => {
    const kernel = makeKernel(scene, shape, OPTIONS)
    const whole = new Float64Array(size)
    const exits = kernel.trace(5, 0, 2000, whole)
    const cut = new Float64Array(size)
    const parts = [0, 1, 17, 900, 2000]
    const rows = parts.slice(1).map((to, i) => kernel.trace(5, parts[i]!, to, cut))
    expect(Float32Array.from(rows.flatMap((r) => [...r]))).toEqual(exits)
    const maps = tallyLayout(shape).windowLm
    for (let i = 0; i < size; i++) {
      const rounding =
        i < maps
          ? { rel: 1e-12, because: 'order of sums' }
          : { rel: 1e-5, because: 'maps are sums in single precision' }
      if (whole[i] !== cut[i]) expectWithin(cut[i]!, whole[i]!, rounding)
    }
  })
  test('the same chunk again, in another kernel, after other work: the same bits', () => {
    const first = new Float64Array(size)
    const again = new Float64Array(size)
    const a = makeKernel(scene, shape, OPTIONS)
    const exits = a.trace(2, 100, 600, first)
    const b = makeKernel(scene, shape, OPTIONS)
    b.trace(9, 0, 50, new Float64Array(size))
    b.retrace(1, 7, { point: () => {}, stops: () => false, end: () => {} })
    expect(b.trace(2, 100, 600, again)).toEqual(exits)
    expect(again).toEqual(first)
  })
  test('other seeds and batches give other rays', () => {
    const exits = [3, 4].flatMap((seed) =>
      [0, 1].map((batch) =>
        makeKernel(scene, shape, { ...OPTIONS, seed })
          .trace(batch, 0, 200, new Float64Array(size))
          .join(),
      ),
    )
    expect(new Set(exits).size).toBe(4)
  })
  test('exit rays are those of the rays below the bound', () => {
    const below = (exitsBelow: number) =>
      makeKernel(scene, shape, { ...OPTIONS, exitsBelow }).trace(4, 0, 500, new Float64Array(size))
    const all = below(1 << 20)
    // Ray j of batch 4 has index 16 j + 4: a bound of 3204 keeps j < 200.
    const some = below(3204)
    expect(some.length).toBeGreaterThan(0)
    expect(some.length).toBeLessThan(all.length)
    expect(all.subarray(0, some.length)).toEqual(some)
    expect(
      makeKernel(scene, shape, { ...OPTIONS, exitsBelow: 1 << 20 }).trace(4, 0, 200, new Float64Array(size)),
    ).toEqual(some)
    expect(below(0).length).toBe(0)
  })
  test('retraced, a ray ends where it ended: each ray’s weight lies on the lines of its fate', () => {
    const kernel = makeKernel(scene, shape, OPTIONS)
    const at = tallyLayout(shape)
    let checked = 0
    for (let j = 0; j < 300; j++) {
      const tally = new Float64Array(size)
      const exits = kernel.trace(6, j, j + 1, tally)
      let fate = -1
      let corners = 0
      kernel.retrace(6, j, {
        point: () => corners++,
        stops: () => false,
        end: (f) => {
          fate = f
        },
      })
      expect(corners).toBeGreaterThan(0)
      expect(tally[at.fateW + fate], `ray ${j}`).not.toBe(0)
      const delivered = fate === 11 || fate === 12 // delivered, deliveredViaRiser
      expect(exits.length).toBe(delivered ? EXIT_STRIDE : 0)
      checked++
    }
    expect(checked).toBe(300)
  })
})

describe('rounds over a pool', () => {
  test('one hand or eight: the same bits, exit rays included', async () => {
    const one = await runWith([inlineWorker()], 1 << 16)
    const eight = await runWith(
      Array.from({ length: 8 }, () => inlineWorker()),
      1 << 16,
    )
    expect(one.rays).toBe(1 << 16)
    expectSameRun(eight, one)
    expect(findRunFaults(one)).toEqual([])
    expect(one.exits.fromRays).toBe(1 << 15)
  })
  test('answers may come in any order', async () => {
    const one = await runWith([inlineWorker()], 1 << 15)
    /** So many turns of the event loop later. */
    const turnsLater = (turns: number, go: () => void): void =>
      turns > 0 ? void setImmediate(() => turnsLater(turns - 1, go)) : go()
    const order: number[] = []
    const late = (turns: number): TraceWorker => {
      const inner = inlineWorker()
      const onReply: TraceWorker['onReply'] = (take) =>
        inner.onReply((reply) =>
          turnsLater(turns * (reply.task % 3), () => {
            order.push(reply.task)
            take(reply)
          }),
        )
      return { ...inner, onReply }
    }
    const mixed = await runWith([late(0), late(3), late(1)], 1 << 15)
    expect(order).not.toEqual(order.toSorted((a, b) => a - b))
    expectSameRun(mixed, one)
  })
  test('each round’s run is valid and holds what the schedule says; the last is marked', async () => {
    const seen: [number, boolean, number][] = []
    await runWith([inlineWorker(), inlineWorker()], 1 << 16, (run, last) => {
      expect(findRunFaults(run)).toEqual([])
      seen.push([run.rays, last, run.exits.fromRays])
      return true
    })
    expect(seen).toEqual([
      [1 << 14, false, 1 << 14],
      [1 << 16, true, 1 << 15],
    ])
  })
  test('short chunks and long: what the kernel tallies, and the sums of the two halves kept along the way', async () => {
    const kernel = makeKernel(scene, shape, OPTIONS)
    const { size } = tallyLayout(shape)
    await runWith([inlineWorker()], 1 << 16, (run) => {
      const each = run.rays / BATCHES
      const whole = new Float64Array(size)
      kernel.trace(5, 0, each, whole)
      for (let i = 0; i < size; i++)
        expectWithin(run.tallies[5]![i]!, whole[i]!, { rel: 1e-5, because: 'maps are in single precision a chunk' })
      for (const parity of [0, 1]) {
        const sum = new Float64Array(size)
        for (let b = parity; b < BATCHES; b += 2) for (let i = 0; i < size; i++) sum[i]! += run.tallies[b]![i]!
        const half = run.halves![parity]!
        for (let i = 0; i < size; i++)
          expectWithin(half[i]!, sum[i]!, { rel: 1e-9, because: 'another order of adding' })
      }
      return true
    })
  })
  test('two who trace the same scene share what the workers hold; it goes when both are done', async () => {
    const orders: string[] = []
    const inner = inlineWorker()
    const post: TraceWorker['post'] = (order) => {
      orders.push(order.kind)
      inner.post(order)
    }
    const pool = makePool([{ ...inner, post }])
    const [one, other] = [pool.load(scene, shape, OPTIONS), pool.load(scene, shape, OPTIONS)]
    const alien = pool.load(scene, shape, { ...OPTIONS, seed: OPTIONS.seed + 1 })
    expect(orders).toEqual([]) // a worker gets a scene with its first task of it
    const waits = one.trace(0, 0, 50).catch((why) => why)
    one.unload()
    one.unload()
    expect((await other.trace(1, 0, 50)).sums.length).toBeGreaterThan(0)
    await waits
    expect(orders).toEqual(['load', 'trace', 'trace'])
    await alien.trace(0, 0, 50)
    expect(orders.slice(3)).toEqual(['load', 'trace'])
    other.unload()
    alien.unload()
    expect(orders.slice(5)).toEqual(['unload', 'unload'])
    pool.load(scene, shape, OPTIONS).unload()
    expect(orders).toHaveLength(7)
    pool.close()
  })
  test('stopped after the first round: that is the run', async () => {
    const run = await runWith([inlineWorker()], 1 << 22, () => false)
    expect(run.rays).toBe(1 << 14)
    expect(findRunFaults(run)).toEqual([])
  })
  test('dropped work is rejected as Cancelled, and the pool goes on with other work', async () => {
    const pool = makePool([inlineWorker()])
    const loaded = pool.load(scene, shape, OPTIONS)
    const tasks = Array.from({ length: 10 }, (_, i) =>
      loaded.trace(i, 0, 50).then(
        () => 'done',
        (why) => why,
      ),
    )
    loaded.unload()
    const ends = await Promise.all(tasks)
    expect(ends.filter((e) => e instanceof Cancelled).length).toBeGreaterThanOrEqual(8)
    expect(ends.every((e) => e === 'done' || e instanceof Cancelled)).toBe(true)
    const next = pool.load(scene, shape, OPTIONS)
    expect((await next.trace(0, 0, 50)).exits.length).toBeGreaterThan(0)
    pool.close()
  })
})
