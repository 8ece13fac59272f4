// A worker that is started again, and each service of the page on top of it: dead at the start, dead later, thrown, silent.
import { getEventListeners } from 'node:events'
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { type CallReply, type CallRequest, type Handlers, serveCalls } from '../../../src/engine/workers/calls.ts'
import { inlinePort } from '../../../src/engine/workers/port.ts'
import { openDangerClient } from '../../../src/job/danger/client.ts'
import { openPowerClient } from '../../../src/job/power/client.ts'
import { openTracingClient } from '../../../src/job/service/client.ts'
import { makeRestarting, RESTART_WAITS_MS, type Trouble } from '../../../src/job/service/restarting.ts'
import type { TracingCalls } from '../../../src/job/service/service.ts'
import { openSweepClient } from '../../../src/job/sweep/client.ts'
import { restartingTracer } from '../../../src/job/sweep/service.ts'
import { benchCheck } from '../../../src/library/demos.ts'
import { Cancelled } from '../../../src/num/scheduler.ts'
import { LampFault } from '../../../src/run/validate.ts'
import { type FakePort, fakePorts } from '../../kit/fakePort.ts'

beforeEach(() => void vi.useFakeTimers())
afterEach(() => void vi.useRealTimers())

type Calls = {
  double: { args: number; event: number; result: number }
  greet: { args: string; event: never; result: null }
}

function bench(fails = 0) {
  const { open, ports, starts } = fakePorts({ fails })
  const troubles: Trouble[] = []
  const worker = makeRestarting<Calls>(open, {
    name: 'The worker',
    work: 'double',
    onOpen: (client) => void client.call('greet', 'hello').catch(() => {}),
    onTrouble: (t) => troubles.push(t),
  })
  const newest = () => ports.at(-1)!
  const wait = (ms: number) => vi.advanceTimersByTimeAsync(ms)
  /** Answers the newest worker's last call. */
  const answer = (result: number) => newest().reply({ kind: 'result', id: newest().calls().at(-1)!.id, result })
  return { worker, ports, starts, newest, troubles, wait, answer }
}

test('a call outlives its worker: it is repeated on the next one, after the calls that each worker needs first', async () => {
  const b = bench()
  const events: number[] = []
  const call = b.worker.call('double', 21, { onEvent: (n) => events.push(n) })
  b.newest().die('The worker stopped: boom.')
  expect(b.troubles).toEqual([{ why: 'The worker stopped: boom.', restarts: true }])
  // After an uncaught error a browser's worker lives on.
  expect(b.newest().closed()).toBe(true)
  await b.wait(RESTART_WAITS_MS[0]! - 1)
  expect(b.ports).toHaveLength(1)
  await b.wait(1)
  expect(b.ports).toHaveLength(2)
  expect(b.newest().calls()).toMatchObject([
    { method: 'greet', args: 'hello' },
    { method: 'double', args: 21 },
  ])
  b.newest().reply({ kind: 'event', id: 2, event: 5 })
  b.answer(42)
  expect(await call).toBe(42)
  expect(events).toEqual([5])
})

test('waits grow, and their number is bounded: then calls fail with the reason until “again”', async () => {
  const b = bench()
  const failed = expect(b.worker.call('double', 1)).rejects.toThrow('Boom 3.')
  for (const [i, ms] of [...RESTART_WAITS_MS, 0].entries()) {
    b.newest().die(`Boom ${i}.`)
    await b.wait(ms)
  }
  await failed
  expect(RESTART_WAITS_MS.every((ms, i) => i === 0 || ms > RESTART_WAITS_MS[i - 1]!)).toBe(true)
  expect(b.troubles).toHaveLength(RESTART_WAITS_MS.length)
  await b.wait(3_600_000)
  expect(b.starts()).toBe(1 + RESTART_WAITS_MS.length)
  await expect(b.worker.call('double', 1)).rejects.toThrow('Boom 3.')
  b.worker.again()
  const call = b.worker.call('double', 4)
  b.answer(8)
  expect(await call).toBe(8)
})

test('a result of the work begins the count anew, another call’s does not', async () => {
  const b = bench()
  for (let i = 0; i < 6; i++) {
    const call = b.worker.call('double', i)
    b.newest().die('Boom.')
    await b.wait(RESTART_WAITS_MS[0]!)
    b.answer(2 * i)
    expect(await call).toBe(2 * i)
  }
  const failed = expect(b.worker.call('double', 1)).rejects.toThrow('Boom.')
  for (const ms of [...RESTART_WAITS_MS, 0]) {
    const greeted = b.worker.call('greet', 'again')
    b.newest().reply({ kind: 'result', id: b.newest().calls().at(-1)!.id, result: null })
    await greeted
    b.newest().die('Boom.')
    await b.wait(ms)
  }
  await failed
})

