import { describe, expect, test } from 'vitest'
import { boardTypeOf, lampFromBoard, placeEmitters } from '../../src/lamp/place.ts'
import { gannetHead, iceRink } from '../../src/library/demos.ts'
import { expectWithin } from '../kit/expect.ts'
import { lampWith } from '../kit/lampWith.ts'

test('board by board, site by site, in document order', () => {
  const places = placeEmitters(gannetHead())
  expect(places).toHaveLength(19 * 7)
  expect(places.map((p) => [p.boardIndex, p.siteIndex])).toEqual(
    Array.from({ length: 19 * 7 }, (_, i) => [Math.floor(i / 7), i % 7]),
  )
  expect(placeEmitters(iceRink())).toHaveLength(30)
})

test('a board turned by 90° carries its +x site to +y', () => {
  const [first] = gannetHead().boards
  const lamp = lampWith({ boards: [{ ...first!, xMm: 10, yMm: -5, turnDeg: 90 }] })
  const { xMm, yMm, turnDeg } = placeEmitters(lamp)[1]! // the site at (12, 0)
  expectWithin(xMm, 10, { abs: 1e-12, because: 'cos 90° in doubles' })
  expectWithin(yMm, 7, { ulps: 2 })
  expect(turnDeg).toBe(90)
})

test('turning a board moves no site nearer to its middle or farther', () => {
  for (let turnDeg = -360; turnDeg <= 360; turnDeg += 7) {
    const [x, y] = lampFromBoard({ xMm: 3, yMm: 4, turnDeg }, 6, 8)
    expectWithin(Math.hypot(x - 3, y - 4), 10, { rel: 1e-14, because: 'rounding' })
  }
})

describe('which optic', () => {
  const [a, b, c] = gannetHead().boards
  const boards = [
    a!,
    { ...b!, optic: 'bare' },
    { ...c!, optic: 'bare', siteOptics: { 2: 'collimator-12' }, currentA: 0.5 },
  ]
  const places = placeEmitters(lampWith({ boards }))

  test('the emitter’s own, else the board’s, else the lamp’s', () => {
    const of = (board: number) => places.filter((p) => p.boardIndex === board).map((p) => p.optic.id)
    expect(of(0)).toEqual(Array(7).fill('collimator-12'))
    expect(of(1)).toEqual(Array(7).fill('bare'))
    expect(of(2)).toEqual(['bare', 'bare', 'collimator-12', 'bare', 'bare', 'bare', 'bare'])
  })

  test('the current is the board’s', () => {
    expect(places.map((p) => p.currentA)).toEqual([...Array(14).fill(2), ...Array(7).fill(0.5)])
  })
})

test('a site’s own turn adds to its board’s', () => {
  const [type] = gannetHead().boardTypes
  const [first] = gannetHead().boards
  const lamp = lampWith({
    boardTypes: [{ ...type!, sites: [{ xMm: 0, yMm: 0, turnDeg: 30 }] }],
    boards: [{ ...first!, turnDeg: 15 }],
  })
  expect(placeEmitters(lamp).map((p) => p.turnDeg)).toEqual([45])
})

test('a name that leads nowhere is a bug by then, and says which', () => {
  const lamp = gannetHead()
  expect(() => placeEmitters({ ...lamp, optic: 'gone' })).toThrow('no optic type called "gone"')
  expect(() => boardTypeOf(lamp, { ...lamp.boards[0]!, type: 'gone' })).toThrow('no board type called "gone"')
})
