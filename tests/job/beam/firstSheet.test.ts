// First sheets read by other workers: the same sheet to the last bit, the next lamp meanwhile, and what happens when they fail.
import { describe, expect, test } from 'vitest'
import { type CallReply, type CallRequest, makeClient } from '../../../src/engine/workers/calls.ts'
import { inlineWorker, makePool } from '../../../src/engine/workers/pool.ts'
import type { WorkerPort, WorkerSide } from '../../../src/engine/workers/port.ts'
import {
  type FirstSheetCalls,
  type FirstSheetRequest,
  makeFirstSheetReaders,
  serveFirstSheets,
} from '../../../src/job/beam/firstSheet.ts'
import type { JobOptions, Sheet } from '../../../src/job/beam/sheet.ts'
import { traceLamp } from '../../../src/job/beam/trace.ts'
import { makeTracingService } from '../../../src/job/service/service.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { stileLamp } from '../../../src/library/demos.ts'
import { sunless } from '../../kit/sunless.ts'

const options: JobOptions = { seed: 4, maxRays: 1 << 17, precision: 0, background: false }
const farther = (mm: number): Lamp => {
  const lamp = sunless(stileLamp())
  return { ...lamp, target: { ...lamp.target, distanceM: lamp.target.distanceM + mm / 1000 } }
}
/** All of a sheet but what a clock says. */
const timeless = ({ seconds: _, raysPerSecond: __, ...sheet }: Sheet) => sheet

/**
 * A reader in this thread, whose messages are copied and transferred as between threads. `hold`: requests wait until they are let go. It has not
 * started before `starts`.
 */
function testReader({ spoil, hold = false }: { spoil?: (request: FirstSheetRequest) => void; hold?: boolean } = {}) {
  const held: (() => void)[] = []
  const requests: FirstSheetRequest[] = []
  const early: CallReply[] = []
  let started = false
  let take: (reply: CallReply) => void = () => {}
  let die: (why: string) => void = () => {}
  let request: (request: CallRequest) => void = () => {}
  const reply = (message: CallReply, transfer: Transferable[] = []) => {
    const copy = structuredClone(message, { transfer: transfer as ArrayBuffer[] })
    if (started) take(copy)
    else early.push(copy)
  }
  const side: WorkerSide<CallRequest, CallReply> = {
    onRequest(f) {
      request = f
    },
    post: reply,
  }
  serveFirstSheets(side)
  const port: WorkerPort<CallRequest, CallReply> = {
    post(message, transfer = []) {
      const copy = structuredClone(message, { transfer: transfer as ArrayBuffer[] })
      if (copy.kind !== 'call') return
      const read = copy.args as FirstSheetRequest
      requests.push(read)
      spoil?.(read)
      if (hold) held.push(() => request(copy))
      else setTimeout(() => request(copy), 0)
    },
    onReply(f) {
      take = f
    },
    onDeath(f) {
      die = f
    },
    close() {},
  }
  const client = makeClient<FirstSheetCalls>(port, 'The reader')
  return {
    client,
    requests,
    starts() {
      started = true
      for (const message of early.splice(0)) take(message)
    },
    dies: (why: string) => die(why),
    letGo: () => held.shift()!(),
  }
}

async function sheetsOf(readers?: ReturnType<typeof testReader>[], lamp = sunless(stileLamp())): Promise<Sheet[]> {
  const pool = makePool([inlineWorker()])
  const sheets: Sheet[] = []
  const firstSheetReaders = readers && makeFirstSheetReaders(readers.map(({ client }) => client))
  for (const reader of readers ?? []) reader.starts()
  try {
    await traceLamp(pool, lamp, options, (sheet) => sheets.push(sheet), { firstSheetReaders, readsAll: true })
  } finally {
    pool.close()
  }
  return sheets
}

/** Until it holds; a test that waits for ever runs into the runner's limit. */
async function until(holds: () => boolean) {
  while (!holds()) await new Promise((next) => setTimeout(next, 2))
}

