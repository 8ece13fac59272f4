// One protocol for every worker: results, events, cancellation, and the three ways in which a worker ends.
import { getEventListeners } from 'node:events'
import { afterEach, describe, expect, test, vi } from 'vitest'
import {
  type CallReply,
  type CallRequest,
  type Handlers,
  makeClient,
  serveCalls,
} from '../../../src/engine/workers/calls.ts'
import { inlinePort, type ThreadLike, threadPort, type WorkerPort } from '../../../src/engine/workers/port.ts'
import { Cancelled, WorkerEnded, whenAborted } from '../../../src/num/scheduler.ts'

type Calls = {
  double: { args: number; event: never; result: number }
  count: { args: number; event: number; result: string }
  wait: { args: null; event: never; result: string }
  throws: { args: null; event: never; result: never }
}

const handlers: Handlers<Calls> = {
  double: (n) => 2 * n,
  async count(n, { emit }) {
    for (let i = 0; i < n; i++) emit(i)
    return 'counted'
  },
  async wait(_, { signal }) {
    await whenAborted(signal)
    throw new Cancelled()
  },
  throws() {
    throw new Error('no such lamp')
  },
}
const open = () =>
  makeClient<Calls>(
    inlinePort((side) => serveCalls<Calls>(side, handlers)),
    'The worker',
  )

/** A port whose other side is the test. */
function testPort() {
  const requests: CallRequest[] = []
  let reply: (reply: CallReply) => void = () => {}
  let die: (why: string) => void = () => {}
  let closed = false
  const port: WorkerPort<CallRequest, CallReply> = {
    post: (request) => void requests.push(request),
    onReply(take) {
      reply = take
    },
    onDeath(take) {
      die = take
    },
    close() {
      closed = true
    },
  }
  return { port, requests, reply: (r: CallReply) => reply(r), die: (why: string) => die(why), closed: () => closed }
}

afterEach(() => {
  vi.useRealTimers()
})

test('a result, events on the way, an error in the worker’s own words, an unknown method', async () => {
  const client = open()
  expect(await client.call('double', 21)).toBe(42)
  const events: number[] = []
  expect(await client.call('count', 3, { onEvent: (n) => events.push(n) })).toBe('counted')
  expect(events).toEqual([0, 1, 2])
  await expect(client.call('throws', null)).rejects.toThrow('no such lamp')
  await expect(client.call('other' as 'throws', null)).rejects.toThrow('no method other')
  client.close()
})

test('a signal that outlives its calls holds none of them', async () => {
  const { signal } = new AbortController()
  const client = open()
  for (let n = 0; n < 3; n++) expect(await client.call('double', n, { signal })).toBe(2 * n)
  await expect(client.call('throws', null, { signal })).rejects.toThrow('no such lamp')
  expect(getEventListeners(signal, 'abort')).toEqual([])
})

test('an aborted signal reaches the handler, before the call and during it; the call rejects with Cancelled', async () => {
  const client = open()
  const control = new AbortController()
  const call = client.call('wait', null, { signal: control.signal })
  call.catch(() => {})
  await client.call('double', 1)
  control.abort()
  await expect(call).rejects.toThrow(Cancelled)
  await expect(client.call('wait', null, { signal: AbortSignal.abort() })).rejects.toThrow(Cancelled)
  client.close()
})

test('alive once it has started; closed, pending calls end as cancelled and later ones say that it was closed', async () => {
  const { port, reply, closed } = testPort()
  const client = makeClient<Calls>(port, 'The worker')
  const changes: boolean[] = []
  client.onChange(() => changes.push(client.alive()))
  expect(client.alive()).toBe(false)
  reply({ kind: 'started' })
  const call = client.call('double', 1)
  client.close()
  await expect(call).rejects.toThrow(Cancelled)
  await expect(client.call('double', 1)).rejects.toThrow('The worker was closed.')
  expect(changes).toEqual([true, false])
  expect(closed()).toBe(true)
})

