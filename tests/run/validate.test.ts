import { describe, expect, test } from 'vitest'
import { fold, jackknife, meanOf, overBatches } from '../../src/run/batches.ts'
import { rayColumns, sampleSum } from '../../src/run/exits.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import { FATES } from '../../src/run/types.ts'
import { findRunFaults, lostRaysLimit } from '../../src/run/validate.ts'
import { expectWithin } from '../kit/expect.ts'
import { direction, drawnRun, HAND_LM_PER_W } from '../kit/handRun.ts'

const validRun = () =>
  drawnRun({
    rays: 1600,
    draw: (u) =>
      u(0) < 0.5
        ? { fate: 'wall' }
        : { fate: 'delivered', weight: 0.8, at: [1, 2, 10], towards: direction(0.1, 6 * u(1)) },
  })
const layout = tallyLayout(validRun().shape)

describe('faults of a run', () => {
  test('a valid run has none; roulette may be negative', () => {
    const run = validRun()
    expect(findRunFaults(run)).toEqual([])
    const roulette = FATES.indexOf('roulette')
    for (const from of [layout.fateW, layout.fateLm]) {
      run.tallies[3]![from + roulette]! -= 0.5
      run.tallies[3]![from + FATES.indexOf('wall')]! += 0.5
    }
    expect(findRunFaults(run)).toEqual([])
  })
  test('between rounds the sums of the halves show what is no number in a map', () => {
    const run = validRun()
    const halves = () => fold({ ...run }).halves.map((h) => h.data) as [Float64Array, Float64Array]
    const sound = { ...run, halves: halves() }
    expect(findRunFaults(sound, false)).toEqual([])
    sound.halves[1][layout.faceW + 7] = Number.NaN
    expect(findRunFaults(sound, false).join()).toMatch(
      /map of the run holds a negative weight or a value that is no number/,
    )
    const gaping = { ...run, halves: halves() }
    gaping.tallies[2]![layout.fateW + 2]! *= 1 + 1e-6
    expect(findRunFaults(gaping, false).join()).toMatch(/batch 3 does not close/)
  })
  test.each<[string, (run: ReturnType<typeof validRun>) => void, RegExp]>([
    ['a missing batch', (r) => r.tallies.pop(), /has 15 batches; it must have 16/],
    ['a ledger that gapes', (r) => (r.tallies[2]![layout.fateW + 2]! *= 1 + 1e-6), /batch 3 does not close in watts/],
    ['and in lumens', (r) => (r.tallies[2]![layout.fateLm + 2]! *= 1 + 1e-6), /batch 3 does not close in lumens/],
    ['no number', (r) => (r.tallies[0]![layout.profileLm]! = Number.NaN), /Batch 1 holds a value that is no number/],
    ['an infinite one', (r) => (r.tallies[0]![layout.faceW]! = Number.POSITIVE_INFINITY), /Batch 1 .* not finite/],
    ['a negative weight', (r) => (r.tallies[5]![layout.faceW + 7]! = -1e-3), /Batch 6 holds a negative weight/],
    ['a crooked direction', (r) => (r.exits.data[5]! *= 1.1), /Exit ray 0 has no unit direction/],
    ['a lost wavelength', (r) => (r.exits.data[9 + 8]! = Number.NaN), /Exit ray 1 holds a value that is not finite/],
    ['too short exits', (r) => (r.exits.data = r.exits.data.slice(0, 9)), /fewer than their count/],
    [
      'too much light lost',
      (r) => {
        for (const from of [layout.fateW, layout.fateLm]) {
          const unit = from === layout.fateW ? 1 : HAND_LM_PER_W
          r.tallies[0]![from + FATES.indexOf('limit')]! += 2 * unit
          r.tallies[0]![from + FATES.indexOf('wall')]! -= 2 * unit
        }
      },
      /stopped by the bounce limit or lost to rounding/,
    ],
  ])('%s is reported', (_, spoil, words) => {
    const run = validRun()
    spoil(run)
    expect(findRunFaults(run).join(' ')).toMatch(words)
  })
})

