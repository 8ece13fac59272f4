// The steps of a trace, each by itself.
import { afterAll, describe, expect, test } from 'vitest'
import { openGraphics } from '../../../src/engine/choice.ts'
import { inlineWorker, makePool } from '../../../src/engine/workers/pool.ts'
import { openBackwardSession } from '../../../src/job/beam/backwardSession.ts'
import { type TraceSetup, traceBeam } from '../../../src/job/beam/beamRun.ts'
import { openEngines } from '../../../src/job/beam/engines.ts'
import { readHazards } from '../../../src/job/beam/hazards.ts'
import { prepareTrace } from '../../../src/job/beam/prepare.ts'
import { makePublisher, newProgress } from '../../../src/job/beam/publish.ts'
import { type JobOptions, NoDevice, type Sheet } from '../../../src/job/beam/sheet.ts'
import { traceLamp } from '../../../src/job/beam/trace.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { benchCheck, gannetHead, stileLamp } from '../../../src/library/demos.ts'
import { Cancelled, makeScheduler, runToEnd, type Scheduler } from '../../../src/num/scheduler.ts'
import { BATCHES } from '../../../src/run/types.ts'
import { findRunFaults } from '../../../src/run/validate.ts'

const options: JobOptions = { seed: 4, maxRays: 1 << 15, precision: 0, background: false }
const pool = makePool([inlineWorker()])
afterAll(() => pool.close())

const dark = (lamp: Lamp): Lamp => ({ ...lamp, boards: [] })

function setupOf(lamp: Lamp, change: Partial<JobOptions> = {}, signal?: AbortSignal, readsAll = false) {
  const all = { ...options, ...change }
  const prepared = prepareTrace(lamp, all, pool.threads)
  const engines = openEngines(prepared, all)
  const progress = newProgress(all.precision)
  const scheduler = makeScheduler(signal)
  const sheets: Sheet[] = []
  const publisher = makePublisher(prepared, engines, progress, scheduler, (sheet) => sheets.push(sheet), readsAll)
  const setup: TraceSetup = { pool, prepared, engines, options: all, progress, publisher, scheduler, context: {} }
  return { setup, sheets }
}

describe('prepare', () => {
  test('depends on the lamp and the seed alone', () => {
    const [one, two] = [prepareTrace(stileLamp(), options, 1), prepareTrace(stileLamp(), options, 1)]
    expect(two.shape).toEqual(one.shape)
    expect(two.scene).toEqual(one.scene)
    expect(two.header).toEqual(one.header)
    expect(prepareTrace(stileLamp(), { seed: 5 }, 3).header).toMatchObject({ seed: 5, threads: 3 })
  })

  test('paths are traced once', () => {
    const prepared = prepareTrace(stileLamp(), options, 1)
    expect(prepared.paths()).toBe(prepared.paths())
    expect(prepared.paths().fate.length).toBeGreaterThan(100)
  })
})

describe('engines', () => {
  test('without a device the processor traces, and nothing is waited for', async () => {
    const { setup } = setupOf(stileLamp())
    await setup.engines.settle()
    expect(setup.engines.inUse()).toEqual({ engine: 'cpu', engineWhy: 'it was asked for' })
    expect(setup.engines.backward()).toBeNull()
  })

  test('a device that is insisted on and isn’t there ends the trace in words', async () => {
    const graphics = openGraphics('gpu', async () => ({ ok: false, why: 'no device offers itself' }))
    const { setup } = setupOf(stileLamp(), { graphics, graphicsOnly: true })
    await expect(setup.engines.settle()).rejects.toThrow(NoDevice)
    await expect(setup.engines.settle()).rejects.toThrow('no device offers itself')
  })
})

describe('backward session', () => {
  test('the axis is known from the first request on, and better after the next', async () => {
    const { setup } = setupOf(gannetHead())
    const session = openBackwardSession(pool, setup.prepared, setup.engines, options)
    const first = await session.axis()
    expect(first!.value).toBeGreaterThan(0)
    session.continueAxis({ rays: 1 << 16 })
    const second = await session.axis()
    expect(second!.rays).toBeGreaterThan(first!.rays)
    session.close()
  })

  test('an axis known well enough gets no more rays', async () => {
    const { setup } = setupOf(stileLamp())
    const session = openBackwardSession(pool, setup.prepared, setup.engines, { ...options, precision: 10 })
    const first = await session.axis()
    session.continueAxis({ rays: 1 << 16 })
    expect((await session.axis())!.rays).toBe(first!.rays)
    session.close()
  })

  test('where nothing shines there is none', async () => {
    const { setup } = setupOf(dark(benchCheck()))
    const session = openBackwardSession(pool, setup.prepared, setup.engines, options)
    expect(await session.axis()).toBeNull()
    expect(await session.aims()).toEqual([])
  })
})

