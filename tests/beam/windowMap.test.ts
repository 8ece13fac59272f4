// The window map: cells of 0.2 rad, centres at ±0.1 and ±0.3, so that each can be worked by hand.
import { describe, expect, test } from 'vitest'
import {
  findExtremeSpot,
  measureInBatches,
  readDirectionMap,
  windowCd,
  windowCellRad,
  windowGrid,
} from '../../src/beam/windowMap.ts'
import { fold } from '../../src/run/batches.ts'
import type { TallyShape } from '../../src/run/types.ts'
import { expectWithin } from '../kit/expect.ts'
import { filledRun, smallShape } from '../kit/handRun.ts'

const shape = smallShape()
const rounding = { rel: 1e-13, because: 'rounding' }
/** Solid angle of a cell whose centre is at (x, y): true to length along θ, widened across it by θ / sin θ. */
const cellSr = (x: number, y: number, cell = 0.2) =>
  (cell * cell * Math.sin(Math.hypot(x, y))) / (Math.hypot(x, y) || 1)

/** Every cell holds one unit in all: 4800 lm of 16 × 300. */
const even = (of: TallyShape) =>
  fold(
    filledRun(of, (t, l) => {
      for (let i = 0; i < of.windowN ** 2; i++) t[l.windowLm + i] = 1 / 16
      t[l.windowLm - 1] = 7
      t[l.sphereLm] = 7
    }),
  )

test('cells and grid', () => {
  expect(windowCellRad(shape)).toBe(0.2)
  const grid = windowGrid(shape)
  expect([grid.columns, grid.rows, grid.rowSize, grid.widths[3], grid.wraps]).toEqual([4, 4, 0.2, 0.2, false])
})

describe('intensity of a cell', () => {
  test('one lumen over its solid angle, in each of the sixteen', () => {
    const folded = even(shape)
    const cd = windowCd(folded, folded.all)
    expect(cd.length).toBe(16)
    const at = [-0.3, -0.1, 0.1, 0.3]
    for (const [row, y] of at.entries())
      for (const [column, x] of at.entries()) expectWithin(cd[4 * row + column]!, 1 / cellSr(x, y), rounding)
    expect(windowCd(folded, folded.all)).toBe(cd)
  })
  test('of a half, by what that half emitted', () => {
    const run = filledRun(shape, (t, l, b) => {
      if (b % 2) t[l.windowLm + 6] = 1
    })
    const folded = fold(run)
    // Eight units of 8 × 300 luminous weight, for 4800 lm: 16 lm.
    expectWithin(windowCd(folded, folded.halves[1])[6]!, 16 / cellSr(0.1, -0.1), rounding)
    expect(windowCd(folded, folded.halves[0])[6]).toBe(0)
  })
  test('other windows: a cell on the axis itself, one beyond 180°, one so near 180° that it has hardly a solid angle', () => {
    const first = (of: TallyShape) => {
      const folded = even(of)
      return windowCd(folded, folded.all)
    }
    const odd = first(smallShape({ windowN: 3, fineHalfRad: 0.3 }))
    expectWithin(odd[4]!, 1 / 0.04, rounding)
    expectWithin(odd[3]!, 1 / cellSr(0.2, 0), rounding)
    // The same number of cells, wider ones: centres ±2 and 0, in cells of 2.
    const wide = first(smallShape({ windowN: 3, fineHalfRad: 3 }))
    expectWithin(wide[1]!, 1 / cellSr(0, 2, 2), rounding)
    expectWithin(wide[0]!, 1 / cellSr(2, 2, 2), rounding)
    const round = first(smallShape({ windowN: 3, fineHalfRad: 3.4 }))
    expect([round[0], round[2], round[6], round[8]]).toEqual([0, 0, 0, 0])
    expect(round[1]).toBeGreaterThan(0)
    // All four centres 1e-6 short of 180°: sin θ/θ would be 3e-7, and is taken for 1e-6.
    const half = (Math.PI - 1e-6) * Math.SQRT2
    expectWithin(first(smallShape({ windowN: 2, fineHalfRad: half }))[0]!, 1e6 / half ** 2, rounding)
  })
})

