// How far the fine bins reach: 1.6 times the angle beyond which a beam stays under a tenth of its peak, in steps of 8 %.
import { expect, test } from 'vitest'
import { chooseShape } from '../../../src/job/beam/pilot.ts'
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