describe('the beam’s rounds', () => {
  test('every round is reported, every sheet but that of the last published where all are asked for', async () => {
    const { setup, sheets } = setupOf(stileLamp(), { maxRays: 1 << 17 }, undefined, true)
    const rounds: number[] = []
    const run = await traceBeam(setup, ({ rays }) => void rounds.push(rays))
    expect(rounds).toEqual([1 << 14, 1 << 16, 1 << 17])
    expect(findRunFaults(run)).toEqual([])
    expect(sheets.map((s) => [s.rays, s.state])).toEqual([
      [1 << 14, 'rough'],
      [1 << 16, 'rough'],
    ])
    expect(setup.progress.axis).not.toBeNull()
    expect(setup.progress.aims.length).toBeGreaterThan(0)
  })

  test('an unwatched run publishes nothing on the way', async () => {
    const { setup, sheets } = setupOf(stileLamp(), { onlyLast: true })
    await traceBeam(setup, () => {})
    expect(sheets).toEqual([])
  })

  test('a lamp without light gives a run of no rays', async () => {
    const { setup } = setupOf(dark(benchCheck()))
    expect((await traceBeam(setup, () => {})).rays).toBe(0)
  })

  test('cancelled after a round it ends there', async () => {
    const control = new AbortController()
    const { setup } = setupOf(stileLamp(), { maxRays: 1 << 20 }, control.signal)
    const rounds: number[] = []
    const cancelled = traceBeam(setup, ({ rays }) => {
      rounds.push(rays)
      control.abort()
    })
    await expect(cancelled).rejects.toThrow(Cancelled)
    expect(rounds).toEqual([1 << 14])
  })
})

describe('publish', () => {
  test('read ahead of sun and comparisons, the settled sheet is the same, and its figures are known', async () => {
    const { setup } = setupOf(stileLamp(), { onlyLast: true })
    const run = await traceBeam(setup, () => {})
    await setup.publisher.publish(run, false)
    const ahead = await setup.publisher.readSettled(run)
    const sheet = await setup.publisher.publish(run, true)
    const { setup: other } = setupOf(stileLamp(), { onlyLast: true })
    const alone = await other.publisher.publish(await traceBeam(other, () => {}), true)
    expect(ahead).toEqual(alone.figures)
    const untimed = (whole: Sheet) => ({ ...whole, seconds: 0, raysPerSecond: 0 })
    expect(untimed(sheet)).toEqual(untimed(alone))
  })

  test('sheets that are asked for at once are read one after the other', async () => {
    const { setup } = setupOf(benchCheck(), { onlyLast: true })
    const run = await traceBeam(setup, () => {})
    const order: string[] = []
    const scheduler: Scheduler = {
      ...setup.scheduler,
      async run(work) {
        order.push('begins')
        await Promise.resolve()
        const result = runToEnd(work)
        order.push('ends')
        return result
      },
    }
    const publisher = makePublisher(setup.prepared, setup.engines, setup.progress, scheduler, () => order.push('sheet'))
    await Promise.all([publisher.publish(run, false), publisher.publish(run, true)])
    expect(order).toEqual(['begins', 'ends', 'sheet', 'begins', 'ends', 'sheet'])
  })

  test('the place in front is searched again when there are more exit rays, or the reading is another', async () => {
    const { setup } = setupOf(benchCheck(), { onlyLast: true })
    const run = await traceBeam(setup, () => {})
    const lamp = benchCheck()
    const first = runToEnd(readHazards(run, lamp, 'first'))
    expect(runToEnd(readHazards(run, lamp, 'first', first)).front).toBe(first.front)
    expect(runToEnd(readHazards(run, lamp, 'next', first)).front).not.toBe(first.front)
    const more = { ...run, exits: { ...run.exits } }
    expect(runToEnd(readHazards(more, lamp, 'first', first)).front).not.toBe(first.front)
  })

  test('an invalid run is refused, and nothing is published', async () => {
    const { setup, sheets } = setupOf(stileLamp(), { onlyLast: true })
    const run = await traceBeam(setup, () => {})
    run.tallies[3]![0]! += 1
    await expect(setup.publisher.publish(run, true)).rejects.toThrow('The run is invalid: The ledger of batch 4')
    expect(sheets).toEqual([])
    expect(setup.publisher.last()).toBeNull()
  })

  test('what the steps have found stands on the sheet', async () => {
    const { setup } = setupOf(stileLamp(), { onlyLast: true })
    const run = await traceBeam(setup, () => {})
    const without = { name: 'without lens' as const, figures: {}, rays: 16 }
    setup.progress.variants = [without]
    const sheet = await setup.publisher.publish(run, true)
    expect(sheet.state).toBe('settled')
    expect(sheet.variants).toEqual([{ name: 'as designed', figures: sheet.figures, rays: run.rays }, without])
    expect(setup.publisher.last()).toBe(sheet)
    expect(setup.publisher.state(true)).toMatchObject({ settled: true, engine: 'cpu', axis: setup.progress.axis })
  })
})

test('the whole trace: cancelled it gives null and no more sheets', async () => {
  const control = new AbortController()
  const sheets: Sheet[] = []
  const take = (sheet: Sheet) => {
    sheets.push(sheet)
    control.abort()
  }
  expect(await traceLamp(pool, stileLamp(), options, take, { scheduler: makeScheduler(control.signal) })).toBeNull()
  expect(sheets).toHaveLength(1)
  expect(sheets[0]!.rays / BATCHES).toBe(1024)
})
