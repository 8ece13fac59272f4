// The settled search in front by a thread of its own: the same sheet to the last bit, and no harm where the thread ends or there is none.
import { afterAll, expect, test } from 'vitest'
import { type CallReply, type CallRequest, makeClient } from '../../../src/engine/workers/calls.ts'
import { inlineWorker, makePool } from '../../../src/engine/workers/pool.ts'
import type { WorkerPort } from '../../../src/engine/workers/port.ts'
import { type FrontCalls, serveFront } from '../../../src/job/beam/frontThread.ts'
import { makeReaderThread } from '../../../src/job/beam/readerThread.ts'
import { traceLamp } from '../../../src/job/beam/trace.ts'
import { benchCheck } from '../../../src/library/demos.ts'
import { sunless } from '../../kit/sunless.ts'

const pool = makePool([inlineWorker(queueMicrotask)])
afterAll(() => pool.close())

/** Served here, with messages copied as between threads. `take` hears of each search and hands it on. */
function testThread(take: (handOn: () => void, die: (why: string) => void) => void = (handOn) => handOn()) {
  let request: (request: CallRequest) => void = () => {}
  const early: CallReply[] = []
  let reply: (reply: CallReply) => void = (one) => void early.push(one)
  let die: (why: string) => void = () => {}
  serveFront({
    onRequest(f) {
      request = f
    },
    post: (message) => reply(structuredClone(message)),
  })
  const port: WorkerPort<CallRequest, CallReply> = {
    post(message) {
      const copy = structuredClone(message)
      const handOn = () => request(copy)
      if (message.kind === 'call') take(handOn, (why) => die(why))
      else handOn()
    },
    onReply(f) {
      reply = f
      for (const one of early.splice(0)) f(one)
    },
    onDeath(f) {
      die = f
    },
    close() {},
  }
  return makeClient<FrontCalls>(port, 'The reader')
}

/** Rounds end at 2¹⁴ and here; the thread is opened between. */
const RAYS = 40_000

async function settledBy(frontThread?: ReturnType<typeof makeReaderThread<ReturnType<typeof testThread>>>) {
  const options = { seed: 4, maxRays: RAYS, precision: 0, background: true, variants: false }
  const sheet = await traceLamp(pool, sunless(benchCheck()), options, () => {}, { frontThread })
  return { ...sheet, seconds: 0, raysPerSecond: 0 }
}

test('the same settled sheet to the last bit; where the thread ends, or none is started beside a single one, too', async () => {
  const here = await settledBy()
  let searches = 0
  const there = makeReaderThread(
    () =>
      testThread((handOn) => {
        searches++
        handOn()
      }),
    2,
  )
  expect(await settledBy(there)).toEqual(here)
  expect(searches).toBe(1)
  const ends = makeReaderThread(() => testThread((_, die) => die('The reader stopped.')), 2)
  expect(await settledBy(ends)).toEqual(here)
  const none = makeReaderThread(() => {
    throw new Error('a single thread')
  }, 1)
  expect(await settledBy(none)).toEqual(here)
})
