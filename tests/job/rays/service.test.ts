// A ray file as the page gets it: the same bytes as the terminal's, and an end when it is stopped.
import { expect, test } from 'vitest'
import { inlineWorker, makePool } from '../../../src/engine/workers/pool.ts'
import { AT } from '../../../src/files/tm25.ts'
import { writeRayFile } from '../../../src/job/rays/file.ts'
import { traceExits } from '../../../src/job/rays/run.ts'
import { makeRayService } from '../../../src/job/rays/service.ts'
import { stileLamp } from '../../../src/library/demos.ts'
import { Cancelled } from '../../../src/num/scheduler.ts'
import { rayFileTexts } from '../../../src/report/photometry.ts'

const words = { texts: rayFileTexts('Stile lamp', 'test', '9.9.9'), date: '2026-11-30T12:00:00Z' }
const pool = () => makePool([inlineWorker()], 1)
const order = { lamp: stileLamp(), seed: 3, rays: 1 << 17, words }

test('one file with its sums in its head; shares run up to 1', async () => {
  const shares: number[] = []
  const signal = new AbortController().signal
  const context = { signal, emit: (share: number) => void shares.push(share), transfer() {} }
  const { file, sums, started } = await makeRayService(pool()).file(order, context)
  expect(started).toBe(1 << 17)
  expect(shares.at(-1)).toBe(1)
  expect([...shares].sort((a, b) => a - b)).toEqual(shares)

  const bytes = new Uint8Array(await file.arrayBuffer())
  const written: { at: number; bytes: Uint8Array }[] = []
  await writeRayFile(
    traceExits(pool(), order.lamp, order),
    words,
    async (chunks) => {
      for await (const chunk of chunks) written.push(chunk)
    },
    () => {},
  )
  const whole = new Uint8Array(Math.max(...written.map((c) => c.at + c.bytes.length)))
  for (const { at, bytes: own } of written) whole.set(own, at)
  expect(bytes.length).toBe(whole.length)
  expect(Buffer.compare(bytes, whole)).toBe(0)
  expect(new DataView(bytes.buffer).getBigUint64(AT.rays, true)).toBe(BigInt(sums.rays))
})

test('stopped: no file, and the call ends', async () => {
  const abort = new AbortController()
  const emit = () => abort.abort()
  const call = makeRayService(pool()).file({ ...order, rays: 1 << 18 }, { signal: abort.signal, emit, transfer() {} })
  await expect(call).rejects.toBeInstanceOf(Cancelled)
})
