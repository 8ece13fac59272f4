// Maps of irradiance: one watt on a cell of known area.
import { expect, test } from 'vitest'
import { goesAlongWall } from '../../src/app/common/gridMap.ts'
import { readFaceMap, readLensMap, readWallMap } from '../../src/beam/evenness.ts'
import { expectWithin } from '../kit/expect.ts'
import { filledRun, smallShape } from '../kit/handRun.ts'

const float32 = { rel: 1e-6, because: 'single precision' }
const wall = { nAlong: 4, nRound: 12, zInMm: 10, zOutMm: 50, inMm: 20, outMm: 80, sides: 4 }
const shape = smallShape({ lens: { n: 4, halfMm: 20, zMm: 1 }, wall, face: { n: 2, halfMm: 5 } })
/** 32 W of 16 batches that emitted 1 each: in all batches together 0.5 is one watt. */
const run = filledRun(
  shape,
  (t, l) => {
    t[l.lensW + 6] = 0.5 / 16
    t[l.faceW + 1] = 0.5 / 16
    for (let i = 0; i < 48; i++) t[l.wallW + i] = (i + 1) / 32
  },
  { emittedLm: 9600 },
)

test('lens: 100 mm² are 10 kW/m² a watt', () => {
  const map = readLensMap(run)!
  expect({ ...map, values: 0 }).toEqual({
    columns: 4,
    rows: 4,
    fromX: -20,
    toX: 20,
    fromY: -20,
    toY: 20,
    unit: 'mm',
    values: 0,
    of: 'kW/m2',
  })
  for (const [i, v] of [...map.values].entries()) expectWithin(v, i === 6 ? 10 : 0, float32)
  expect(readLensMap(filledRun(smallShape(), () => {}))).toBeNull()
})

test('face: 25 mm² are 40 kW/m² a watt', () => {
  const map = readFaceMap(run)
  expect([map.columns, map.rows, map.fromX, map.toX, map.fromY, map.toY]).toEqual([2, 2, -5, 5, -5, 5])
  expect(map.values.length).toBe(4)
  expectWithin(map.values[1]!, 40, float32)
})

test('wall: cells of a square tunnel, 12.5 mm along the slope, widths by tan 30°', () => {
  const map = readWallMap(run)!
  // Half the size at mid height is 25: girth 200. Half sizes of the rows: 13.75, 21.25, 28.75, 36.25.
  expectWithin(map.toX, 200, { rel: 1e-12, because: 'rounding' })
  expect({ ...map, toX: 0, values: 0 }).toEqual({
    columns: 12,
    rows: 4,
    fromX: 0,
    toX: 0,
    fromY: 10,
    toY: 50,
    unit: 'mm',
    values: 0,
    of: 'kW/m2',
  })
  const tan = Math.tan(Math.PI / 6)
  expect(map.values.length).toBe(48)
  for (const [row, half] of [13.75, 21.25, 28.75, 36.25].entries()) {
    for (let column = 0; column < 12; column++) {
      const i = 12 * row + column
      const width = half * (column % 3 === 1 ? 2 * (1 - tan) : tan)
      expectWithin(map.values[i]!, (1000 * (i + 1)) / (width * 12.5), float32)
    }
  }
  expect(readWallMap(filledRun(smallShape(), () => {}))).toBeNull()
})

test('the same wall as an assembled tunnel: the way along it counts from the inlet, √(40² + 30²) mm', () => {
  const ends = { zInMm: 10, zOutMm: 50, inMm: 20, outMm: 80, inHeightMm: 20, outHeightMm: 80 }
  const profile = { rectangle: false, lengthMm: 50, parts: [{ ...ends, fromShare: 0, toShare: 1 }] }
  const filled = filledRun(smallShape({ wall: { ...wall, profile } }), (t, l) => t.fill(1 / 32, l.wallW, l.wallW + 48))
  const map = readWallMap(filled)!
  expect([map.fromY, map.toY]).toEqual([0, 50])
  // Where its length happens to be the outlet's z too, it is distinguished from z by its foot.
  const finish = { reflectance: 0.9, specularShare: 0.9, scatterDeg: 1 }
  const tunnel = { ...finish, sides: 4 as const, zInMm: 10, zOutMm: 50, inMm: 20, outMm: 80 }
  expect(goesAlongWall(map, tunnel)).toBe(true)
  expect(goesAlongWall(readWallMap(run)!, tunnel)).toBe(false)
})
