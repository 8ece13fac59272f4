// Sums and columns of one run in the buffers of another that nobody reads any more: nothing of that one is seen in them.
import { expect, test } from 'vitest'
import { fold, giveBackSums } from '../../src/run/batches.ts'
import { giveBackExits, rayColumns } from '../../src/run/exits.ts'
import { BATCHES, EXIT_STRIDE, type Run } from '../../src/run/types.ts'
import { filledRun, smallShape } from '../kit/handRun.ts'

/** Rays of which every third runs the other way; in arrays of their own. */
function runOf(count: number, scale: number): Run {
  const run = filledRun(smallShape(), (tally, _, b) => tally.set(tally.map((_, i) => scale * (b + i))))
  const data = Float32Array.from({ length: count * EXIT_STRIDE }, (_, i) => scale * (1 + (i % 7)))
  for (let i = 0; i < count; i++) data[i * EXIT_STRIDE + 5] = i % 3 === 0 ? -1 : 1
  const batch = Uint8Array.from({ length: count }, (_, i) => i % BATCHES)
  return { ...run, exits: { count, fromRays: count, data, batch } }
}

test('the same numbers as in new buffers, zeros after the last ray', () => {
  const read = (run: Run) => {
    const { all, without } = fold(run)
    return structuredClone({
      columns: rayColumns(run, 5),
      all: [...all.data],
      without: without.map((t) => [...t.data]),
    })
  }
  const fresh = read(runOf(900, 2)) // never given back
  const before = runOf(1000, 3)
  const buffers = [rayColumns(before, 5).xMm.buffer, fold(before).all.data.buffer]
  giveBackSums(before)
  giveBackExits(before.exits)
  const run = runOf(900, 2)
  const again = read(run)
  expect(again.all).toEqual(fresh.all)
  expect(again.without).toEqual(fresh.without)
  expect([...again.columns.xMm]).toEqual([...fresh.columns.xMm])
  expect([...again.columns.batch]).toEqual([...fresh.columns.batch])
  expect([...again.columns.lumens.subarray(again.columns.count)].every((x) => x === 0)).toBe(true)
  // It did use them.
  const sums = [fold(run).all, ...fold(run).without].map((tally) => tally.data)
  const used = [...sums, ...Object.values(rayColumns(run, 5)).filter((x) => ArrayBuffer.isView(x))]
  expect(used.some(({ buffer }) => buffers.includes(buffer as ArrayBuffer))).toBe(true)
})
