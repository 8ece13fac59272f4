import { describe, expect, test } from 'vitest'
import {
  cropGrid,
  fitGrid,
  paintGrid,
  peakOf,
  positionOnUnrolledWall,
  valueAt,
} from '../../../../src/app/common/gridMap.ts'
import { RAMP, RAMP_SIZE } from '../../../../src/app/common/ramp.ts'
import { FLOW, type FlowBranch, inOrder, layFlow, leavesAt, lossPath } from '../../../../src/app/sheet/model/flow.ts'
import {
  drawProfile,
  extremes,
  LOG_DECADES,
  marks,
  mirrored,
  outOfRound,
  plotHalfDeg,
  readProfile,
} from '../../../../src/app/sheet/model/profilePlot.ts'
import { DEMOS } from '../../../../src/library/demos.ts'
import type { GridMap } from '../../../../src/run/figure.ts'
import { fakeSheet } from '../../../kit/fakeSheet.ts'

const box = { widthPx: 352, heightPx: 200, left: 40, right: 8, top: 8, bottom: 24 }
const cone = { thetaDeg: [0, 1, 2, 4, 8], cd: [1000, 800, 500, 100, 0], seCd: [10, 8, 5, 1, 0] }

describe('the profile', () => {
  test('is mirrored about the axis and cut at the edge', () => {
    const points = mirrored(cone, 3)
    expect(points.map((p) => p.deg)).toEqual([-3, -2, -1, 0, 1, 2, 3])
    expect(points[6]!.cd).toBe(300)
    expect(points[0]).toEqual({ ...points[6]!, deg: -3 })
  })
  test('is read straight between its points, on both sides, and held beyond the last', () => {
    expect(readProfile(cone, -1.5)).toEqual({ cd: 650, se: 6.5 })
    expect(readProfile(cone, 0).cd).toBe(1000)
    expect(readProfile(cone, 40).cd).toBe(0)
  })
  test('the axis is in the middle, the peak near the top, nothing below the frame', () => {
    const d = drawProfile(cone, box, 8, false)
    expect(d.x(0)).toBeCloseTo((40 + 344) / 2, 9)
    expect(d.y(1000)).toBeGreaterThan(8)
    expect(d.y(0)).toBe(176)
    expect(d.degAt(d.x(-3.2))).toBeCloseTo(-3.2, 9)
  })
  test('on the logarithmic scale equal ratios are equal steps, and zero lies on the floor', () => {
    const d = drawProfile(cone, box, 8, true)
    expect(d.y(100) - d.y(1000)).toBeCloseTo(d.y(10) - d.y(100), 9)
    expect(d.y(0)).toBe(176)
    expect(d.yTicks).toHaveLength(LOG_DECADES + 1)
    expect(`${d.line}${d.band}`).not.toContain('NaN')
  })
  test('shows the field angle and no more than was traced', () => {
    expect(plotHalfDeg(cone, 6)).toBeCloseTo(6.3, 9)
    expect(plotHalfDeg(cone, 40)).toBe(8)
    expect(plotHalfDeg(cone, undefined)).toBe(8)
  })
  test('marks stand only where the angle is in the frame', () => {
    const beam = { value: 4, se: 0.1 }
    const field = { value: 20, se: 0.1 }
    expect(marks(beam, field, 8).map((m) => m.word)).toEqual(['half'])
    expect(marks(beam, field, 12).map((m) => m.word)).toEqual(['half', 'tenth'])
    expect(marks(undefined, undefined, 12)).toEqual([])
  })
  test('out of round', () => {
    const by = [{ beamDeg: 4 }, { beamDeg: 5 }, { beamDeg: 4.4 }]
    expect(outOfRound(by)).toBeCloseTo(0.25, 12)
    expect(extremes(by)).toEqual([{ beamDeg: 5 }, { beamDeg: 4 }])
    expect(outOfRound([])).toBe(0)
  })
})

