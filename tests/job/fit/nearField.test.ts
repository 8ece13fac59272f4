// Candela by the lamp's own near field: a lamp in closed form whose light comes from 1.5 m behind its front.
import { expect, test } from 'vitest'
import { makeFitting } from '../../../src/job/fit/fitting.ts'
import { nearFieldCandela } from '../../../src/job/fit/nearField.ts'
import { fitPoints } from '../../../src/job/fit/points.ts'
import type { Predictor } from '../../../src/job/fit/predict.ts'
import type { Readings } from '../../../src/lamp/readings.ts'
import { BATCHES } from '../../../src/run/types.ts'
import { toyLamp } from './toyLamp.ts'

const CD = 640_000
const luxAt = (m: number) => CD / (m + 1.5) ** 2
const predict: Predictor['predict'] = async ({ spots }) => {
  const lx = spots.map((s) => luxAt(s.distanceMm / 1000))
  return { lx, se: lx.map(() => 0), batches: lx.map((v) => new Array<number>(BATCHES).fill(v)) }
}

test('readings of 90 % at two near places are 90 % of the candela, where the inverse square falls short', async () => {
  const readings: Readings = {
    meter: { calibrationPct: 10, spectralPct: 0, cosinePct: 0, resolutionLx: 0 },
    sets: [
      {
        id: 'axis',
        kind: 'axis',
        distanceDoubtMm: 0,
        rows: [2, 4].map((distanceM) => ({ distanceM, lx: 0.9 * luxAt(distanceM) })),
      },
    ],
  }
  const fitting = await makeFitting(predict, toyLamp(), readings, fitPoints(readings), { seed: 1, rays: 1024 })
  const [found] = await nearFieldCandela(fitting)
  expect((found?.value ?? 0) / CD).toBeCloseTo(0.9, 4)
  // (2/3.5)²: what E d² gives at the nearer place.
  expect(found?.inverseSquareShare).toBeCloseTo((2 / 3.5) ** 2, 4)
  // Two readings of 1 % each, and 5 % of scale (± 10 %, k = 2).
  expect((found?.u ?? 0) / (found?.value ?? 1)).toBeCloseTo(Math.hypot(0.01 / Math.SQRT2, 0.05), 4)
})

test('scattered light beside the beam, which no trace has, outweighs no beam', async () => {
  const row = (atMm: number, lx: number) => ({ atMm, lx })
  const readings: Readings = {
    meter: { calibrationPct: 4, spectralPct: 0, cosinePct: 0, resolutionLx: 0 },
    sets: [
      {
        ...{ id: 'line', kind: 'line', along: 'across', faces: 'wall', aimed: 'axis', distanceM: 10 },
        // By hand: 3 lx beside 10,000 lx are 0.3 of the thousandth that counts as scattered.
        rows: [row(0, 10_000), row(3000, 3)],
      },
    ],
  }
  const spot: Predictor['predict'] = async ({ spots }) => {
    const lx = spots.map((s) => (s.xMm < 1000 ? 10_000 : 0))
    return { lx, se: lx.map(() => 0), batches: lx.map((v) => new Array<number>(BATCHES).fill(v)) }
  }
  const fitting = await makeFitting(spot, toyLamp(), readings, fitPoints(readings), { seed: 1, rays: 1024 })
  expect(fitting.agree(fitting.none).chi2).toBeCloseTo(0.3 ** 2, 2)
})