describe('a trace whose first sheet is read elsewhere', () => {
  test('gives the same sheets, the first and all that follow, to the last bit', async () => {
    const reader = testReader()
    const [here, there] = [await sheetsOf(), await sheetsOf([reader])]
    expect(reader.requests).toHaveLength(1)
    expect(there.map(timeless)).toEqual(here.map(timeless))
    expect(here.map((s) => s.rays)).toEqual([1 << 14, 1 << 16, 1 << 17])
  })

  test('an invalid run is refused in the same words', async () => {
    const reader = testReader({
      spoil: ({ first }) => {
        first.partials[2]!.sums[2]! += 5
      },
    })
    await expect(sheetsOf([reader])).rejects.toThrow('The run is invalid: The ledger of batch 3 does not close')
  })

  test('a reader that dies says so; one that has not started, or is dead, is not waited for', async () => {
    const reader = testReader({ hold: true })
    const failed = sheetsOf([reader])
    await until(() => reader.requests.length > 0)
    reader.dies('A reading worker stopped.')
    await expect(failed).rejects.toThrow('A reading worker stopped.')
    const pool = makePool([inlineWorker()])
    const firstSheetReaders = makeFirstSheetReaders([testReader().client, reader.client])
    const sheet = await traceLamp(pool, sunless(stileLamp()), options, () => {}, { firstSheetReaders })
    expect(sheet?.state).toBe('settled')
    pool.close()
  })
})

describe('the tracing service during a drag', () => {
  test('takes the next lamp once the first sheet is handed on; both sheets come, and the older trace ends there', async () => {
    const readers = [testReader({ hold: true }), testReader({ hold: true })]
    const pool = makePool([inlineWorker()])
    const service = makeTracingService(pool, () => readers.map(({ client }) => client))
    service.startReaders()
    for (const reader of readers) reader.starts()
    const seen: string[] = []
    const trace = (name: string) => {
      let handed = () => {}
      const isHanded = new Promise<void>((done) => {
        handed = done
      })
      const tell = (sheet: Sheet) => seen.push(`${name} ${sheet.state}`)
      const ended = service.trace({ ...farther(seen.length), name }, options, tell, handed)
      return { isHanded, ended: ended.then(() => seen.push(`${name} ended`)) }
    }
    const one = trace('one')
    await one.isHanded
    expect(seen).toEqual([])
    const two = trace('two')
    await two.isHanded
    expect(readers.map(({ requests }) => requests.map(({ lamp }) => lamp.name))).toEqual([['one'], ['two']])
    // A third finds nobody free: it waits, and is handed on as soon as one is.
    const three = trace('three')
    readers[0]!.letGo()
    await one.ended
    await three.isHanded
    expect(seen).toEqual(['one rough', 'one ended'])
    readers[1]!.letGo()
    await two.ended
    expect(seen.slice(2)).toEqual(['two rough', 'two ended'])
    readers[0]!.letGo()
    await three.ended
    expect(seen[4]).toBe('three rough')
    expect(seen.slice(-2)).toEqual(['three settled', 'three ended'])
    service.close()
  })

  test('an edit before the first lamp has settled starts the readers, and its sheet is read by one', async () => {
    const reader = testReader()
    let starts = 0
    const service = makeTracingService(makePool([inlineWorker()]), () => {
      starts++
      reader.starts()
      return [reader.client]
    })
    const trace = (name: string) =>
      service.trace(
        { ...sunless(stileLamp()), name },
        options,
        () => {},
        () => {},
      )
    const one = trace('one')
    expect(starts).toBe(0)
    const two = trace('two')
    expect(starts).toBe(1)
    await Promise.all([one, two])
    expect(reader.requests[0]?.lamp.name).toBe('two')
    service.close()
  })

  test('a third lamp that is replaced while it waits for a reader is never read', async () => {
    const reader = testReader({ hold: true })
    const service = makeTracingService(makePool([inlineWorker()]), () => [reader.client])
    service.startReaders()
    reader.starts()
    const handed: string[] = []
    const trace = (name: string) =>
      service.trace(
        { ...sunless(stileLamp()), name },
        options,
        () => {},
        () => handed.push(name),
      )
    trace('one')
    await until(() => handed.length > 0)
    const two = trace('two')
    const three = trace('three')
    await two // replaced before it was read
    reader.letGo()
    await until(() => handed.length >= 2)
    expect(handed).toEqual(['one', 'three'])
    reader.letGo()
    await three
    expect(reader.requests.map(({ lamp }) => lamp.name)).toEqual(['one', 'three'])
    service.close()
  })
})
