// What the low-discrepancy points buy: at equal rays the error is smaller than with plain random numbers. No clock is looked at.
import { describe, expect, test } from 'vitest'
import type { Run } from '../../src/run/types.ts'
import { expectWithin } from '../kit/expect.ts'
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
  // Root mean square error over eight seeds, 65,536 rays each.
  const rms = (plainRandom: boolean) => {
    let sum = 0
    for (let seed = 1; seed <= 8; seed++)
      sum += (of(traceHere(lamp, { rays: RAYS, seed, plainRandom })).value - truth) ** 2
    return Math.sqrt(sum / 8)
  }
  test('smaller error at equal rays', () => {
    expect(gain * rms(false)).toBeLessThan(rms(true))
  })
  test('the error that the batches state is the true one, with either kind of numbers', () => {
    for (const plainRandom of [false, true]) {
      let stated = 0
      for (let seed = 1; seed <= 8; seed++) stated += of(traceHere(lamp, { rays: RAYS, seed, plainRandom })).se ** 2
      // Eight errors of sixteen batches each: their mean square is within a factor of 3 of the truth but once in some hundreds.
      const ratio = Math.sqrt(stated / 8) / rms(plainRandom)
      expectWithin(Math.log(ratio), 0, { abs: Math.log(2.5), because: 'an rms over eight seeds' })
    }
  })
})
