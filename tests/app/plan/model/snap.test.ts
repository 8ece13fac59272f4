import { describe, expect, test } from 'vitest'
import { type SnapOptions, type SnapShape, snapBoard } from '../../../../src/app/plan/model/snap.ts'
import type { BoardType } from '../../../../src/lamp/schema.ts'
import { boardOutline } from '../../../../src/layout/outline.ts'
import { gapBetween } from '../../../../src/layout/shape.ts'
import { gannetHead } from '../../../../src/library/demos.ts'
import { inSystem } from '../../../../src/num/quantity.ts'

const disc = { shape: 'disc', diameterMm: 35 } as const
const plate = { shape: 'rectangle', widthMm: 60, heightMm: 20 } as const
const hex = { shape: 'hexagon', acrossMm: 30 } as const
const at = (id: string, outline: BoardType['outline'], xMm: number, yMm: number, turnDeg = 0): SnapShape => ({
  id,
  outline,
  xMm,
  yMm,
  turnDeg,
})
const only = (o: Partial<SnapOptions>): SnapOptions => ({
  reachMm: 4,
  gridMm: null,
  neighbours: false,
  rings: false,
  clearanceMm: 0.5,
  ...o,
})
const whys = (s: { constraints: { why: string }[] }, system: 'metric' | 'inch' = 'metric') =>
  s.constraints.map((l) => inSystem(l.why, system))

describe('snapping of a dragged board', () => {
  test('with nothing to snap to it stays where the pointer is', () => {
    expect(snapBoard(at('A', disc, 3.21, 4.32), [], only({}))).toEqual({ xMm: 3.21, yMm: 4.32, constraints: [] })
  })

  test('on the grid, without words: the grid explains itself', () => {
    const s = snapBoard(at('A', disc, 3.21, -4.66), [], only({ gridMm: 0.5 }))
    expect([s.xMm, s.yMm, s.constraints]).toEqual([3, -4.5, []])
  })

  test('a disc beside a disc stops at the clearance', () => {
    const s = snapBoard(at('A', disc, 34, 12), [at('B', disc, 0, 0)], only({ neighbours: true }))
    expect(Math.hypot(s.xMm, s.yMm)).toBeCloseTo(35.5, 9)
    expect(whys(s)).toEqual(['0.5 mm from B'])
    expect(whys(s, 'inch')).toEqual(['0.02 in from B'])
  })

  test('a disc between two others nests against both', () => {
    const others = [at('B', disc, 0, 0), at('C', disc, 35.5, 0)]
    const s = snapBoard(at('A', disc, 16.5, 32), others, only({ neighbours: true }))
    expect(s.xMm).toBeCloseTo(17.75, 9)
    expect(s.yMm).toBeCloseTo((35.5 * Math.sqrt(3)) / 2, 9)
    expect(whys(s).sort()).toEqual(['0.5 mm from B', '0.5 mm from C'])
  })

  test('plates of the same turn stop side by side and share a row', () => {
    const s = snapBoard(at('A', plate, 61.3, 1.4), [at('B', plate, 0, 0)], only({ neighbours: true }))
    expect([s.xMm, s.yMm]).toEqual([60.5, 0])
    expect(whys(s).sort()).toEqual(['0.5 mm from B', 'in a row with B'])
  })

  test('plates at an odd angle to each other have no flats in common', () => {
    const s = snapBoard(at('A', plate, 45, 30, 20), [at('B', plate, 0, 0)], only({ neighbours: true }))
    expect(s.constraints).toEqual([])
  })

  test('hexagons snap flat to flat, and in the notch between two', () => {
    const one = snapBoard(at('A', hex, 31.1, 0.3), [at('B', hex, 0, 0)], only({ neighbours: true }))
    expect([one.xMm, one.yMm]).toEqual([30.5, 0])
    const two = snapBoard(
      at('A', hex, 14.6, 27),
      [at('B', hex, 0, 0), at('C', hex, 30.5, 0)],
      only({ neighbours: true }),
    )
    expect(two.xMm).toBeCloseTo(15.25, 9)
    expect(two.yMm).toBeCloseTo((30.5 * Math.sqrt(3)) / 2, 9)
  })

  test('a disc against a plate’s flat, whichever of the two moves', () => {
    const d = snapBoard(at('A', disc, 8, 28.5), [at('B', plate, 0, 0)], only({ neighbours: true }))
    expect(d.yMm).toBeCloseTo(10 + 17.5 + 0.5, 9)
    const p = snapBoard(at('A', plate, 8, 28.5), [at('B', disc, 0, 0)], only({ neighbours: true }))
    expect(p.yMm).toBeCloseTo(28, 9)
  })

  test('on the ring that other boards already stand on', () => {
    const s = snapBoard(at('A', disc, 50, 21), [at('B', disc, 0, 52)], only({ rings: true }))
    expect(Math.hypot(s.xMm, s.yMm)).toBeCloseTo(52, 9)
    expect(whys(s)).toEqual(['on the ring of 52 mm radius'])
  })

  test('on the axis, near it', () => {
    const s = snapBoard(at('A', disc, 1.2, -0.8), [], only({ rings: true, gridMm: 5 }))
    expect([s.xMm, s.yMm]).toEqual([0, 0])
    expect(whys(s)).toEqual(['on the lamp axis'])
  })

  test('constrained to a column, it snaps to the grid along it', () => {
    const s = snapBoard(at('A', disc, 10.9, 61.3), [at('B', disc, 10.25, -40)], only({ neighbours: true, gridMm: 1 }))
    expect([s.xMm, s.yMm]).toEqual([10.25, 61])
  })

  test('never farther than one and a half reaches from the pointer', () => {
    const others = Array.from({ length: 12 }, (_, i) => at(`B${i}`, disc, 36 * (i % 4), 36 * Math.floor(i / 4)))
    for (let i = 0; i < 200; i++) {
      const [x, y] = [140 * ((i * 0.618) % 1), 110 * ((i * 0.757) % 1)]
      const s = snapBoard(at('A', disc, x, y), others, only({ neighbours: true, rings: true }))
      expect(Math.hypot(s.xMm - x, s.yMm - y)).toBeLessThanOrEqual(6 + 1e-9)
    }
  })

  test('snapped against a neighbour, the layout’s own measure finds exactly the clearance', () => {
    const lamp = gannetHead()
    const type = { ...lamp.boardTypes[0]!, outline: hex }
    const typed = { ...lamp, boardTypes: [type] }
    const s = snapBoard(at('A', hex, 20, 24, 60), [at('B', hex, 0, 0)], only({ neighbours: true }))
    const shape = (xMm: number, yMm: number, turnDeg: number) =>
      boardOutline(typed, { id: 'x', type: type.id, xMm, yMm, turnDeg, currentA: 1 })
    expect(gapBetween(shape(s.xMm, s.yMm, 60), shape(0, 0, 0)).gapMm).toBeCloseTo(0.5, 9)
  })
})
