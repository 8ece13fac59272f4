// The reader's worker: it is sent each reading once, also after it was started again, and says what the whole list says.
import { expect, test } from 'vitest'
import { spreadOf } from '../../../src/job/tolerances/result.ts'
import type { BuiltReading } from '../../../src/job/tolerances/run.ts'
import { makeSpreadReader, makeSpreadService, type SpreadCalls } from '../../../src/job/tolerances/service.ts'
import { benchCheck } from '../../../src/library/demos.ts'

const reading = (index: number): BuiltReading => {
  const lm = 200 + Math.sin(7 * index)
  return { index, figures: { fluxOutLm: [lm, 0.1, lm + 0.01, 0.1] }, severe: [], why: null }
}

test('a grown list is sent by what is new, another one from its beginning, and all of it to a new worker', async () => {
  let service = makeSpreadService()
  let sent = 0
  const context = { signal: new AbortController().signal, emit() {}, transfer() {} }
  const read = makeSpreadReader(async <K extends keyof SpreadCalls>(name: K, args: SpreadCalls[K]['args']) => {
    if ('readings' in args) sent += args.readings.length
    return service[name](args, context)
  })
  const lamp = benchCheck()
  const all = Array.from({ length: 201 }, (_, i) => reading(i))
  expect(await read(lamp, all.slice(0, 100))).toEqual(spreadOf(lamp, all.slice(0, 100)))
  expect(await read(lamp, all)).toEqual(spreadOf(lamp, all))
  expect(sent).toBe(201)
  service = makeSpreadService()
  const more = [...all, reading(201)]
  expect(await read(lamp, more)).toEqual(spreadOf(lamp, more))
  // The new one went to a worker without the rest: then all did.
  expect(sent).toBe(201 + 1 + 202)
  const other = Array.from({ length: 91 }, (_, i) => reading(i + 5))
  expect(await read(lamp, other)).toEqual(spreadOf(lamp, other))
  expect(sent).toBe(201 + 1 + 202 + 91)
})
