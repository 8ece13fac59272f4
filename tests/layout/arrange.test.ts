import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { spaceFromBoard } from '../../src/lamp/place.ts'
import type { Board } from '../../src/lamp/schema.ts'
import {
  align,
  arrangeOnRing,
  copyBoards,
  distribute,
  mirror,
  spreadOnArc,
  spreadOnLine,
  turnGroup,
} from '../../src/layout/arrange.ts'
import { boardOutline } from '../../src/layout/outline.ts'
import { shapeBox } from '../../src/layout/shape.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { expectWithin } from '../kit/expect.ts'
import { lampWith } from '../kit/lampWith.ts'

const seven = gannetHead().boardTypes[0]!
const lamp = lampWith({
  boardTypes: [seven, { ...seven, id: 'plate', outline: { shape: 'rectangle', widthMm: 40, heightMm: 10 } }],
})
const board = (id: string, type: string, xMm: number, yMm: number, turnDeg = 0): Board => ({
  id,
  type,
  xMm,
  yMm,
  turnDeg,
  currentA: 1,
})
/** A disc of 35 mm, a plate lying and a plate standing. */
const three = [board('A', 'seven', 0, 0), board('B', 'plate', 50, 30), board('C', 'plate', -60, -40, 90)]
const boxes = (boards: readonly Board[]) => boards.map((b) => shapeBox(boardOutline(lamp, b)))
const frozen = (boards: readonly Board[]): Board[] => boards.map((b) => Object.freeze({ ...b }))

describe('align', () => {
  test.each([
    ['left', 'fromX', -65],
    ['right', 'toX', 70],
    ['bottom', 'fromY', -60],
    ['top', 'toY', 35],
  ] as const)('%s: every outline’s edge is there', (edge, side, mm) => {
    for (const box of boxes(align(lamp, frozen(three), edge))) expect(box[side]).toBeCloseTo(mm, 4)
  })
  test('centres: every outline’s middle is the middle of all; the other coordinate stays', () => {
    const out = align(lamp, three, 'centreX')
    for (const box of boxes(out)) expect((box.fromX + box.toX) / 2).toBeCloseTo(2.5, 4)
    expect(out.map((b) => b.yMm)).toEqual(three.map((b) => b.yMm))
    for (const box of boxes(align(lamp, three, 'centreY'))) expect((box.fromY + box.toY) / 2).toBeCloseTo(-12.5, 4)
  })
  test('one board alone, or already in line, stays the same object', () => {
    expect(align(lamp, [three[0]!], 'left')[0]).toBe(three[0])
    expect(align(lamp, three, 'left')[2]).toBe(three[2])
  })
})

describe('distribute', () => {
  test('gaps between outlines become equal, the outermost stay', () => {
    const out = distribute(lamp, frozen([...three, board('D', 'seven', 10, 5)]), 'x')
    const sorted = boxes(out).sort((a, b) => a.fromX - b.fromX)
    const gaps = sorted.slice(1).map((b, i) => b.fromX - sorted[i]!.toX)
    for (const gap of gaps) expect(gap).toBeCloseTo(gaps[0]!, 3)
    expect([out[1]!.xMm, out[2]!.xMm]).toEqual([50, -60])
    expect(out.map((b) => b.yMm)).toEqual([0, 30, -40, 5])
  })
  test('along y too; two boards have nothing to share', () => {
    const out = distribute(lamp, three, 'y')
    expect(out[0]!.yMm).not.toBe(0)
    expect(distribute(lamp, three.slice(0, 2), 'y')).toEqual(three.slice(0, 2))
  })
})

describe('mirror and turn', () => {
  const corners = (boards: readonly Board[], image: (x: number, y: number) => [number, number] = (x, y) => [x, y]) =>
    boards
      .flatMap((b) => boardOutline(lamp, b).core.map(([x, y]) => image(x, y)))
      .map(([x, y]) => `${x.toFixed(3)} ${y.toFixed(3)}`)
      .sort()
  test('the corners are the mirrored corners', () => {
    const tilted = frozen([board('A', 'plate', 30, 10, 20)])
    expect(corners(mirror(tilted, 'x', 5))).toEqual(corners(tilted, (x, y) => [10 - x, y]))
    expect(corners(mirror(tilted, 'y'))).toEqual(corners(tilted, (x, y) => [x, -y]))
  })
  test('twice is none', () => {
    for (const axis of ['x', 'y'] as const) expect(mirror(mirror(three, axis, 3), axis, 3)).toEqual(three)
  })
  test('a quarter turn about a point, by hand', () => {
    expect(turnGroup(frozen([board('A', 'plate', 12, 5, 170)]), 90, 10, 5)[0]).toMatchObject({
      xMm: 10,
      yMm: 7,
      turnDeg: -100,
    })
  })
  test('a turn keeps distances, and back again is where it was', () => {
    fc.assert(
      fc.property(fc.double({ min: -360, max: 360, noNaN: true }), (deg) => {
        const out = turnGroup(three, deg, 7, -3)
        for (const [i, b] of out.entries()) {
          const far = (p: Board) => Math.hypot(p.xMm - 7, p.yMm + 3)
          expect(far(b)).toBeCloseTo(far(three[i]!), 3)
        }
        for (const [i, b] of turnGroup(out, -deg, 7, -3).entries()) {
          expect(b.xMm).toBeCloseTo(three[i]!.xMm, 3)
          expect(b.yMm).toBeCloseTo(three[i]!.yMm, 3)
        }
      }),
    )
  })
})

