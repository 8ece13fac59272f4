import { describe, expect, test } from 'vitest'
import { gridSites, hexSites, outlineAround, ringSites, rowSites } from '../../src/layout/boardDesigner.ts'
import { edgeGap, outlineShape } from '../../src/layout/outline.ts'
import { gapBetween } from '../../src/layout/shape.ts'

test('the usual boards have the emitters their names say', () => {
  expect(rowSites(4, 10).map((s) => s.xMm)).toEqual([-15, -5, 5, 15])
  expect(gridSites(3, 2, 10)).toHaveLength(6)
  expect(gridSites(3, 2, 10, 20).map((s) => s.yMm)).toEqual([-10, -10, -10, 10, 10, 10])
  expect([0, 1, 2].map((n) => hexSites(n, 12).length)).toEqual([1, 7, 19])
  expect(ringSites(6, 12, true)).toEqual(hexSites(1, 12))
  expect(ringSites(5, 12)).toHaveLength(5)
})

describe('an outline around sites keeps its border, and not a tenth more', () => {
  const border = (shape: 'rectangle' | 'hexagon' | 'disc') => {
    const sites = hexSites(1, 12)
    const outline = outlineAround(shape, sites, 10, 1.5)
    const body = outlineShape(outline)
    // Room from each emitter's disc to the outline's edge, by shapes that the outline can be read as.
    const face =
      outline.shape === 'disc'
        ? { shape: 'round' as const, sizeMm: outline.diameterMm }
        : outline.shape === 'hexagon'
          ? { shape: 'hexagon' as const, sizeMm: outline.acrossMm }
          : null
    if (face) return Math.min(...sites.map((s) => edgeGap(face, { core: [[s.xMm, s.yMm]], radiusMm: 5 }).gapMm))
    // A disc centred inside a plate: the gap is −(depth + radius).
    return Math.min(...sites.map((s) => -gapBetween(body, { core: [[s.xMm, s.yMm]], radiusMm: 0 }).gapMm - 5))
  }
  test.each(['rectangle', 'hexagon', 'disc'] as const)('%s', (shape) => {
    expect(border(shape)).toBeGreaterThanOrEqual(1.5 - 1e-6)
    expect(border(shape)).toBeLessThan(1.6)
  })
  test('1 + 6 at 12 mm with 10 mm collimators and 0.5 mm: the example’s disc of 35 mm', () => {
    expect(outlineAround('disc', hexSites(1, 12), 10, 0.5)).toEqual({ shape: 'disc', diameterMm: 35 })
  })
})