describe('light stopped or lost', () => {
  // Exact: P(K > k) of a Poisson count (S. D. Poisson 1837), summed term by term.
  const above = (k: number, mean: number) => {
    let term = Math.exp(-mean)
    let below = 0
    for (let i = 0; i <= k; i++) {
      below += term
      term *= mean / (i + 1)
    }
    return 1 - below
  }
  test.each([16_384, 100_000, 1e6, 1e7, 5e7])(
    'of %i rays that lose 1e-5 one run in a thousand is called dishonest',
    (rays) => {
      const most = Math.floor(lostRaysLimit(rays))
      expect(above(most, 1e-5 * rays)).toBeLessThan(1.3e-3)
      expect(above(most - 2, 1e-5 * rays)).toBeGreaterThan(1e-3)
    },
  )
  test('one lost ray of a first sheet is no fault; a share too large of many rays is', () => {
    const run = validRun()
    const lose = (rays: number) => {
      for (const [from, unit] of [
        [layout.fateW, 1],
        [layout.fateLm, HAND_LM_PER_W],
      ] as const) {
        run.tallies[0]![from + FATES.indexOf('lost')]! += rays * unit
        run.tallies[0]![from + FATES.indexOf('wall')]! -= rays * unit
      }
    }
    lose(1)
    expect(findRunFaults(run)).toEqual([])
    lose(1)
    expect(findRunFaults(run).join()).toMatch(/lost to rounding/)
    expect(lostRaysLimit(1e8) / 1e8).toBeLessThan(1.1e-5)
  })
})

describe('figures from batches', () => {
  test('of a mean the jackknife is the plain standard error', () => {
    const values = Array.from({ length: 16 }, (_, i) => (i * 7) % 16)
    const sum = values.reduce((a, b) => a + b)
    const by = jackknife(
      sum / 16,
      values.map((v) => (sum - v) / 15),
    )
    const plain = meanOf(values)
    expectWithin(by.value, plain.value, { ulps: 4 })
    expectWithin(by.se, plain.se, { rel: 1e-12, because: 'rounding' })
  })
  test('a share of the emitted light, against counting', () => {
    const run = validRun()
    const at = layout.fateLm + FATES.indexOf('delivered')
    const share = overBatches(run, (t, lm) => (t[at]! * lm) / run.emittedLm)
    expectWithin(share.value, 0.4, { sigmas: 4, se: share.se + 1e-4 })
    expectWithin(fold(run).all.wPerWeight * run.rays, run.emittedW, { rel: 1e-12, because: 'each ray has weight 1' })
  })
  test('a run that has grown is summed anew', () => {
    const run = validRun()
    const before = fold(run)
    expect(fold(run) === before).toBe(true)
    run.rays *= 2
    expect(fold(run) === before).toBe(false)
  })
})

test('exit rays as columns: carried to the plane, watts and lumens of the whole', () => {
  const run = validRun()
  const rays = rayColumns(run, 110)
  expectWithin(Math.hypot(rays.xMm[0]! - 1, rays.yMm[0]! - 2), 100 * Math.tan(0.1), { rel: 1e-5, because: 'float32' })
  const sum = (column: Float32Array) => column.reduce((a, b) => a + b, 0)
  const delivered = fold(run).all.data[layout.fateW + FATES.indexOf('delivered')]! / run.rays
  expectWithin(sum(rays.watts), run.emittedW * delivered, { rel: 1e-5, because: 'float32' })
  expectWithin(sum(rays.lumens), run.emittedLm * delivered, { rel: 1e-5, because: 'float32' })
  expect(rayColumns(run, 0, -1).count).toBe(0)
  expectWithin(sampleSum(new Array(16).fill(2)).value, 32, { ulps: 1 })
  expect(sampleSum(new Array(16).fill(2)).se).toBe(0)
})