describe('grids', () => {
  const map: GridMap = {
    columns: 3,
    rows: 2,
    fromX: -3,
    toX: 3,
    fromY: 0,
    toY: 2,
    unit: 'mm',
    of: 'kW/m2',
    values: Float32Array.from([0, 1, 2, 3, 4, 5]),
  }
  test('the picture has its top row last in the grid, black at zero and white at the top value', () => {
    const px = paintGrid(map, 5)
    const at = (x: number, y: number) => [...px.subarray(4 * (3 * y + x), 4 * (3 * y + x) + 3)]
    expect(at(0, 1)).toEqual([...RAMP.subarray(0, 3)])
    expect(at(2, 0)).toEqual([...RAMP.subarray(3 * (RAMP_SIZE - 1))])
  })
  test('an empty grid paints as ground', () => {
    expect([...paintGrid({ ...map, values: new Float32Array(6) }, 0).subarray(0, 3)]).toEqual([...RAMP.subarray(0, 3)])
  })
  test('value under a point, nothing outside', () => {
    expect(valueAt(map, -2.9, 0.1)).toBe(0)
    expect(valueAt(map, 2.9, 1.9)).toBe(5)
    expect(valueAt(map, 3.1, 1)).toBeNull()
    expect(valueAt(map, 0, -0.1)).toBeNull()
  })
  test('the middle is cut out bin by bin, and a wide reach keeps the whole', () => {
    const values = Float32Array.from({ length: 36 }, (_, i) => i)
    const six: GridMap = { ...map, columns: 6, rows: 6, fromX: -6, toX: 6, fromY: -6, toY: 6, values }
    const cut = cropGrid(six, 3)
    expect([cut.columns, cut.rows, cut.fromX, cut.toX]).toEqual([4, 4, -4, 4])
    expect([...cut.values.subarray(0, 4)]).toEqual([7, 8, 9, 10])
    expect(valueAt(cut, 3.9, 3.9)).toBe(valueAt(six, 3.9, 3.9))
    expect(cropGrid(six, 20)).toBe(six)
  })
  test('peak', () => expect(peakOf(map)).toEqual({ value: 5, x: 2, y: 1.5 }))
  test('fits by width, or by height; a long wall stays thick enough to read', () => {
    expect(fitGrid(map, 300, 300)).toEqual({ widthPx: 300, heightPx: 100 })
    expect(fitGrid({ ...map, toY: 12 }, 300, 300)).toEqual({ widthPx: 150, heightPx: 300 })
    expect(fitGrid({ ...map, toY: 0.1 }, 300, 300).heightPx).toBe(90)
  })
  test('a spot on the wall lies at its azimuth', () => {
    const wall = { ...map, fromX: 0, toX: 400 }
    expect(positionOnUnrolledWall(wall, { xMm: 50, yMm: 0, zMm: 7 })).toEqual({ x: 0, y: 7 })
    expect(positionOnUnrolledWall(wall, { xMm: 0, yMm: 50, zMm: 7 }).x).toBeCloseTo(100, 9)
    expect(positionOnUnrolledWall(wall, { xMm: 0, yMm: -50, zMm: 7 }).x).toBeCloseTo(300, 9)
  })
})

describe('the flow of light', () => {
  test.each(Object.keys(DEMOS))('%s: strands fill the trunk without overlap, rows do not collide', (name) => {
    const { branches, heightPx } = layFlow(fakeSheet(DEMOS[name]!()).ledger, 120)
    let right = 120
    for (const b of branches) {
      expect(b.x + b.width).toBeCloseTo(right, 9)
      right = b.x
    }
    expect(right).toBeCloseTo(0, 3)
    for (let i = 1; i < branches.length; i++) {
      const [a, b] = [branches[i - 1] as FlowBranch, branches[i] as FlowBranch]
      expect(b.y - a.y).toBeGreaterThanOrEqual(FLOW.row - 1e-9)
      if (!b.delivered) expect(leavesAt(b)).toBeGreaterThan(a.y - FLOW.row)
    }
    expect(heightPx).toBeGreaterThan(branches[branches.length - 1]!.y)
  })
  test('losses come in the order light meets them, unknown ones after, nothing is dropped', () => {
    const line = (l: string) => ({ line: l, name: l, share: { value: 0.2, se: 0 }, lm: 1, w: 1 })
    const { losses, delivered } = inOrder(['mystery', 'wall', 'delivered', 'opticLoss', 'deliveredViaRiser'].map(line))
    expect(losses.map((l) => l.line)).toEqual(['opticLoss', 'wall', 'mystery'])
    expect(delivered.map((l) => l.line)).toEqual(['delivered', 'deliveredViaRiser'])
  })
  test('a loss keeps its width round the bend', () => {
    const b = { line: {} as never, delivered: false, x: 50, width: 10, y: 100 }
    const path = lossPath(b, 130)
    expect(path).toContain('H130V95')
    expect(path.startsWith('M50 91')).toBe(true)
    expect(path).toContain('64 105H130')
  })
})
