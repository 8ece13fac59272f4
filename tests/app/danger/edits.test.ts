import { expect, test } from 'vitest'
import { withSun, withThings, withThreshold } from '../../../src/app/danger/edits.ts'
import { USUAL_SUN } from '../../../src/hazard/sunDay.ts'
import { readLamp } from '../../../src/lamp/read.ts'
import { gannetHead } from '../../../src/library/demos.ts'

const lamp = gannetHead()

test('a threshold set and cleared leaves the document as it was', () => {
  const own = withThreshold(lamp, 'paper', 7)
  expect(own.danger).toEqual({ thresholdsKWm2: { paper: 7 } })
  expect(readLamp(own).ok).toBe(true)
  const two = withThreshold(own, 'skin', 2)
  expect(withThreshold(two, 'paper', null).danger).toEqual({ thresholdsKWm2: { skin: 2 } })
  expect(withThreshold(own, 'paper', null)).toEqual(lamp)
  expect('danger' in withThreshold(own, 'paper', null)).toBe(false)
})

test('choices stand beside one another', () => {
  const thing = { name: 'A fence', material: 'timber' as const, distanceMm: 700, absorbs: 1 }
  const all = withSun(withThings(withThreshold(lamp, 'skin', 2), [thing]), USUAL_SUN)
  expect(all.danger).toEqual({ thresholdsKWm2: { skin: 2 }, things: [thing], sun: USUAL_SUN })
  expect(readLamp(all).ok).toBe(true)
  expect(withThings(all, []).danger).toEqual({ thresholdsKWm2: { skin: 2 }, sun: USUAL_SUN })
})
