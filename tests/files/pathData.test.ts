import { SVGPathData } from 'svg-pathdata'
import { expect, test } from 'vitest'
import { pathData } from '../../src/files/drawingSvg.ts'

const path = (vertices: { x: number; y: number; bulge: number }[], closed = true) =>
  pathData({ kind: 'path', layer: 'outline', closed, vertices })

test('lines: y points down, a closed path returns to its beginning', () => {
  const corners = [
    { x: 0, y: 0, bulge: 0 },
    { x: 30, y: 0, bulge: 0 },
    { x: 30, y: 20, bulge: 0 },
  ]
  expect(path(corners)).toBe('M0 0L30 0L30 -20L0 0Z')
  expect(path(corners, false)).toBe('M0 0L30 0L30 -20')
})

test('a bulge of 1 is half a circle, on the right of a way that is gone anticlockwise', () => {
  // From (−5, 0) to (5, 0) anticlockwise: the lower half, y = −5 at its middle, which is +5 with y down.
  const { minX, maxX, minY, maxY } = new SVGPathData(
    path(
      [
        { x: -5, y: 0, bulge: 1 },
        { x: 5, y: 0, bulge: 0 },
      ],
      false,
    ),
  )
    .toAbs()
    .getBounds()
  expect([minX, maxX, minY, maxY].map((v) => Math.round(v * 1e3) / 1e3 || 0)).toEqual([-5, 5, 0, 5])
})
