import { describe, expect, test } from 'vitest'
import type { AirPlace } from '../../src/hazard/air/search.ts'
import type { AirZone } from '../../src/hazard/air/zones.ts'
import { readFaceSpot, readWallSpot, upperKWm2 } from '../../src/hazard/discs.ts'
import {
  concentrationLimit,
  findBoardUnder,
  findWorstSun,
  landOf,
  onStoppingBoard,
  readSun,
  readSunSpots,
  SUN_HALF_DEG,
  type SunAtTilt,
  sunImageDiameterMm,
} from '../../src/hazard/sun.ts'
import type { BoardType, Lamp } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { expectWithin } from '../kit/expect.ts'
import { filledRun, smallShape } from '../kit/handRun.ts'
import { oneEmitter } from '../kit/traceHere.ts'

const lamp = gannetHead()
const RAD = Math.PI / 180

describe('where a place is', () => {
  test('in the air within a disc’s width of a board on a spacer it is on the board', () => {
    const raised = { ...lamp, boards: lamp.boards.map((b) => ({ ...b, heightMm: 40 })) }
    const at = (zMm: number, xMm = 0) => landOf(raised, { zone: 'inside', xMm, yMm: 0, zMm, discMm: 10 })
    expect([29, 31, 49, 51].map((z) => at(z))).toEqual(['air', 'board', 'board', 'air'])
    expect(at(40, 99)).toBe('wall')
    // On a wedge of 9° an edge of the hexagon, 35 mm across flats, lies 3.2 mm higher.
    const wedged = { ...lamp, boards: raised.boards.map((b) => ({ ...b, wedge: { tiltDeg: 9, axisDeg: 0 } })) }
    expect(landOf(wedged, { zone: 'inside', xMm: 0, yMm: 0, zMm: 52, discMm: 10 })).toBe('board')
  })
  test('what a place lies on', () => {
    const at = (zone: AirZone, xMm: number, zMm: number) => landOf(lamp, { zone, xMm, yMm: 0, zMm, discMm: 10 })
    expect(at('outside', 300, 20)).toBe('outside')
    expect(at('front', 0, 1200)).toBe('front')
    expect(at('inside', 0, 9)).toBe('board')
    expect(at('inside', 99, 9)).toBe('face')
    expect(at('inside', 0, 11)).toBe('air')
    // At z 527 the wall stands at 190 mm.
    expect(at('inside', 181, 527)).toBe('wall')
    expect(at('inside', 179, 527)).toBe('air')
    // Across the flats of a square the corner is farther: at 45° and 190 √2 from the axis is its edge.
    const square = { ...lamp, tunnel: { ...lamp.tunnel!, sides: 4 } }
    const corner = { zone: 'inside' as const, zMm: 527, discMm: 10 }
    expect(landOf(square, { ...corner, xMm: 185, yMm: 0 })).toBe('wall')
    expect(landOf(square, { ...corner, xMm: 170, yMm: 170 })).toBe('air')
    expect(landOf(square, { ...corner, xMm: 185, yMm: 185 })).toBe('wall')
  })
  test('exactly a disc above the face is in the air; a disc from the wall is; on the first plane of the tunnel the wall counts', () => {
    const at = (xMm: number, zMm: number) => landOf(lamp, { zone: 'inside', xMm, yMm: 0, zMm, discMm: 10 })
    expect(at(0, 10)).toBe('air')
    expect(at(0, 9.999)).toBe('board')
    expect([at(180, 527), at(-180, 527), at(180.001, 527)]).toEqual(['air', 'air', 'wall'])
    expect([at(95, 14), at(95, 13.9), at(89, 14)]).toEqual(['wall', 'air', 'air'])
    // Past the wide end the wall goes on straight: 280 mm.
    expect([at(271, 1100), at(269, 1100)]).toEqual(['wall', 'air'])
    expect(landOf({ ...lamp, tunnel: null }, { zone: 'inside', xMm: 500, yMm: 0, zMm: 500, discMm: 10 })).toBe('air')
  })
  test('across the flats of a hexagon, first flat towards +x: the next ones at 60° steps, corners between', () => {
    const six = { ...lamp, tunnel: { ...lamp.tunnel!, sides: 6 } }
    const at = (deg: number, r: number) =>
      landOf(six, { zone: 'inside', xMm: r * Math.cos(deg * RAD), yMm: r * Math.sin(deg * RAD), zMm: 527, discMm: 10 })
    for (const deg of [0, 60, -60, 120, 180, 240]) expect([at(deg, 179), at(deg, 181)]).toEqual(['air', 'wall'])
    // 180/cos 30° = 207.8.
    for (const deg of [30, 90, -30, 210]) expect([at(deg, 207), at(deg, 209)]).toEqual(['air', 'wall'])
  })
})

