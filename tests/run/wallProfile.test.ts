// The wall of a tunnel of several stretches, unrolled: areas and places by hand.
import { describe, expect, test } from 'vitest'
import { type Stretch, unroll } from '../../src/lamp/assembly.ts'
import { shareOfStep, shareRound } from '../../src/optics/stretch.ts'
import * as STRETCH from '../../src/optics/stretchRow.ts'
import { RECTANGLE } from '../../src/optics/wall.ts'
import { midProfilePerimeterMm, type ProfiledWall, profileGrid, profilePlace } from '../../src/run/wallProfile.ts'
import { expectWithin } from '../kit/expect.ts'

const finish = { reflectance: 0.5, specularShare: 1, scatterDeg: 0 }
const stretch = (
  zInMm: number,
  zOutMm: number,
  inMm: number,
  outMm: number,
  inHeightMm = inMm,
  outHeightMm = outMm,
): Stretch => ({
  ...finish,
  ...{ zInMm, zOutMm, inMm, outMm, inHeightMm, outHeightMm },
})
const wallOf = (stretches: Stretch[], sides: number, rectangle = false): ProfiledWall => ({
  ...{ nAlong: 64, nRound: 96, zInMm: 0, zOutMm: 50, inMm: 60, outMm: 20, sides },
  profile: { rectangle, ...unroll(stretches) },
})
const sum = (values: ArrayLike<number>) => Array.from(values).reduce((a, b) => a + b, 0)
const exact = { rel: 1e-9, because: 'each cell is exact for flats and cones' }

describe('areas', () => {
  test('a round tube of 30 and 10, the step between them the annulus', () => {
    const { areas, rowSize, rows } = profileGrid(wallOf([stretch(0, 20, 60, 60), stretch(20, 50, 20, 20)], 0))
    expectWithin(sum(areas!), Math.PI * (60 * 20 + (30 ** 2 - 10 ** 2) + 20 * 30), exact)
    expectWithin(rowSize * rows, 20 + 20 + 30, exact)
  })
  test('a square pyramid: four trapezia', () => {
    const { areas } = profileGrid(wallOf([stretch(0, 40, 20, 80)], 4))
    expectWithin(sum(areas!), 4 * 50 * 50, exact)
  })
  test('a rectangle that widens along x alone, and a step along y alone', () => {
    const wall = wallOf([stretch(0, 40, 20, 80, 30, 30), stretch(40, 50, 80, 80, 50, 50)], 4, true)
    // Slopes of 50 at ± x, 30 wide; at ± y trapezia 40 high; ledges 10 deep, 80 long; the last ring.
    expectWithin(sum(profileGrid(wall).areas!), 2 * 50 * 30 + 2 * 40 * 50 + 2 * 10 * 80 + 2 * 10 * (80 + 50), exact)
    expectWithin(midProfilePerimeterMm(wall), 2 * (30 + (20 + (60 * 35) / 50)), exact)
  })
})

const row = (s: Stretch, sides: number) => {
  const out = new Float32Array(STRETCH.size)
  const long = s.zOutMm - s.zInMm
  out[STRETCH.sides] = sides
  out[STRETCH.zIn] = s.zInMm
  out[STRETCH.zOut] = s.zOutMm
  out[STRETCH.rIn] = s.inMm / 2
  out[STRETCH.tanFlare] = (s.outMm - s.inMm) / 2 / long
  out[STRETCH.halfYIn] = s.inHeightMm / 2
  out[STRETCH.tanFlareY] = (s.outHeightMm - s.inHeightMm) / 2 / long
  return out
}

describe.each([
  ['round', 0],
  ['hexagon', 6],
  ['rectangle', RECTANGLE],
])('%s: a place and its cell are each other’s inverse', (_, sides) => {
  const heights = sides === RECTANGLE ? [20, 90] : [40, 60]
  const s = stretch(0, 40, 40, 60, heights[0], heights[1])
  const wall = wallOf([s], Math.max(sides, 0), sides === RECTANGLE)
  test.each([0.3, 11, 24.7, 48, 71.5, 95.9])('column %f', (column) => {
    const { xMm, yMm, zMm } = profilePlace(wall, 32, column)
    expectWithin(zMm, 20, exact)
    expectWithin(96 * shareRound(row(s, sides), xMm, yMm, zMm), column, {
      abs: 2e-3,
      because: 'an arctangent for bins',
    })
    if (sides === RECTANGLE) expectWithin(Math.max(Math.abs(xMm) / 25, Math.abs(yMm) / 27.5), 1, exact)
  })
})

test('how far a place on a step lies from the one section to the other', () => {
  const [wide, narrow] = [
    row(stretch(0, 10, 60, 60, 40, 40), RECTANGLE),
    row(stretch(10, 20, 20, 20, 30, 30), RECTANGLE),
  ]
  const single = { abs: 1e-6, because: 'single precision' }
  // Up: from 30 × 20 to 10 × 15.
  expectWithin(shareOfStep(wide, narrow, 15, 3), 0.75, single)
  expectWithin(shareOfStep(wide, narrow, 2, -19), 0.2, single)
  expectWithin(shareOfStep(wide, narrow, -25, 19), 0.2, single)
  const [small, large] = [row(stretch(0, 10, 20, 20), 0), row(stretch(10, 20, 60, 60), 0)]
  expectWithin(shareOfStep(small, large, 12, 16), 0.5, single)
  expect(shareOfStep(small, large, 30, 1)).toBe(1)
})
