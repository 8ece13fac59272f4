// 25.4 mm to the inch: international yard and pound agreement, 1959.
import { expect, test } from 'vitest'
import { faultText } from '../../../src/app/common/faultText.ts'

test.each([
  [
    'lens.zMm: the lens reaches back to 254 mm, into the face.',
    'lens.zMm: the lens reaches back to 10 in, into the face.',
  ],
  ['sensor: 25.4, -12.7 mm does not lie on the face', 'sensor: 1, -0.5 in does not lie on the face'],
  ['outline: encloses 12 mm²; B1.2 mm stays', 'outline: encloses 12 mm²; B1.2 mm stays'],
  ['boards[3].tiltDeg: 95 is out of range', 'boards[3].tiltDeg: 95 is out of range'],
])('%s', (why, shown) => {
  expect(faultText(why, 'inch')).toBe(shown)
  expect(faultText(why, 'metric')).toBe(why)
})