describe('the board under a disc', () => {
  const withBoards = (outline: BoardType['outline'], turnDeg: number): Lamp => {
    const one = oneEmitter()
    const [type] = one.boardTypes
    const [board] = one.boards
    const far = { ...board!, id: 'far', xMm: -300, yMm: 0 }
    return {
      ...one,
      boardTypes: [{ ...type!, outline }],
      boards: [far, { ...board!, xMm: 100, yMm: 50, turnDeg }, { ...board!, id: 'twin', xMm: 100, yMm: 50 }],
    }
  }
  const under = (outline: BoardType['outline'], turnDeg = 0) => {
    const on = withBoards(outline, turnDeg)
    return (x: number, y: number, discMm = 0) => findBoardUnder(on, { xMm: 100 + x, yMm: 50 + y, discMm })
  }
  test('a rectangle of 40 by 20 mm: its edges count, and half a disc beyond them; the first of two; −1 on none', () => {
    const at = under({ shape: 'rectangle', widthMm: 40, heightMm: 20 })
    for (const [x, y] of [
      [20, 10],
      [-20, -10],
      [-20, 10],
      [0, 0],
    ] as const)
      expect(at(x, y)).toBe(1)
    for (const [x, y] of [
      [20.001, 0],
      [-20.001, 0],
      [0, 10.001],
      [0, -10.001],
    ] as const)
      expect(at(x, y)).toBe(-1)
    expect([at(21, 11, 2), at(21.001, 0, 2), at(0, 11.001, 2)]).toEqual([1, -1, -1])
    expect(at(-400, -50)).toBe(0)
  })
  test('turned by 30° its long side is at 30°', () => {
    const on = withBoards({ shape: 'rectangle', widthMm: 40, heightMm: 20 }, 30)
    const turned = { ...on, boards: on.boards.slice(0, 2) }
    const at = (deg: number) =>
      findBoardUnder(turned, { xMm: 100 + 18 * Math.cos(deg * RAD), yMm: 50 + 18 * Math.sin(deg * RAD), discMm: 0 })
    expect([at(30), at(-30), at(-150), at(150)]).toEqual([1, -1, 1, -1])
  })
  test('a hexagon 40 mm across flats, flats at 0°, 60°, 120°: corners at 23.09 mm', () => {
    const at = under({ shape: 'hexagon', acrossMm: 40 })
    const polar = (deg: number, r: number, disc = 0) => at(r * Math.cos(deg * RAD), r * Math.sin(deg * RAD), disc)
    expect([at(20, 0), at(-20, 0), at(20.001, 0), at(-20.001, 0), at(21, 0, 2), at(21.001, 0, 2)]).toEqual([
      1, 1, -1, -1, 1, -1,
    ])
    for (const deg of [60, 120, 240, 300]) expect([polar(deg, 19.99), polar(deg, 20.01)]).toEqual([1, -1])
    for (const deg of [30, 90, 150, 210, 270, 330]) expect([polar(deg, 23.08), polar(deg, 23.11)]).toEqual([1, -1])
  })
  test('a disc by its diameter, a star by the circle about it', () => {
    for (const outline of [
      { shape: 'disc', diameterMm: 20 },
      { shape: 'star', acrossMm: 20 },
    ] as BoardType['outline'][]) {
      const at = under(outline)
      expect([at(6, 8), at(-6, 8.001), at(10, 0), at(0, 11, 2), at(0, 11.001, 2)]).toEqual([1, -1, 1, 1, -1])
    }
  })
})

const place = (over: Partial<AirPlace>): AirPlace => ({
  ...{ kWm2: 5, se: 0.5, xMm: 0, yMm: 0, zMm: 400, discMm: 10, zone: 'inside', spreadRad: 0.1, dx: 0, dy: 0, dz: -1 },
  ...over,
})