test('a death fails every pending call and every later one with its reason', async () => {
  const { port, die, closed } = testPort()
  const client = makeClient<Calls>(port, 'The worker')
  const calls = [client.call('double', 1), client.call('double', 2)]
  die('The worker stopped: out of memory.')
  for (const call of calls) await expect(call).rejects.toThrow('The worker stopped: out of memory.')
  await expect(client.call('double', 3)).rejects.toThrow('The worker stopped: out of memory.')
  await expect(client.call('double', 3)).rejects.toBeInstanceOf(WorkerEnded)
  expect(closed()).toBe(true)
})

test('a handler that can’t go on because its own workers have died is a death', async () => {
  const client = makeClient<Calls>(
    inlinePort((side) =>
      serveCalls<Calls>(side, {
        ...handlers,
        throws() {
          throw new WorkerEnded('A tracing worker stopped.')
        },
      }),
    ),
    'The worker',
  )
  const deaths: string[] = []
  client.onEnd((why) => deaths.push(why))
  await expect(client.call('throws', null)).rejects.toBeInstanceOf(WorkerEnded)
  expect(deaths).toEqual(['A tracing worker stopped.'])
  await expect(client.call('double', 1)).rejects.toThrow('A tracing worker stopped.')
})

describe('silence', () => {
  test('a worker that answers no ping fails its calls, and is closed', async () => {
    vi.useFakeTimers()
    const { port, closed } = testPort()
    const client = makeClient<Calls>(port, 'The worker', 10_000)
    const call = client.call('double', 1)
    const failed = expect(call).rejects.toThrow('The worker has not answered for 10 s.')
    await vi.advanceTimersByTimeAsync(9_000)
    expect(closed()).toBe(false)
    await vi.advanceTimersByTimeAsync(4_000)
    await failed
    expect(closed()).toBe(true)
  })

  test('one that answers pings may work as long as it likes; one that has nothing to do is not asked', async () => {
    vi.useFakeTimers()
    const { port, requests, reply } = testPort()
    const client = makeClient<Calls>(port, 'The worker', 10_000)
    await vi.advanceTimersByTimeAsync(60_000)
    expect(requests).toEqual([])
    const call = client.call('double', 1)
    for (let i = 0; i < 60; i++) {
      await vi.advanceTimersByTimeAsync(2_000)
      reply({ kind: 'pong' })
    }
    reply({ kind: 'result', id: 1, result: 2 })
    expect(await call).toBe(2)
    const sent = requests.length
    await vi.advanceTimersByTimeAsync(60_000)
    expect(requests).toHaveLength(sent)
  })

  test('a computer that slept has sent no pings: its worker is not blamed', async () => {
    vi.useFakeTimers()
    const { port, closed } = testPort()
    const client = makeClient<Calls>(port, 'The worker', 10_000)
    const call = client.call('double', 1)
    call.catch(() => {})
    vi.setSystemTime(Date.now() + 3_600_000)
    await vi.advanceTimersByTimeAsync(2_000)
    expect(closed()).toBe(false)
    client.close()
  })
})

describe('a thread of Node', () => {
  function fakeThread() {
    const takers = new Map<string, (value: never) => void>()
    const thread: ThreadLike = {
      postMessage: () => {},
      on: (event: string, take: (value: never) => void) => takers.set(event, take),
      terminate: () => takers.get('exit')?.(1 as never),
    }
    return { thread, tell: (event: string, value: unknown) => takers.get(event)?.(value as never) }
  }

  test.each([
    ['error', new Error('boom'), 'A thread stopped: boom.'],
    ['messageerror', new Error('x'), 'A thread stopped: a message could not be read.'],
    ['exit', 3, 'A thread stopped: it ended with status 3.'],
  ])('%s is a death, told once', (event, value, why) => {
    const { thread, tell } = fakeThread()
    const deaths: string[] = []
    threadPort(thread, 'A thread').onDeath((reason) => deaths.push(reason))
    tell(event, value)
    tell('exit', 1)
    expect(deaths).toEqual([why])
  })

  test('an exit that was asked for is none', () => {
    const { thread } = fakeThread()
    const deaths: string[] = []
    const port = threadPort(thread, 'A thread')
    port.onDeath((reason) => deaths.push(reason))
    port.close()
    expect(deaths).toEqual([])
  })
})
