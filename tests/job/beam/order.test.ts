// What comes first in a trace, and that the settled sheet doesn't tell.
import { expect, test } from 'vitest'
import { inlineWorker, makePool } from '../../../src/engine/workers/pool.ts'
import type { Sheet, TraceFirst } from '../../../src/job/beam/sheet.ts'
import { mayBegin, traceLamp } from '../../../src/job/beam/trace.ts'
import { benchCheck } from '../../../src/library/demos.ts'
import { sunless } from '../../kit/sunless.ts'

/** Rounds end at 2¹⁴, 2¹⁶ and here. */
const RAYS = 81_920

test('the sun begins beside the beam, the comparisons after it, whatever comes first before both; nothing waits for ever', () => {
  const begins = (first: TraceFirst | undefined, rays: number, seconds = 0) =>
    (['sun', 'comparisons'] as const).filter((what) => mayBegin(what, first, rays, seconds))
  expect([1 << 16, 1 << 18, 1 << 22].map((rays) => begins(undefined, rays))).toEqual([
    [],
    ['sun'],
    ['sun', 'comparisons'],
  ])
  expect([1 << 14, 1 << 16].map((rays) => begins('sun', rays))).toEqual([[], ['sun']])
  expect([1 << 14, 1 << 16, 1 << 18].map((rays) => begins('comparisons', rays))).toEqual([
    [],
    ['comparisons'],
    ['sun', 'comparisons'],
  ])
  expect([begins('beam', 1 << 21), begins('beam', 1 << 21, 8)]).toEqual([[], ['sun', 'comparisons']])
})

/** Rays of the beam when the comparisons were first shown; and the settled sheet without its clock. */
async function traced(first: TraceFirst | undefined) {
  const pool = makePool([inlineWorker(queueMicrotask)])
  const sheets: Sheet[] = []
  const options = { seed: 2, maxRays: RAYS, precision: 0, background: true, first }
  const last = await traceLamp(pool, sunless(benchCheck()), options, (sheet) => sheets.push(sheet))
  pool.close()
  const comparedAt = sheets.find(({ variants }) => variants.length > 0)!.rays
  return { comparedAt, settled: { ...last!, seconds: 0, raysPerSecond: 0 } }
}

test('comparisons first: they are there before the beam’s last round; the settled sheet is the same', async () => {
  const [usual, compared] = [await traced(undefined), await traced('comparisons')]
  expect([usual.comparedAt, compared.comparedAt]).toEqual([RAYS, 1 << 16])
  expect(compared.settled).toEqual(usual.settled)
})
