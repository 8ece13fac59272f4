import { describe, expect, test } from 'vitest'
import { boardTypeOf, lampFromBoard, placeEmitters, spaceFromBoard, spaceFromEmitter } from '../../src/lamp/place.ts'
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

describe('boards on wedges and aimed optics', () => {
  const [first] = gannetHead().boards
  const on = (part: object, lamp: object = {}) =>
    placeEmitters(lampWith({ ...lamp, boards: [{ ...first!, xMm: 0, yMm: 0, turnDeg: 0, ...part }] }))
  const axisOf = ({ rotation }: { rotation: readonly number[] }) => [rotation[2]!, rotation[5]!, rotation[8]!]
  const s = (deg: number) => Math.sin((deg * Math.PI) / 180)
  const c = (deg: number) => Math.cos((deg * Math.PI) / 180)
  const near = (got: readonly number[], want: readonly number[]) =>
    want.forEach((w, i) => {
      expectWithin(got[i]!, w, { abs: 1e-9, because: 'doubles' })
    })

  test('a tilt of 10° about +y: axis towards +x, the site at +x goes down', () => {
    const [, place] = on({ heightMm: 7, wedge: { tiltDeg: 10, axisDeg: 90 } }) // the site at (12, 0)
    near(axisOf(place!), [s(10), 0, c(10)])
    near([place!.xMm, place!.yMm, place!.baseZMm], [12 * c(10), 0, 7 - 12 * s(10)])
    expect(place!.plain).toBe(false)
  })

  test('the turn comes before the tilt: the wedge’s axis stays where it is in the face', () => {
    const [, place] = on({ turnDeg: 90, wedge: { tiltDeg: 10, axisDeg: 90 } }) // the site at (0, 12) then
    near(axisOf(place!), [s(10), 0, c(10)])
    near([place!.xMm, place!.yMm, place!.baseZMm], [0, 12, 0])
  })

  test('an aim: about the board’s x, then about its own y; single ones before the board’s; bare ones stay', () => {
    const aim = { xDeg: 5, yDeg: 7 }
    const [a, b] = on({ aim, siteAims: { 1: { xDeg: -3, yDeg: 0 } } })
    near(axisOf(a!), [s(7), -s(5) * c(7), c(5) * c(7)])
    near(axisOf(b!), [0, s(3), c(3)])
    expect(on({ aim, optic: 'bare' })[0]!.plain).toBe(true)
  })

  test('all aim at a point: every optic’s axis runs through it, from the middle of its emitter', () => {
    const aimAt = { xMm: 150, yMm: -80, distanceM: 2 }
    const places = on(
      { heightMm: 5, wedge: { tiltDeg: -25, axisDeg: 40 }, siteAims: { 3: { xDeg: 0, yDeg: 0 } } },
      { aimAt },
    )
    for (const p of places) {
      const [from, to] = [0, 3000].map((z) => spaceFromEmitter(p, [0, 0, z]))
      const d = to!.map((v, i) => (v - from![i]!) / 3000)
      const off = [150 - from![0], -80 - from![1], 2000 - from![2]]
      const along = off.reduce((sum, v, i) => sum + v * d[i]!, 0)
      const aside = Math.hypot(...off.map((v, i) => v - along * d[i]!))
      if (p.siteIndex === 3) expect(aside).toBeGreaterThan(100)
      else expectWithin(aside, 0, { abs: 1e-6, because: 'doubles over two metres' })
      // The emitter itself stays where the board has it.
      const site = gannetHead().boardTypes[0]!.sites[p.siteIndex]!
      const board = { ...first!, xMm: 0, yMm: 0, turnDeg: 0, heightMm: 5, wedge: { tiltDeg: -25, axisDeg: 40 } }
      near(
        spaceFromEmitter(p, [0, 0, p.emitter.heightMm]),
        spaceFromBoard(board, [site.xMm, site.yMm, p.emitter.heightMm]),
      )
    }
  })
})