test('the map over direction, in degrees', () => {
  const folded = even(shape)
  const map = readDirectionMap(folded)
  const edge = 22.918311805232928 // 0.4 rad
  expect([map.columns, map.rows, map.unit, map.of]).toEqual([4, 4, 'deg', 'cd'])
  expectWithin(map.toX, edge, rounding)
  expectWithin(map.toY, edge, rounding)
  expectWithin(map.fromX, -edge, rounding)
  expectWithin(map.fromY, -edge, rounding)
  expectWithin(map.values[1]!, 1 / cellSr(0.1, 0.3), { rel: 1e-6, because: 'single precision' })
})

describe('in batches', () => {
  test('mean over a disc by area, each batch by its own lumens; none where no area is', () => {
    const folded = fold(
      filledRun(shape, (t, l, b) => {
        t[l.windowLm + 5] = b
        t[l.windowLm + 6] = 2
        if (b === 3) t[l.emitted + 1] = 600
      }),
    )
    const cells = { index: [5, 6], area: [1, 3] }
    const sr = cellSr(0.1, 0.1)
    const values = measureInBatches(folded, cells, (b) => b < 4)
    // (b + 3 · 2)/4 units; a unit is 4800/300 = 16 lm, or 8 lm in batch 3.
    expect(values.length).toBe(4)
    for (const [b, lm] of [24, 28, 32, 18].entries()) expectWithin(values[b]!, lm / sr, rounding)
    expect(measureInBatches(folded, { index: [], area: [] }, (b) => b === 1)).toEqual([0])
  })

  /** Even batches are brightest in cell 5, odd ones in cell 10; the other of the two holds (b + 1) / 100. */
  const split = (bright: readonly [number, number], rest = 0) =>
    fold(
      filledRun(shape, (t, l, b) => {
        for (let i = 0; i < 16; i++) t[l.windowLm + i] = rest
        t[l.windowLm + (b % 2 ? 5 : 10)] = rest + ((bright[0] < rest ? -1 : 1) * (b + 1)) / 100
        t[l.windowLm + (b % 2 ? 10 : 5)] = bright[b % 2]!
      }),
    )
  const allowed = () => true
  // A unit is 16 lm in a batch; all four inner cells have the same solid angle.
  const perUnit = 16 / cellSr(0.1, 0.1)
  // Squares of 1, 3, … 15 about 8 are 168, and of 2, 4, … 16 about 9: s² = 24, s/√8 = √3.
  const se = (0.01 * Math.sqrt(3) * Math.SQRT2) / 2

  test('a place found in one half is measured in the other', () => {
    const spot = findExtremeSpot(split([1, 2]), 0.02, { allowed })
    expectWithin(spot.value, 0.085 * perUnit, rounding)
    expectWithin(spot.se, se * perUnit, rounding)
    // Batch by batch: even ones at cell 10, odd ones at cell 5.
    for (let b = 0; b < 16; b++) expectWithin(spot.inBatch[b]!, ((b + 1) / 100) * perUnit, rounding)
    // The place is that of the brighter half.
    expect([spot.place.column, spot.place.row]).toEqual([2.5, 2.5])
    const other = findExtremeSpot(split([2, 1]), 0.02, { allowed }).place
    expect([other.column, other.row]).toEqual([1.5, 1.5])
  })
  test('the least', () => {
    const spot = findExtremeSpot(split([1, 2], 5), 0.02, { allowed: (r, c) => r % 3 !== 0 && c % 3 !== 0, least: true })
    expectWithin(spot.value, (5 - 0.085) * perUnit, rounding)
    expect(spot.inBatch.length).toBe(16)
  })
})
