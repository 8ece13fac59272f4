// The tunnel's wall: plane geometry, worked by hand. Inlet 20 mm, outlet 80 mm, 40 mm long: half sizes 10 to 40, slope ¾.
import { describe, expect, test } from 'vitest'
import { midPerimeterMm, type WallShape, wallGrid, wallHalfMm, wallRadiusMm } from '../../src/run/wall.ts'
import { expectWithin } from '../kit/expect.ts'

const wall = (sides: number, nRound = 8): WallShape => ({
  nAlong: 4,
  nRound,
  zInMm: 10,
  zOutMm: 50,
  inMm: 20,
  outMm: 80,
  sides,
})
const DEG = Math.PI / 180
const rounding = { rel: 1e-14, because: 'rounding' }

test('half the size is linear in z, also beyond the ends', () => {
  expect([10, 30, 50, 70, -10].map((z) => wallHalfMm(wall(0), z))).toEqual([10, 25, 40, 55, -5])
})

describe('distance from the axis', () => {
  test('a round wall: the same all round', () => {
    for (const turn of [0, 1, 2, 5]) expect(wallRadiusMm(wall(0), 30, turn)).toBe(25)
  })
  test('a square: the apothem in front of a flat, √2 of it in the corner', () => {
    const at = (deg: number) => wallRadiusMm(wall(4), 30, deg * DEG)
    expectWithin(at(0), 25, rounding)
    expectWithin(at(90), 25, rounding)
    expectWithin(at(44.999999), 25 * Math.SQRT2, { rel: 1e-7, because: 'just before the corner' })
    expectWithin(at(30), 50 / Math.sqrt(3), rounding)
    expectWithin(at(80), 25 / Math.cos(10 * DEG), rounding)
    expectWithin(at(-80), 25 / Math.cos(10 * DEG), rounding)
  })
  test('a hexagon: 2/√3 of the apothem in the corner at 30°', () => {
    expectWithin(wallRadiusMm(wall(6), 10, 29.999999 * DEG), 20 / Math.sqrt(3), { rel: 1e-7, because: 'near it' })
    expectWithin(wallRadiusMm(wall(6), 10, 120 * DEG), 10, rounding)
  })
})

describe('the wall unrolled', () => {
  test('round: rows 12.5 mm along the slope, columns an eighth of the girth', () => {
    const grid = wallGrid(wall(0))
    expect([grid.columns, grid.rows, grid.wraps]).toEqual([8, 4, true])
    // 10 mm of height on a slope of ¾: 12.5 mm. Half sizes in the middle of rows: 13.75, 21.25, 28.75, 36.25.
    expectWithin(grid.rowSize, 12.5, rounding)
    expect(grid.widths.length).toBe(4)
    for (const [row, half] of [13.75, 21.25, 28.75, 36.25].entries())
      expectWithin(grid.widths[row]!, (half * Math.PI) / 4, rounding)
    expect([...grid.shares!]).toEqual(new Array(8).fill(1))
  })
  test('square, columns of 30°: tan 30° beside the middle of a flat, twice 1 − tan 30° round a corner', () => {
    const { shares } = wallGrid(wall(4, 12))
    const [beside, corner] = [Math.tan(30 * DEG), 2 * (1 - Math.tan(30 * DEG))]
    expect(shares!.length).toBe(12)
    for (let k = 0; k < 12; k++)
      expectWithin(shares![k]!, (k % 3 === 1 ? corner : beside) / (30 * DEG), { rel: 1e-12, because: 'rounding' })
  })
  test('hexagon, columns of 20°: tan 20° beside the middle of a flat, twice tan 30° − tan 20° round a corner', () => {
    const { shares } = wallGrid(wall(6, 18))
    const [beside, corner] = [Math.tan(20 * DEG), 2 * (Math.tan(30 * DEG) - Math.tan(20 * DEG))]
    for (let k = 0; k < 18; k++)
      expectWithin(shares![k]!, (k % 3 === 1 ? corner : beside) / (20 * DEG), { rel: 1e-12, because: 'rounding' })
  })
  test('the cells of a row make up the outline at its height', () => {
    const grid = wallGrid(wall(6, 18))
    const round = grid.shares!.reduce((a, b) => a + b, 0) * grid.widths[1]!
    expectWithin(round, 12 * 21.25 * Math.tan(30 * DEG), { rel: 1e-12, because: 'rounding' })
  })
})

test('girth at the middle height, half size 25 mm', () => {
  expectWithin(midPerimeterMm(wall(0)), 50 * Math.PI, rounding)
  expectWithin(midPerimeterMm(wall(4)), 200, rounding)
  expectWithin(midPerimeterMm(wall(6)), 300 / Math.sqrt(3), rounding)
})