test('one that can’t even be started is tried again too', async () => {
  const b = bench(2)
  const call = b.worker.call('double', 3)
  expect(b.troubles).toEqual([{ why: 'The worker could not start: no memory.', restarts: true }])
  await b.wait(RESTART_WAITS_MS[0]! + RESTART_WAITS_MS[1]!)
  expect(b.starts()).toBe(3)
  b.answer(6)
  expect(await call).toBe(6)
})

test('what throws is tried once more on the same worker, never on a new one', async () => {
  const b = bench()
  const failed = expect(b.worker.call('double', 1)).rejects.toThrow('no such lamp')
  const fault = (id: number): CallReply => ({ kind: 'failed', id, why: 'no such lamp', cancelled: false })
  b.newest().reply({ kind: 'result', id: 1, result: null }) // of greet
  b.newest().reply(fault(2))
  await b.wait(0)
  expect(b.newest().calls()).toHaveLength(3)
  b.newest().reply(fault(3))
  await failed
  await b.wait(3_600_000)
  expect({ starts: b.starts(), calls: b.newest().calls().length, troubles: b.troubles }).toEqual({
    starts: 1,
    calls: 3,
    troubles: [],
  })
})

test('a worker whose own workers have died is started again', async () => {
  const b = bench()
  void b.worker.call('double', 1).catch(() => {})
  b.newest().reply({ kind: 'failed', id: 2, why: 'A tracing worker stopped.', cancelled: false, ended: true })
  expect(b.troubles).toEqual([{ why: 'A tracing worker stopped.', restarts: true }])
  expect(b.newest().closed()).toBe(true)
  await b.wait(RESTART_WAITS_MS[0]!)
  expect(b.ports).toHaveLength(2)
})

test('a signal that outlives its calls holds none of them', async () => {
  const b = bench()
  const { signal } = new AbortController()
  const call = b.worker.call('double', 21, { signal })
  expect(getEventListeners(signal, 'abort')).toHaveLength(2) // its own and that of the call to the worker
  b.answer(42)
  await call
  expect(getEventListeners(signal, 'abort')).toEqual([])
})

test('what nobody waits for any more is not repeated; moved buffers are gone with the worker', async () => {
  const b = bench()
  const control = new AbortController()
  const old = expect(b.worker.call('double', 1, { signal: control.signal })).rejects.toThrow(Cancelled)
  const moved = expect(b.worker.call('double', 2, { transfer: [new ArrayBuffer(8)] })).rejects.toThrow('Boom.')
  control.abort()
  b.newest().die('Boom.')
  await moved
  await old
  // While there is no worker, a cancelled call ends at once.
  const later = new AbortController()
  const waiting = expect(b.worker.call('double', 3, { signal: later.signal })).rejects.toThrow(Cancelled)
  later.abort()
  await waiting
  await b.wait(RESTART_WAITS_MS[0]!)
  expect(b.newest().calls()).toHaveLength(1)
})

test('one that dies with nothing to do is started again without a word; closed, nothing is', async () => {
  const b = bench()
  b.newest().die('Boom.')
  expect(b.troubles).toEqual([])
  await b.wait(RESTART_WAITS_MS[0]!)
  expect(b.ports).toHaveLength(2)
  const call = expect(b.worker.call('double', 1)).rejects.toThrow(Cancelled)
  b.worker.close()
  await call
  await b.wait(3_600_000)
  expect(b.ports).toHaveLength(2)
  await expect(b.worker.call('double', 1)).rejects.toThrow('The worker was closed.')
})

