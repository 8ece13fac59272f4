import fc from 'fast-check'
import { expect, test } from 'vitest'
import { movedFrame, scaledFrame, wholeFrame } from '../../../src/app/workshop/model/frame.ts'

const box = fc
  .tuple(
    fc.double({ min: -500, max: 500, noNaN: true }),
    fc.double({ min: -500, max: 500, noNaN: true }),
    fc.double({ min: 1, max: 900, noNaN: true }),
    fc.double({ min: 1, max: 900, noNaN: true }),
  )
  .map(([fromX, fromY, w, h]) => ({ fromX, fromY, toX: fromX + w, toY: fromY + h }))

test('the whole is in the window, in its shape', () => {
  fc.assert(
    fc.property(box, fc.double({ min: 0.2, max: 5, noNaN: true }), (b, aspect) => {
      const f = wholeFrame(b, aspect)
      expect(f.widthMm / f.heightMm).toBeCloseTo(aspect, 9)
      expect(f.x).toBeLessThan(b.fromX)
      expect(f.y).toBeLessThan(b.fromY)
      expect(f.x + f.widthMm).toBeGreaterThan(b.toX)
      expect(f.y + f.heightMm).toBeGreaterThan(b.toY)
    }),
  )
})

test('what lies under the pointer stays there while it is scaled', () => {
  const f = wholeFrame({ fromX: -100, fromY: -50, toX: 300, toY: 150 }, 1.5)
  const near = scaledFrame(f, 4, 0.25, 0.8)
  expect(near.widthMm).toBeCloseTo(f.widthMm / 4, 9)
  expect(near.x + 0.25 * near.widthMm).toBeCloseTo(f.x + 0.25 * f.widthMm, 9)
  expect(near.y + 0.8 * near.heightMm).toBeCloseTo(f.y + 0.8 * f.heightMm, 9)
})

test('moved by shares of the window', () => {
  expect(movedFrame({ x: 10, y: 20, widthMm: 200, heightMm: 100 }, 0.5, -0.1)).toEqual({
    x: 110,
    y: 10,
    widthMm: 200,
    heightMm: 100,
  })
})
