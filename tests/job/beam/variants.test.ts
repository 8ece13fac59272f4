// How far a comparison is traced, by hand; and that its figures don't tell on how many workers.
import { expect, test } from 'vitest'
import { inlineWorker, makePool } from '../../../src/engine/workers/pool.ts'
import type { Variant } from '../../../src/job/beam/sheet.ts'
import { isWorthMore, traceVariants } from '../../../src/job/beam/variants.ts'
import { benchCheck } from '../../../src/library/demos.ts'
import { makeScheduler } from '../../../src/num/scheduler.ts'
import { T95 } from '../../../src/num/stats.ts'

/** Figures of 100 whose ± at 95 % are so many percent; null: absent. */
function figures(axis: number | null, flux: number | null, beam: number | null) {
  const of = (percent: number | null) => (percent === null ? undefined : { value: 100, se: percent / T95 })
  const named = { axialIntensityCd: of(axis), fluxOutLm: of(flux), beamAngleDeg: of(beam) }
  return Object.fromEntries(Object.entries(named).filter(([, figure]) => figure))
}
const [LOOK, TELLS] = [1 << 17, { effective: 400 }]

test('known to 3, 1 and 10 percent: no more rays', () => {
  expect(isWorthMore(figures(2.99, 0.99, 9.99), LOOK, null)).toBe(false)
  expect(isWorthMore(figures(3.01, 0.99, 9.99), LOOK, null)).toBe(true)
})

test('an axis that backward rays tell of waits for no forward rays; a dark one that they don’t does', () => {
  expect(isWorthMore(figures(8, 0.5, 5), LOOK, TELLS)).toBe(false)
  expect(isWorthMore(figures(8, 0.5, 5), LOOK, { effective: 399 })).toBe(true)
  expect(isWorthMore(figures(null, 0.5, 5), 8 * LOOK, null)).toBe(true)
})

test('flux and beam angle are waited for while eight times the rays would make them known: √8 times their ±', () => {
  expect(isWorthMore(figures(1, 2.82, 5), LOOK, null)).toBe(true)
  expect(isWorthMore(figures(1, 2.84, 5), LOOK, null)).toBe(false)
  expect(isWorthMore(figures(1, 0.5, 28.2), LOOK, null)).toBe(true)
  expect(isWorthMore(figures(1, 0.5, 28.4), LOOK, null)).toBe(false)
  expect(isWorthMore(figures(1, 0.5, 14.4), 4 * LOOK, null)).toBe(false)
  // One that isn't there gets a second look.
  expect([LOOK, 2 * LOOK].map((rays) => isWorthMore(figures(1, 0.5, null), rays, null))).toEqual([true, false])
})

test('the same figures on one worker or three', async () => {
  const lists = await Promise.all(
    [1, 3].map(async (threads) => {
      const pool = makePool(Array.from({ length: threads }, () => inlineWorker(queueMicrotask)))
      let traced: Variant[] = []
      for await (const list of traceVariants(pool, benchCheck(), makeScheduler(), { seed: 5 })) traced = list
      pool.close()
      return traced
    }),
  )
  expect(lists[0]!.map(({ name, rays }) => [name, rays])).toEqual([['without lens', LOOK]])
  expect(lists[1]).toEqual(lists[0])
})