test('copies take free names and an offset', () => {
  const out = copyBoards(frozen(three), 5, -2, ['B1', 'B3'])
  expect(out.map((b) => b.id)).toEqual(['B2', 'B4', 'B5'])
  expect(out[1]).toMatchObject({ type: 'plate', xMm: 55, yMm: 28 })
})

describe('on a ring', () => {
  test('evenly, in order of direction, each where it travels little', () => {
    const out = arrangeOnRing(
      frozen([
        board('A', 'seven', 0, 9),
        board('B', 'seven', 9, 1),
        board('C', 'seven', -9, 0),
        board('D', 'seven', 1, -9),
      ]),
      {
        radiusMm: 50,
      },
    )
    expect(out.map((b) => [b.id, b.xMm, b.yMm])).toEqual([
      ['A', 0, 50],
      ['B', 50, 0],
      ['C', -50, 0],
      ['D', 0, -50],
    ])
    expect(out.every((b) => b.turnDeg === 0)).toBe(true)
  })
  test('a board a hair below +x stays there: it is not sent all the way round', () => {
    const out = arrangeOnRing(
      [board('A', 'seven', 50, -0.001), board('B', 'seven', 0, 50), board('C', 'seven', -50, 0)],
      {
        radiusMm: 50,
      },
    )
    expect(out[0]).toMatchObject({ xMm: 50, yMm: 0 })
    expect(out[1]!.yMm).toBeGreaterThan(40)
  })
  test('about another centre, turned outwards', () => {
    const out = arrangeOnRing(three, { radiusMm: 20, xMm: 5, yMm: 5, fromDeg: 90, turned: true })
    for (const b of out) {
      expect(Math.hypot(b.xMm - 5, b.yMm - 5)).toBeCloseTo(20, 3)
      const off = (Math.atan2(b.yMm - 5, b.xMm - 5) * 180) / Math.PI - b.turnDeg
      expect(Math.abs(((off + 540) % 360) - 180)).toBeLessThan(0.01)
    }
    expect(out.some((b) => b.turnDeg === 90)).toBe(true)
  })
})

describe('spread evenly', () => {
  const at = (boards: readonly Board[]) => boards.map((b) => [b.id, b.xMm, b.yMm])

  test('on a slanted line: the ends stay, the others go to thirds of it in their order', () => {
    const row = frozen([
      board('A', 'seven', 50, 12),
      board('B', 'seven', 60, 80, 30),
      board('C', 'seven', 0, 0),
      board('D', 'seven', 4, 30),
    ])
    expect(at(spreadOnLine(row))).toEqual([
      ['A', 40, 53.3333],
      ['B', 60, 80],
      ['C', 0, 0],
      ['D', 20, 26.6667],
    ])
    expect(spreadOnLine(row)[1]!.turnDeg).toBe(30)
  })

  test('all in one place: nothing to spread', () => {
    const heap = [board('A', 'seven', 5, 5), board('B', 'seven', 5, 5), board('C', 'seven', 5, 5)]
    expect(spreadOnLine(heap)).toEqual(heap)
  })

  test('on an arc: the widest gap stays open, its sides keep their directions; across the −x axis', () => {
    const polar = (id: string, radiusMm: number, deg: number) =>
      board(id, 'seven', radiusMm * Math.cos((deg * Math.PI) / 180), radiusMm * Math.sin((deg * Math.PI) / 180))
    const out = spreadOnArc(
      frozen([polar('A', 80, 230), polar('B', 110, 130), polar('C', 110, 140), polar('D', 100, 160)]),
    )
    const heading = (b: Board) => ((Math.atan2(b.yMm, b.xMm) * 180) / Math.PI + 360) % 360
    for (const [i, deg] of [230, 130, 130 + 100 / 3, 130 + 200 / 3].entries()) {
      expect(heading(out[i]!)).toBeCloseTo(deg, 3)
      expect(Math.hypot(out[i]!.xMm, out[i]!.yMm)).toBeCloseTo(100, 3)
    }
  })

  test('two boards, or none, stay', () => {
    const two = [board('A', 'seven', 10, 0), board('B', 'seven', 0, 30)]
    expect(spreadOnArc(two)).toEqual(two)
    expect(spreadOnLine([])).toEqual([])
  })
})

describe('wedges', () => {
  const wedged = (axisDeg: number, turnDeg = 0) => [{ ...three[0]!, turnDeg, wedge: { tiltDeg: 20, axisDeg } }]
  const normal = ([b]: readonly Board[]) => spaceFromBoard({ ...b!, xMm: 0, yMm: 0 }, [0, 0, 1])
  const near = (got: readonly number[], want: readonly number[]) =>
    want.forEach((w, i) => {
      expectWithin(got[i]!, w, { abs: 1e-6, because: 'degrees are kept to a thousandth' })
    })

  test('a board’s normal turns with the board', () => {
    const [x, y, z] = normal(wedged(30))
    near(normal(turnGroup(wedged(30), 90, 5, 5)), [-y, x, z])
    near(normal(arrangeOnRing(wedged(30, 10), { radiusMm: 50, fromDeg: 100, turned: true })), [-y, x, z])
  })
  test('and is mirrored with it', () => {
    const [x, y, z] = normal(wedged(30))
    near(normal(mirror(wedged(30), 'x')), [-x, y, z])
    near(normal(mirror(wedged(30), 'y')), [x, -y, z])
  })
})
