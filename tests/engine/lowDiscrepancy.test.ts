// What the low-discrepancy points buy: at equal rays the error is smaller than with plain random numbers. No clock is looked at.
import { beforeAll, describe, expect, test } from 'vitest'
import type { Figure } from '../../src/run/figure.ts'
import type { Run } from '../../src/run/types.ts'
import { expectWithin, seeds } from '../kit/expect.ts'
import { axialCd, deliveredShare, LAMBERTIAN, oneEmitter, traceHere, tube } from '../kit/traceHere.ts'

// With fewer, a batch of 1024 points, how the points fall on the source still tells.
const RAYS = 1 << 16

const cases = [
  {
    name: 'view factor, 0.1339313',
    lamp: oneEmitter({ source: { shape: 'disc', diameterMm: 20 }, tunnel: tube(20, 50), profile: LAMBERTIAN }),
    of: (run: Run) => deliveredShare(run),
    truth: 0.1339313,
    gain: 2,
  },
  {
    name: 'intensity on the axis of a Lambertian emitter',
    lamp: oneEmitter({ axialConeHalfDeg: 5 }),
    of: (run: Run) => axialCd(run),
    truth: (1000 / Math.PI) * ((1 + Math.cos((5 * Math.PI) / 180)) / 2),
    gain: 2,
  },
]

describe.each(cases)('$name', ({ lamp, of, truth, gain }) => {
  // Eight seeds, 65,536 rays each, with plain random numbers and without.
  const traced = (plainRandom: boolean) =>
    seeds(8).map((seed) => of(traceHere(lamp, { rays: RAYS, seed, plainRandom })))
  let figures: Record<'plain' | 'sequence', Figure[]>
  beforeAll(() => {
    figures = { plain: traced(true), sequence: traced(false) }
  })
  const meanSquare = (values: number[]) => values.reduce((sum, v) => sum + v * v, 0) / values.length
  /** Root mean square error. */
  const rms = (of: Figure[]) => Math.sqrt(meanSquare(of.map(({ value }) => value - truth)))
  test('smaller error at equal rays', () => {
    expect(gain * rms(figures.sequence)).toBeLessThan(rms(figures.plain))
  })
  test('the error that the batches state is the true one, with either kind of numbers', () => {
    for (const found of [figures.sequence, figures.plain]) {
      // Eight errors of sixteen batches each: their mean square is within a factor of 3 of the truth but once in some hundreds.
      const ratio = Math.sqrt(meanSquare(found.map(({ se }) => se))) / rms(found)
      expectWithin(Math.log(ratio), 0, { abs: Math.log(2.5), because: 'an rms over eight seeds' })
    }
  })
})
