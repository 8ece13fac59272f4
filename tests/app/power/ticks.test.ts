import { expect, test } from 'vitest'
import { ticked } from '../../../src/app/power/ticks.ts'
import { lampFault } from '../../../src/app/store/tryEdit.ts'
import { gannetHead } from '../../../src/library/demos.ts'

test('ticks are kept in the lamp; the last one taken away leaves the lamp as it was', () => {
  const lamp = gannetHead()
  const one = ticked(lamp, 'lamp/eyes', true)
  const two = ticked(one, 'B1/fuse', true)
  expect(two.powerUp!.done).toEqual(['lamp/eyes', 'B1/fuse'])
  expect(lampFault(two)).toBe(null)
  expect(ticked(two, 'B1/fuse', true)).toBe(two)
  expect(ticked(ticked(two, 'lamp/eyes', false), 'B1/fuse', false)).toEqual(lamp)
})
