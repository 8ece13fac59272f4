// A picture of the wall in a fit: what is open in each place by itself, and what all places share, stand where a meter's do.
import { expect, test } from 'vitest'
import { makeFitting } from '../../../src/job/fit/fitting.ts'
import { fitPoints, sharedShares } from '../../../src/job/fit/points.ts'
import { statesFlux } from '../../../src/job/fit/predict.ts'
import type { GridSet, Readings } from '../../../src/lamp/readings.ts'
import { normalFrom, seededRandom } from '../../../src/num/rng.ts'
import { birgeRatio } from '../../../src/readings/agreement.ts'
import { toyLamp, toyLux, toyPredictor } from './toyLamp.ts'

const SIDE = [-900, -600, -300, 0, 300, 600, 900]
const METER = { calibrationPct: 4, spectralPct: 0, cosinePct: 0 }

/** The toy lamp's wall at 12 m as a camera would give it whose exponent is off by so much; 2 % in each place by itself. */
function readAs(off: number, curve: number): Readings {
  const lamp = toyLamp()
  const set: GridSet = {
    ...{ id: 'picture', kind: 'grid', distanceM: 12, faces: 'wall', aimed: 'axis', placeDoubtMm: 3 },
    rows: SIDE.flatMap((yMm) => SIDE.map((xMm) => ({ xMm, yMm, lx: 1, doubtPct: 2, shadePct: 0 }))),
  }
  const { points, states } = fitPoints({ sets: [set] })
  const { lx } = toyLux({ lamp, spots: points, fluxLm: statesFlux(lamp, states), seed: 1, rays: [] })
  const readLx = lx[24] ?? 1
  const normal = normalFrom(seededRandom(11))
  const rows = set.rows.map((row, i) => {
    const share = (lx[i] ?? 0) / readLx
    return { ...row, lx: readLx * share ** (1 + off) * (1 + 0.02 * normal()) }
  })
  return { meter: METER, sets: [{ ...set, rows, picture: { readLx, readPct: 2, curve, glareLx: 0.001 } }] }
}

test('points and shared terms', () => {
  const readings = readAs(0, 0.08)
  const data = fitPoints(readings)
  expect(data.points).toHaveLength(49)
  const [first] = data.points
  expect(first?.u).toBeCloseTo(0.02 * (first?.lx ?? 0), 9)
  // Meter (half of 4 %), distance, the picture's scale, curve, shading and glare; no slope is known, so that the zero moves nothing.
  const terms = sharedShares(data, readings, [])
  const [meter, distance, scale, curve, shade] = terms.map((term) => term[0])
  expect(terms.length).toBeGreaterThanOrEqual(6)
  expect([meter, distance, scale, shade]).toEqual([0.02, expect.closeTo(40 / 12_000, 9), 0.02, 0])
  const readLx = readings.sets.flatMap((s) => (s.kind === 'grid' && s.picture ? [s.picture.readLx] : []))[0] ?? 1
  expect(curve).toBeCloseTo(0.08 * Math.log((first?.lx ?? 0) / readLx), 9)
})

test('a camera’s curve is no fault of the lamp', async () => {
  const birge = async (curve: number) => {
    const readings = readAs(0.08, curve)
    const data = fitPoints(readings)
    const fitting = await makeFitting(toyPredictor.predict, toyLamp(), readings, data, { seed: 1, rays: 1024 })
    return birgeRatio(fitting.agree(fitting.none).chi2, data.points.length)
  }
  // One standard uncertainty of the curve; were it kept from the fit, a part would be blamed.
  expect(await birge(0.08)).toBeLessThan(1.3)
  expect(await birge(0)).toBeGreaterThan(1.7)
})
