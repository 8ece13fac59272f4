// How far the fine bins reach: 1.6 times the angle beyond which a beam stays under a tenth of its peak, in steps of 8 %.
import { expect, test } from 'vitest'
import { chooseShape, densestPart } from '../../../src/job/beam/pilot.ts'
import { seededRandom } from '../../../src/num/rng.ts'
import { CLEAN_LAMPS } from '../../kit/cleanLamps.ts'
import { sceneOf } from '../../kit/traceHere.ts'

const RAD = Math.PI / 180

test.each(CLEAN_LAMPS.map((clean) => [clean.name, clean] as const))('%s', (_, { lamp, truth }) => {
  const { fineHalfRad, fineBins } = chooseShape(sceneOf(lamp), lamp)
  const tenth = (truth.fieldAngleDeg! / 2) * RAD
  // Parts of equal light are coarse, and a spot of a few rays the coarsest.
  expect(fineHalfRad).toBeGreaterThan(Math.min(1.2 * tenth, 89 * RAD))
  expect(fineHalfRad).toBeLessThan(8 * tenth)
  // A hundredth of the field angle, and the same for a spot that a hundred times as much light lies about.
  expect(fineHalfRad / fineBins).toBeLessThan(0.02 * tenth)
})

test('where no backward ray looks along the axis, parts of a few rays find a spot in a flood, and none where there is none', () => {
  const random = seededRandom(5)
  // A hundredth of the light in a Gaussian of 1.5° at half, the rest by the cosine: 2π I/Φ is 2 for the flood alone.
  const w2 = (1.5 * RAD) ** 2 / (4 * Math.LN2)
  const flood = () => Math.asin(Math.sqrt(random()))
  const spot = () => Math.sqrt(-w2 * Math.log(1 - random()))
  const draw = (share: number) => Array.from({ length: 8192 }, () => (random() < share ? spot() : flood()))
  // Of parts known to a sixth the greatest of 200 lies 2.7 of them higher.
  expect(densestPart(draw(0)) / 2).toBeGreaterThan(1)
  expect(densestPart(draw(0)) / 2).toBeLessThan(1.7)
  // On the axis 0.01 · 2/w² more. Half of the spot lies in the first part, which has 0.72 of that on average, and 2.7 sixths less at worst.
  const peak = 2 + 0.02 / w2
  expect(densestPart(draw(0.01)) / peak).toBeGreaterThan(0.4)
  expect(densestPart(draw(0.01)) / peak).toBeLessThan(1.3)
  expect(densestPart([0.1, 0.2])).toBe(0)
})
