// y' = y, tan' = tan − x/f: the thin lens of textbooks.
import { expect, test } from 'vitest'
import { passIdeal } from '../../../src/optics/idealLens.ts'
import * as P from '../../../src/optics/params.ts'
import { DX, DY, DZ, X, Y } from '../../../src/optics/records.ts'
import { expectWithin } from '../../kit/expect.ts'
import { doubles, rayAt, type Vec } from '../../kit/lensBench.ts'

const rounding = { abs: 1e-15, because: 'rounding' }

test.each([
  ['along the axis, to the focus', 100, [30, -40, 0], [0, 0, 1], [-30, 40, 100]],
  ['from the focus, out along the axis', 100, [30, -40, 0], [30, -40, 100], [0, 0, 1]],
  ['through the middle, as it was', 50, [0, 0, 0], [3, -7, 5], [3, -7, 5]],
  ['from twice the focal length to as far behind it', 20, [8, 6, 0], [8, 6, 40], [-8, -6, 40]],
  ['downward, slopes against the sense of travel', 100, [30, -40, 0], [0, 0, -1], [-30, 40, -100]],
  ['downward from the focus', 100, [30, -40, 0], [30, -40, -100], [0, 0, -1]],
] as [string, number, Vec, Vec, Vec][])('%s', (_, focal, at, from, to) => {
  const p = doubles(P.size)
  p[P.lensFocal] = focal
  const ray = rayAt(at, from, 1)
  passIdeal(ray, p)
  const length = Math.hypot(...to)
  for (const k of [0, 1, 2] as const) expectWithin(ray[DX + k]!, to[k] / length, rounding)
  expect([ray[X], ray[Y], Math.sign(ray[DZ]!)]).toEqual([at[0], at[1], Math.sign(from[2])])
  expectWithin(Math.hypot(ray[DX]!, ray[DY]!, ray[DZ]!), 1, rounding)
})
