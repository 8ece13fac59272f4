import { describe, expect, test } from 'vitest'
import type { PlanCamera } from '../../../../src/app/common/planCamera.ts'
import {
  fitFace,
  panBy,
  planFromScreen,
  roundStep,
  rulerTicks,
  screenFromPlan,
  seenBox,
  zoomAt,
} from '../../../../src/app/plan/model/camera.ts'

const size = { widthPx: 600, heightPx: 400 }
const camera: PlanCamera = { centreXMm: 12, centreYMm: -7, pxPerMm: 2.5 }

describe('the plan’s camera', () => {
  test('x runs right and y runs up, as seen from the target', () => {
    const [x0, y0] = screenFromPlan(camera, size, 0, 0)
    const [x1, y1] = screenFromPlan(camera, size, 10, 10)
    expect([x1 - x0, y1 - y0]).toEqual([25, -25])
  })

  test('there and back again', () => {
    const [x, y] = planFromScreen(camera, size, ...screenFromPlan(camera, size, 33.25, -4.5))
    expect(x).toBeCloseTo(33.25, 12)
    expect(y).toBeCloseTo(-4.5, 12)
  })

  test.each([1.25, 0.8, 1e9, 1e-9])('zooming by %d keeps the place under the pointer', (factor) => {
    const before = planFromScreen(camera, size, 471, 33)
    const after = planFromScreen(zoomAt(camera, size, 471, 33, factor), size, 471, 33)
    expect(after[0]).toBeCloseTo(before[0], 6)
    expect(after[1]).toBeCloseTo(before[1], 6)
  })

  test('panning moves the drawing with the pointer', () => {
    const [x, y] = screenFromPlan(panBy(camera, 30, -12), size, 5, 5)
    const [x0, y0] = screenFromPlan(camera, size, 5, 5)
    expect(x - x0).toBeCloseTo(30, 9)
    expect(y - y0).toBeCloseTo(-12, 9)
  })

  test('the whole face is in view, clear of the rulers, in any shape', () => {
    for (const shape of ['round', 'square', 'hexagon'] as const) {
      const face = { shape, sizeMm: 200, reflectance: 0.7, keepOuts: [], clearanceMm: 1, marginMm: 1 }
      const c = fitFace(face, size)
      const tall = shape === 'hexagon' ? 200 / Math.sqrt(3) : 100
      const [left, top] = screenFromPlan(c, size, -100, tall)
      const [right, bottom] = screenFromPlan(c, size, 100, -tall)
      expect(left).toBeGreaterThan(20)
      expect(top).toBeGreaterThan(20)
      expect(right).toBeLessThan(600)
      expect(bottom).toBeLessThan(400)
    }
  })

  test('a hidden view of no size does not spoil the camera', () => {
    const face = {
      shape: 'round' as const,
      sizeMm: 200,
      reflectance: 0.7,
      keepOuts: [],
      clearanceMm: 1,
      marginMm: 1,
    }
    const c = fitFace(face, { widthPx: 0, heightPx: 0 })
    expect(Number.isFinite(c.centreXMm) && c.pxPerMm > 0).toBe(true)
  })

  test('what can be seen is the size of the canvas in mm', () => {
    const box = seenBox(camera, size)
    expect(box.maxX - box.minX).toBeCloseTo(240, 9)
    expect(box.maxY - box.minY).toBeCloseTo(160, 9)
  })
})

describe('rulers', () => {
  test.each([
    [0.9, 1],
    [1, 1],
    [1.1, 2],
    [3, 5],
    [7, 10],
    [0.03, 0.05],
  ])('a step of at least %d is %d', (least, step) => expect(roundStep(least)).toBe(step))

  test('long ticks stand at least 56 px apart and carry round numbers', () => {
    const long = rulerTicks(-33, 57, 2.5).filter((t) => t.long)
    expect(long.map((t) => t.mm)).toEqual([0, 50])
    const close = rulerTicks(-0.3, 0.5, 300).filter((t) => t.long)
    expect(close.map((t) => t.mm)).toEqual([-0.2, 0, 0.2, 0.4])
  })

  test('short ticks divide a step into fives, or a step of two into fours', () => {
    expect(rulerTicks(0, 50, 2).map((t) => t.mm)).toEqual([0, 10, 20, 30, 40, 50])
    expect(rulerTicks(0, 20, 3).map((t) => t.mm)).toEqual([0, 5, 10, 15, 20])
  })
})
