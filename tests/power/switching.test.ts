// What switches the main wire. Ratings: IEC 60059 (R10 series), from memory; the factor 1.25 is common practice, no source.
import { expect, test } from 'vitest'
import { runPower } from '../../src/job/power/run.ts'
import { benchCheck, gannetHead } from '../../src/library/demos.ts'
import { standardRatingA } from '../../src/power/switching.ts'
import { expectWithin } from '../kit/expect.ts'

test.each([
  [0.11, 0.125],
  [1, 1],
  [1.01, 1.25],
  [9, 10],
  [37.24, 40],
  [63.1, 80],
  [801, 1000],
])('%f A takes the standard rating of %f A', (least, rating) => {
  expectWithin(standardRatingA(least), rating, { rel: 1e-12, because: 'a number of a table' })
})

test('every mode of the searchlight by itself; the strongest is the main wire’s load', () => {
  const { switching, wiring } = runPower(gannetHead(), { mode: '' })
  expect(switching.map((s) => s.mode)).toEqual(['Low', 'High', 'Turbo'])
  expectWithin(Math.max(...switching.map((s) => s.amps)), wiring[0]!.amps, { rel: 1e-12, because: 'the same load' })
  for (const s of switching) {
    expect(s.ratingA).toBeGreaterThanOrEqual(1.25 * s.amps)
    expectWithin(s.volts, 42, { rel: 1e-3, because: 'ten lithium cells in series, 4.2 V each when full' })
  }
  expect(switching[0]!.ratingA).toBeLessThan(switching[2]!.ratingA)
})

test('by hand: one channel’s power over its driver’s share and the emptiest voltage', () => {
  const lamp = benchCheck()
  const { switching, wiring } = runPower(lamp, { mode: '' })
  expectWithin(switching[0]!.amps, wiring[1]!.amps, {
    rel: 1e-9,
    because: 'one channel: all of the main wire’s current',
  })
})
