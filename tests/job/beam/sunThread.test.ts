// The sun read by a thread of its own: the same to the last bit, nothing left behind by a trace that is replaced, and no harm where the thread ends.
import { afterAll, expect, test } from 'vitest'
import { type CallReply, type CallRequest, makeClient } from '../../../src/engine/workers/calls.ts'
import { inlineWorker, makePool } from '../../../src/engine/workers/pool.ts'
import type { WorkerPort } from '../../../src/engine/workers/port.ts'
import { traceSun } from '../../../src/job/beam/sun.ts'
import { makeSunThread, type SunCalls, serveSun } from '../../../src/job/beam/sunThread.ts'
import { benchCheck } from '../../../src/library/demos.ts'
import { Cancelled, makeScheduler } from '../../../src/num/scheduler.ts'
import { sceneOf } from '../../kit/traceHere.ts'

const lamp = benchCheck()
const scene = sceneOf(lamp)
const pool = makePool([inlineWorker(queueMicrotask)])
afterAll(() => pool.close())

/** Half the rays, and no climb. */
const sunOf = (thread?: ReturnType<typeof testThread>['thread'], signal?: AbortSignal) =>
  traceSun(pool, scene, lamp, makeScheduler(signal), { seed: 3, rough: true }, thread)
const here = sunOf()

/** Served here, with messages copied and transferred as between threads. `take` hears of each request and hands it on. */
function testThread(take: (request: CallRequest, handOn: () => void) => void = (_, handOn) => handOn(), starts = true) {
  const replies: CallReply[] = []
  let request: (request: CallRequest) => void = () => {}
  let reply: (reply: CallReply) => void = (early) => void replies.push(early)
  let die: (why: string) => void = () => {}
  const copied = <T>(message: T, transfer: Transferable[] = []): T =>
    structuredClone(message, { transfer: transfer as ArrayBuffer[] })
  serveSun({
    onRequest(f) {
      request = f
    },
    post(message, transfer) {
      const copy = copied(message, transfer)
      setImmediate(() => reply(copy))
    },
  })
  const port: WorkerPort<CallRequest, CallReply> = {
    post(message, transfer) {
      const copy = copied(message, transfer)
      take(copy, () => void setImmediate(() => request(copy)))
    },
    onReply(f) {
      reply = (message) => {
        if (message.kind === 'started' && !starts) return
        replies.push(message)
        f(message)
      }
    },
    onDeath(f) {
      die = f
    },
    close() {},
  }
  const client = makeClient<SunCalls>(port, 'The reader')
  return { thread: makeSunThread(() => client, 2), client, replies, dies: () => die('The reader stopped.') }
}

const isRead = (request: CallRequest) => request.kind === 'call'

/** Until it has started. */
async function started(test: ReturnType<typeof testThread>) {
  while (!test.client.alive()) await new Promise((next) => setImmediate(next))
  return test
}

test('gives the same sun to the last bit, direction by direction', async () => {
  let reads = 0
  const other = await started(
    testThread((request, handOn) => {
      reads += Number(isRead(request))
      handOn()
    }),
  )
  const there = await sunOf(other.thread)
  expect(there).toEqual(await here)
  expect(there).toHaveLength(15)
  expect(reads).toBe(15)
})

test('a trace that is replaced ends its reading in the thread; the next is served at once', async () => {
  const control = new AbortController()
  const held: (() => void)[] = []
  let holds = true
  let sent = () => {}
  const isSent = new Promise<void>((done) => {
    sent = done
  })
  const other = await started(
    testThread((request, handOn) => {
      if (!holds) return handOn()
      held.push(handOn)
      if (isRead(request)) sent()
    }),
  )
  const replaced = sunOf(other.thread, control.signal)
  await isSent
  control.abort()
  // The thread was busy until now: it finds the request, and the cancellation behind it.
  holds = false
  for (const handOn of held) handOn()
  const next = sunOf(other.thread)
  await expect(replaced).rejects.toThrow(Cancelled)
  expect(await next).toEqual(await here)
  const kinds = other.replies.map(({ kind }) => kind)
  expect(kinds.filter((kind) => kind === 'failed')).toHaveLength(1)
  expect(kinds.filter((kind) => kind === 'result')).toHaveLength(15)
})

test('a thread that ends takes its rays with it: they are traced again and read here, as where none has started', async () => {
  let reads = 0
  const other = await started(
    testThread((request, handOn) => {
      if (isRead(request) && ++reads === 3) other.dies()
      else handOn()
    }),
  )
  expect(await sunOf(other.thread)).toEqual(await here)
  expect(reads).toBe(3)
  const late = testThread(() => {
    throw new Error('not yet')
  }, false)
  expect(await sunOf(late.thread)).toEqual(await here)
})

test('no thread is started beside a single one, nor for a lamp that no sun shines on', async () => {
  let opened = 0
  const start = () => {
    opened++
    return testThread().client
  }
  makeSunThread(start, 1).open()
  const dark = { ...lamp, reading: { ...lamp.reading, sunWm2: 0 } }
  expect(await traceSun(pool, scene, dark, makeScheduler(), { seed: 3 }, makeSunThread(start, 2))).toEqual([])
  expect(opened).toBe(0)
})