describe('the spots of one sun', () => {
  const wall = { nAlong: 4, nRound: 8, zInMm: 0, zOutMm: 80, inMm: 40, outMm: 40, sides: 0 }
  const run = (faceCell: number | null, onWall: boolean) =>
    filledRun(smallShape({ wall }), (tally, layout) => {
      if (faceCell !== null) tally[layout.faceW + faceCell] = 1
      if (onWall) tally[layout.wallW + 9] = 1
    })
  const bare = { ...lamp, boards: [] }
  test('in the air each place as it is, without the direction of its light; then face and wall', () => {
    const both = run(5, true)
    const spots = readSunSpots(
      { tiltDeg: 3, run: both, places: [place({ zMm: 500 }), place({ zone: 'outside' })] },
      bare,
    )
    const { hotDiscMm } = bare.reading
    const air = { kWm2: 5, se: 0.5, xMm: 0, yMm: 0, discMm: 10, tiltDeg: 3 }
    expect(spots).toEqual([
      { ...air, zMm: 500, lands: 'air' },
      { ...air, zMm: 400, lands: 'outside' },
      { ...readFaceSpot(both, hotDiscMm)!, tiltDeg: 3, lands: 'face' },
      { ...readWallSpot(both, hotDiscMm)!, tiltDeg: 3, lands: 'wall' },
    ])
  })
  test('without light on face or wall none of them; a board under it is named', () => {
    expect(readSunSpots({ tiltDeg: 3, run: run(null, false), places: [] }, bare)).toEqual([])
    expect(readSunSpots({ tiltDeg: 3, run: run(5, false), places: [] }, lamp).map((s) => s.lands)).toEqual(['board'])
    expect(readSunSpots({ tiltDeg: 3, run: run(null, true), places: [] }, lamp).map((s) => s.lands)).toEqual(['wall'])
    expect(readSun({ tiltDeg: 3, run: run(null, false), places: [] }, lamp)).toBeNull()
    expect(readSun({ tiltDeg: 3, run: run(null, false), places: [place({})] }, lamp)).toMatchObject({
      zMm: 400,
      lands: 'air',
    })
  })
  test('a spot of the face’s map under a board that stops light lies on that board, no lower than the face', () => {
    // Tilted by 30° about +x its +y side rises: at 10 mm from its middle by 10 tan 30° = 5.77 mm.
    const board = { ...lamp.boards[0]!, xMm: 0, yMm: 0, turnDeg: 0 }
    const over = (part: Partial<typeof board>, yMm: number) =>
      onStoppingBoard(
        { ...lamp, boards: [{ ...board, ...part }] },
        { kWm2: 5, se: 0, xMm: 3, yMm, zMm: 0, discMm: 10 },
      )!.zMm
    const wedge = { tiltDeg: 30, axisDeg: 0 }
    expectWithin(over({ heightMm: 12, wedge }, 10), 12 + 10 * Math.tan(Math.PI / 6), { abs: 1e-9, because: 'rounding' })
    expectWithin(over({ heightMm: 12, wedge }, -10), 12 - 10 * Math.tan(Math.PI / 6), {
      abs: 1e-9,
      because: 'rounding',
    })
    expect(over({ wedge }, -5)).toBe(0)
    expect(over({ heightMm: 12, wedge: { ...wedge, tiltDeg: 10 } }, 5)).toBe(0)
    expect(over({ heightMm: 12, wedge }, 300)).toBe(0)
    expect(onStoppingBoard(lamp, null)).toBeNull()
  })
  test('the worst by its upper end, the first of two as strong', () => {
    const spot = (kWm2: number, se: number): SunAtTilt => ({
      ...{ kWm2, se, xMm: 0, yMm: 0, zMm: 0, discMm: 10, tiltDeg: 0, lands: 'air' },
    })
    const list = [spot(5, 0), spot(4, 1), spot(4, 1), spot(6, 0)]
    expect(findWorstSun(list)).toBe(list[1])
    expectWithin(upperKWm2(findWorstSun(list)!), 6.131, { abs: 1e-9, because: 'T95 = 2.131' })
    expect(findWorstSun([])).toBeNull()
  })
})

describe('published values (check-values, 2f)', () => {
  test.each([
    [100, 0.93049],
    [200, 1.86098],
    [300, 2.791471],
    [400, 3.721961],
    [500, 4.652451],
    [1000, 9.304902],
  ])('sun image of a lens of %i mm: 2 f tan 959.63″ (memory), row 2.58', (f, mm) => {
    expect(SUN_HALF_DEG).toBe(0.2666)
    expectWithin(sunImageDiameterMm(f, 959.63 / 3600), mm, { abs: 1e-6, because: 'as printed' })
  })
  test.each([
    [0.266564, 46_200],
    [0.266452, 46_239],
    [0.2666, 46_188],
  ])('largest concentration in air 1/sin² of %d°, row 2.55', (half, limit) => {
    expectWithin(concentrationLimit(1, half), limit, { abs: 1, because: 'as printed' })
  })
  test.each([
    [500, 400, 12_978],
    [300, 300, 9240],
    [250, 600, 1922],
  ])('lens of %i mm, focal length %i mm: (sin rim / sin sun)², Winston and Welford, row 2.56', (d, f, limit) => {
    const sinRim = d / 2 / Math.hypot(d / 2, f)
    expectWithin(concentrationLimit(sinRim, 0.266564), limit, { abs: 1, because: 'as printed' })
    // Row 2.57: the naive ratio of areas breaks the limit.
    expect((d / sunImageDiameterMm(f, 0.266564)) ** 2).toBeGreaterThan(limit)
  })
})
