// When a trace is precise enough, by hand: sixteen batches of a run with few bins.
import { describe, expect, test } from 'vitest'
import { coneSr, zoneSr } from '../../../src/beam/profile.ts'
import { inlineWorker, makePool } from '../../../src/engine/workers/pool.ts'
import { isPreciseEnough, readReached } from '../../../src/job/beam/settling.ts'
import type { Sheet } from '../../../src/job/beam/sheet.ts'
import { traceLamp } from '../../../src/job/beam/trace.ts'
import { stileLamp } from '../../../src/library/demos.ts'
import { filledRun, smallShape } from '../../kit/handRun.ts'
import { sunless } from '../../kit/sunless.ts'

const RAYS = 1 << 22
/** Batches of 9 and 11 by turns: mean 10, standard error √(16/15)/4, and Student's t of 15 degrees at 95 % is 2.131. */
const SHARE_OF_10 = (2.131 * Math.sqrt(16 / 15)) / 4 / 10

/** An axis of 10 cd, 9 and 11 by turns, and a ring of so many cd at 0.2 to 0.3 rad; `oneBatch`: another whose light came in one batch alone. */
const runWith = (ringCd: number, oneBatch = 0, axisCd = 10) => {
  const shape = smallShape()
  const toLm = 300 / 4800
  return filledRun(
    shape,
    (tally, { axialLm, profileLm }, batch) => {
      tally[axialLm] = (axisCd === 0 ? 0 : axisCd + (batch % 2 ? 1 : -1)) * coneSr(0.02) * toLm
      tally[profileLm + 2] = ringCd * zoneSr(0.2, 0.3) * toLm
      tally[profileLm + 1] = (batch === 0 ? 16 * oneBatch : 0) * zoneSr(0.1, 0.2) * toLm
    },
    { rays: RAYS },
  )
}

describe('how well the axis is known', () => {
  test('as a share of itself where nothing is brighter; rays by the square of ±', () => {
    const reached = readReached(runWith(8), null, 0.01)!
    expect(reached).toMatchObject({ wanted: 0.01, of: 'axis' })
    expect(reached.share).toBeCloseTo(SHARE_OF_10, 4)
    expect(reached.rays / RAYS).toBeCloseTo((reached.share / 0.01) ** 2, 9)
  })

  test('a dark axis: as a share of the brightest ring that is known itself', () => {
    const reached = readReached(runWith(100, 5000), null, 0.01)!
    expect(reached.of).toBe('peak')
    expect(reached.share).toBeCloseTo(SHARE_OF_10 / 10, 5)
    expect(reached.rays).toBe(RAYS)
    // No light on the axis at all, and none in any batch: nothing to wait for.
    expect(readReached(runWith(100, 0, 0), null, 0.01)!.share).toBe(0)
  })

  test('nothing known: null, and never enough', () => {
    expect(readReached(runWith(0, 0, 0), null, 0.01)).toBeNull()
    expect(isPreciseEnough(runWith(0, 0, 0), null)).toBe(false)
  })

  test('enough: the wanted share, from 2²⁰ rays on; never where none is wanted', () => {
    const run = runWith(100)
    const at = (wanted: number, of = run) => isPreciseEnough(of, readReached(of, null, wanted))
    expect([at(0.006), at(0.005), at(0)]).toEqual([true, false, false])
    expect(at(0.006, { ...run, rays: (1 << 20) - 16 })).toBe(false)
  })
})

test('a sheet says settled once, last, and whole: with the comparisons', async () => {
  const pool = makePool([inlineWorker()])
  const sheets: Sheet[] = []
  const lamp = sunless(stileLamp())
  const last = await traceLamp(pool, lamp, { seed: 1, maxRays: 1 << 16, precision: 0.5, background: true }, (s) =>
    sheets.push(s),
  )
  pool.close()
  expect(sheets.filter((s) => s.state === 'settled')).toEqual([last])
  expect(sheets.at(-1)).toBe(last)
  expect(last!.variants.map((v) => v.name)).toEqual(['as designed', 'bare emitters'])
  expect(last!.variants[0]!.figures).toEqual(last!.figures)
})

test('a run that can’t reach its ± ends by time, and says what it would take', async () => {
  const pool = makePool([inlineWorker()])
  const options = { seed: 1, maxRays: 1 << 30, maxSeconds: 0, precision: 1e-6, background: false }
  const last = await traceLamp(pool, stileLamp(), options, () => {})
  pool.close()
  expect(last!.rays).toBeLessThan(1 << 20)
  expect(last!.findings.some((f) => f.rule === 'out-of-reach')).toBe(true)
})
