// A worker that dies: its tasks go to the others and give the same bits; when the last has died every task says why.
import { afterEach, expect, test, vi } from 'vitest'
import { inlineWorker, makePool, type TraceWorker } from '../../../src/engine/workers/pool.ts'
import { chooseShape } from '../../../src/job/beam/pilot.ts'
import { stileLamp } from '../../../src/library/demos.ts'
import { WorkerEnded } from '../../../src/num/scheduler.ts'
import { sceneOf } from '../../kit/traceHere.ts'

afterEach(() => void vi.useRealTimers())

const lamp = stileLamp()
const scene = sceneOf(lamp)
const shape = chooseShape(scene, lamp)
const OPTIONS = { seed: 2, plainRandom: false, exitsBelow: 0 }

/** Dies when it gets its nth task, which it never answers. */
function mortal(afterTasks: number): TraceWorker {
  const inner = inlineWorker()
  let die: (why: string) => void = () => {}
  let tasks = 0
  let dead = false
  return {
    ...inner,
    post(request, transfer) {
      if (dead) return
      if (request.kind === 'trace' && ++tasks === afterTasks) {
        dead = true
        setTimeout(() => die('A tracing worker stopped: out of memory.'), 0)
      } else inner.post(request, transfer)
    },
    onDeath(take) {
      die = take
    },
  }
}

async function sumsWith(workers: TraceWorker[]): Promise<Float64Array[]> {
  const pool = makePool(workers)
  const loaded = pool.load(scene, shape, OPTIONS)
  const replies = await Promise.all(Array.from({ length: 8 }, (_, batch) => loaded.trace(batch, 0, 64)))
  loaded.unload()
  pool.close()
  return replies.map(({ sums }) => sums)
}

test('tasks of a dead worker are traced by the others, to the same bits', async () => {
  const whole = await sumsWith([inlineWorker()])
  expect(await sumsWith([mortal(1), inlineWorker()])).toEqual(whole)
  expect(await sumsWith([mortal(3), mortal(2), inlineWorker()])).toEqual(whole)
})

test('the buffer of a few rays goes back to the workers and comes with other rays, to the same bits as in a new one', async () => {
  const pool = makePool([inlineWorker()])
  const loaded = pool.load(scene, shape, OPTIONS)
  const fresh = await loaded.trace(1, 0, 64)
  const before = await loaded.trace(0, 0, 100)
  const room = before.maps.buffer
  pool.recycle(before)
  const again = await loaded.trace(1, 0, 64)
  expect(again.maps.buffer).toBe(room)
  expect({ ...again, task: 0 }).toEqual({ ...fresh, task: 0 })
  expect((await loaded.trace(2, 0, 64)).maps.buffer).not.toBe(room)
  pool.close()
})

test('when the last has died, all that waits and all that comes later fails with the reason', async () => {
  const pool = makePool([mortal(2), mortal(1)])
  const loaded = pool.load(scene, shape, OPTIONS)
  const tasks = Array.from({ length: 8 }, (_, batch) => loaded.trace(batch, 0, 64))
  const ends = await Promise.allSettled(tasks)
  expect(ends.filter((e) => e.status === 'rejected').length).toBeGreaterThanOrEqual(7)
  for (const end of ends)
    if (end.status === 'rejected') expect(String(end.reason)).toContain('A tracing worker stopped: out of memory.')
  await expect(loaded.trace(0, 0, 64)).rejects.toThrow(new WorkerEnded('A tracing worker stopped: out of memory.'))
  await expect(loaded.trace(0, 0, 64)).rejects.toBeInstanceOf(WorkerEnded)
  const aim = { kind: 'cone', thetaRad: 0, phiRad: 0, halfRad: 0.01 } as const
  await expect(loaded.traceBackward(aim, 0, 0, 64)).rejects.toThrow('out of memory')
})

/** Takes every task and answers none. */
function silent(): TraceWorker & { closed(): boolean } {
  let closed = false
  return {
    post() {},
    onReply() {},
    onDeath() {},
    close() {
      closed = true
    },
    closed: () => closed,
  }
}

test('a worker that hangs is closed, and its tasks are traced by the others; the last one fails them', async () => {
  vi.useFakeTimers()
  const hung = silent()
  const done = sumsWith([hung, inlineWorker()])
  let ended = false
  void done.then(() => {
    ended = true
  })
  await vi.advanceTimersByTimeAsync(115_000)
  expect({ ended, closed: hung.closed() }).toEqual({ ended: false, closed: false })
  await vi.advanceTimersByTimeAsync(10_000)
  expect(hung.closed()).toBe(true)
  const whole = sumsWith([inlineWorker()])
  await vi.advanceTimersByTimeAsync(1_000)
  expect(await done).toEqual(await whole)

  const pool = makePool([silent()])
  const failed = expect(pool.load(scene, shape, OPTIONS).trace(0, 0, 64)).rejects.toThrow(
    new WorkerEnded('A tracing worker has not answered for 120 s.'),
  )
  await vi.advanceTimersByTimeAsync(125_000)
  await failed
  // With nothing to do nobody is asked.
  expect(vi.getTimerCount()).toBe(0)
})

test('records come before whatever waits: a search stands still until it has them', async () => {
  const pool = makePool([inlineWorker()])
  const loaded = pool.load(scene, shape, OPTIONS)
  const order: string[] = []
  const note = (name: string, task: Promise<unknown>) => task.then(() => order.push(name))
  // A worker has two tasks at once: the first two are under way before anything else comes.
  const tasks = [0, 1, 2].map((batch) => note('trace', loaded.trace(batch, 0, 16)))
  await Promise.all([...tasks, note('record', loaded.record(0, 0, 16))])
  expect(order).toEqual(['trace', 'trace', 'record', 'trace'])
  loaded.unload()
  pool.close()
})