interface Heard {
  troubles: Trouble[]
  failed: string[]
}
interface Service {
  name: string
  method: string
  hangsAfterMs: number
  result: unknown
  /** Starts the service and one call. */
  begin(open: ReturnType<typeof fakePorts>['open'], heard: Heard): void
}
const lamp = benchCheck()
const AXES = [{ path: 'lens.zMm', values: [190] }] as const
const services: Service[] = [
  {
    name: 'tracing',
    method: 'trace',
    hangsAfterMs: 30_000,
    result: undefined,
    begin: (open, { troubles, failed }) =>
      openTracingClient({ choice: 'cpu' }, (t) => troubles.push(t), open).trace(
        lamp,
        { seed: 1, maxRays: 1, precision: 1, background: false },
        () => {},
        (why) => failed.push(why),
      ),
  },
  {
    name: 'heat and power',
    method: 'run',
    hangsAfterMs: 30_000,
    result: { report: {}, findings: [] },
    begin: (open, { troubles, failed }) =>
      openPowerClient((t) => troubles.push(t), open).run(
        lamp,
        null,
        () => {},
        (why) => failed.push(why),
      ),
  },
  {
    name: 'dangers',
    method: 'read',
    hangsAfterMs: 30_000,
    result: null,
    begin: (open, { troubles, failed }) =>
      void openDangerClient((t) => troubles.push(t), open)
        .read(
          lamp,
          () => {},
          () => {},
        )
        .catch((error: Error) => failed.push(error.message)),
  },
  {
    name: 'sweep',
    method: 'trace',
    hangsAfterMs: 600_000,
    result: null,
    begin: (open, { troubles, failed }) =>
      void openSweepClient(
        (t) => troubles.push(t),
        (onTrouble) => restartingTracer(open, 'A worker of the sweep', onTrouble),
        1,
      )
        .sweep(lamp, AXES, { seed: 1, rays: 16 }, () => {})
        .catch((error: Error) => failed.push(error.message)),
  },
]

describe.each(services)('$name', ({ method, hangsAfterMs, result, begin }) => {
  function bench(fails = 0) {
    const { open, ports, starts } = fakePorts({ fails })
    const heard: Heard = { troubles: [], failed: [] }
    begin(open, heard)
    const calls = (port: FakePort | undefined) => port?.calls().filter((c) => c.method === method) ?? []
    return { ports, starts, heard, calls, wait: (ms: number) => vi.advanceTimersByTimeAsync(ms) }
  }

  test('dead at the start: said, started again, and its call made there', async () => {
    const b = bench()
    b.ports[0]!.die('It stopped: it could not start.')
    expect(b.heard.troubles).toEqual([{ why: 'It stopped: it could not start.', restarts: true }])
    await b.wait(RESTART_WAITS_MS[0]!)
    expect(b.calls(b.ports[1])).toHaveLength(1)
    b.ports[1]!.reply({ kind: 'result', id: b.calls(b.ports[1])[0]!.id, result })
    await b.wait(0)
    expect(b.heard.failed).toEqual([])
  })

  test('dead after it had begun, again and again: in the end the call fails with the reason', async () => {
    const b = bench()
    for (const ms of [...RESTART_WAITS_MS, 0]) {
      b.ports.at(-1)!.reply({ kind: 'started' })
      b.ports.at(-1)!.die('It stopped: boom.')
      await b.wait(ms)
    }
    expect(b.heard.failed).toEqual(['It stopped: boom.'])
    expect(b.starts()).toBe(1 + RESTART_WAITS_MS.length)
  })

  test('thrown: once more, then the reason; no new worker', async () => {
    const b = bench()
    for (let n = 0; n < 2; n++) {
      const { id } = b.calls(b.ports[0])[n]!
      b.ports[0]!.reply({ kind: 'failed', id, why: 'the matrix is singular', cancelled: false })
      await b.wait(0)
    }
    expect(b.heard).toEqual({ troubles: [], failed: ['the matrix is singular'] })
    expect(b.starts()).toBe(1)
  })

  test('silent: taken for dead, closed, and started again', async () => {
    const b = bench()
    await b.wait(hangsAfterMs - 4_000)
    expect(b.heard.troubles).toEqual([])
    await b.wait(8_000)
    expect(b.heard.troubles).toMatchObject([{ why: expect.stringContaining('has not answered for'), restarts: true }])
    expect(b.ports[0]!.closed()).toBe(true)
    expect(b.calls(b.ports[1])).toHaveLength(1)
  })
})

test('a lamp that can’t be traced is known as such on the page, by its error’s name; any other error is not', async () => {
  const heard: [string, boolean][] = []
  const fails = async (error: Error) => {
    const handlers: Handlers<TracingCalls> = {
      ...{ engine: () => {}, pause: () => {}, resume: () => {} },
      trace: () => Promise.reject(error),
    }
    const open = () =>
      inlinePort<CallRequest, CallReply>((side) => serveCalls<TracingCalls>(side, handlers), queueMicrotask)
    const client = openTracingClient({ choice: 'cpu' }, () => {}, open)
    const options = { seed: 1, maxRays: 1, precision: 1, background: false }
    await new Promise<void>((done) => {
      client.trace(
        lamp,
        options,
        () => {},
        (why, ofLamp) => {
          heard.push([why, ofLamp])
          done()
        },
      )
    })
    client.dispose()
  }
  await fails(new LampFault('No light.'))
  await fails(new Error('Out of memory.'))
  expect(heard).toEqual([
    ['No light.', true],
    ['Out of memory.', false],
  ])
})
