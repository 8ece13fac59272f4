import { describe, expect, test } from 'vitest'
import type { AirPlace } from '../../src/hazard/air/search.ts'
import type { SunAtTilt } from '../../src/hazard/sun.ts'
import {
  chooseSunAzimuths,
  mirrorOf,
  readBareLens,
  readSunPoints,
  symmetryOf,
  turnSpots,
} from '../../src/hazard/sunMap.ts'
import { polygonFace } from '../../src/lamp/facePlate.ts'
import type { Element, Lamp, Lens } from '../../src/lamp/schema.ts'
import { flatsPolygon } from '../../src/layout/outline.ts'
import { gannetHead, stileLamp } from '../../src/library/demos.ts'
import { refractiveIndex } from '../../src/library/materials.ts'
import { expectWithin } from '../kit/expect.ts'
import { filledRun, smallShape } from '../kit/handRun.ts'

describe('which azimuths have to be traced', () => {
  const lamp = gannetHead()
  const tunnel = lamp.tunnel!
  test.each([
    [lamp, 0],
    [{ ...lamp, tunnel: { ...tunnel, sides: 6 } }, 6],
    [{ ...lamp, tunnel: { ...tunnel, sides: 6 }, face: { ...lamp.face, shape: 'square' as const } }, 2],
    [{ ...lamp, tunnel: { ...tunnel, sides: 5 }, face: { ...lamp.face, shape: 'square' as const } }, 1],
    [stileLamp(), 0],
  ])('the fold of a lamp', (of, fold) => expect(symmetryOf(of)).toBe(fold))
  test.each([0, 1, 2, 3, 4, 5, 6, 8, 12, 24])(
    'fold %i: traced and turned they go round in steps of 30° or less',
    (fold) => {
      const { traced, turns } = chooseSunAzimuths(fold)
      const all = traced.flatMap((a) => turns.map((t) => (a + t) % 360)).sort((a, b) => a - b)
      expect(new Set(all.map((a) => a.toFixed(6))).size).toBe(all.length)
      for (const [k, a] of all.entries()) expect((all[k + 1] ?? 360) - a).toBeLessThanOrEqual(30 + 1e-9)
      expect(traced.length).toBeLessThanOrEqual(12)
    },
  )
  const face = (shape: Lamp['face']['shape']): Lamp['face'] => ({ ...lamp.face, shape }) as Lamp['face']
  const square = { ...lamp.lens!, aperture: 'square' } as Lens
  const pane: Element = {
    ...{ kind: 'cover', name: 'Pane', zMm: 1100, diameterMm: 400, aperture: 'square', thicknessMm: 5 },
    material: 'pmma',
  }
  test.each([
    ['a square Fresnel lens', { ...lamp, lens: square }, 4],
    ['a square face', { ...lamp, face: face('square') }, 4],
    ['a hexagonal face', { ...lamp, face: face('hexagon') }, 6],
    ['a tunnel of 12 sides on a hexagon', { ...lamp, tunnel: { ...tunnel, sides: 12 }, face: face('hexagon') }, 6],
    ['a square lens over a tunnel of 8 sides', { ...lamp, tunnel: { ...tunnel, sides: 8 }, lens: square }, 4],
    ['a square lens over a hexagon', { ...lamp, face: face('hexagon'), lens: square }, 2],
    ['a rectangular tunnel', { ...lamp, tunnel: { ...tunnel, sides: 4, inHeightMm: 90, outHeightMm: 200 } }, 2],
    ['a rectangular lens', { ...lamp, lens: { ...lamp.lens!, aperture: 'rectangle', heightMm: 90 } as Lens }, 2],
    ['a tilted lens', { ...lamp, lens: { ...lamp.lens!, tiltXDeg: 5 } }, 1],
    ['a piece cut off its axis', { ...lamp, lens: { ...lamp.lens!, centreXMm: 5 } }, 1],
    [
      'a turned square pane over a hexagon',
      { ...lamp, face: face('hexagon'), elements: [{ ...pane, turnDeg: 10 }] },
      2,
    ],
    ['a pane moved aside', { ...lamp, elements: [{ ...pane, decentreYMm: 3 }] }, 1],
    [
      'a board that stops light',
      { ...lamp, boards: lamp.boards.map((b) => ({ ...b, wedge: { tiltDeg: 11, axisDeg: 0 } })) },
      1,
    ],
    [
      'boards on low wedges',
      { ...lamp, boards: lamp.boards.map((b) => ({ ...b, wedge: { tiltDeg: 9, axisDeg: 0 } })) },
      0,
    ],
    ['no tunnel, no lens', { ...lamp, tunnel: null, lens: null }, 0],
  ])('%s', (_, of, fold) => expect(symmetryOf(of)).toBe(fold))
  test('a face by its corners: turns that bring them onto themselves; any, where the mouth and its gap lie on it', () => {
    const faced = (corners: readonly (readonly [number, number])[], inMm: number): Lamp => ({
      ...lamp,
      face: { ...lamp.face, ...polygonFace(corners) },
      tunnel: { ...tunnel, inMm, zInMm: 10 },
    })
    const L = [
      [-80, -80],
      [80, -80],
      [80, 20],
      [20, 20],
      [20, 80],
      [-80, 80],
    ] as const
    const oblong = [
      [-90, -60],
      [90, -60],
      [90, 60],
      [-90, 60],
    ] as const
    const hexagon = flatsPolygon(6, 160)
    expect([L, oblong, hexagon].map((corners) => symmetryOf(faced(corners, 200)))).toEqual([1, 2, 6])
    // The L's inner corner lies 28.3 mm from the axis: radius 8 and twice 10 fit, 9 and twice 10 don't.
    expect([16, 18].map((inMm) => symmetryOf(faced(L, inMm)))).toEqual([0, 1])
    expect(symmetryOf({ ...lamp, face: { ...lamp.face, shape: 'rectangle', heightMm: 90 } })).toBe(2)
  })
  test('by hand', () => {
    const twelve = [0, 30, 60, 90, 120, 150, 180, 210, 240, 270, 300, 330]
    expect(chooseSunAzimuths(0)).toEqual({ traced: [0], turns: twelve })
    expect(chooseSunAzimuths(1)).toEqual({ traced: twelve, turns: [0] })
    expect(chooseSunAzimuths(5)).toEqual({ traced: [0, 24, 48], turns: [0, 72, 144, 216, 288] })
    expect(chooseSunAzimuths(6)).toEqual({ traced: [0, 30], turns: [0, 60, 120, 180, 240, 300] })
    // A flat and the corner beside it, 180°/n on.
    expect(chooseSunAzimuths(12)).toEqual({ traced: [0, 15], turns: twelve })
    expect(chooseSunAzimuths(24).traced).toEqual([0, 7.5])
    expect(chooseSunAzimuths(12, 0).traced).toEqual([0, 15])
  })
})

describe('mirrors', () => {
  const lamp = gannetHead()
  const tunnel = lamp.tunnel!
  const lens = (over: object): Lamp => ({ ...lamp, lens: { ...lamp.lens!, ...over } as Lens })
  const L = polygonFace([
    [-80, -80],
    [80, -80],
    [80, 20],
    [20, 20],
    [20, 80],
    [-80, 80],
  ])
  test.each([
    ['a round lamp', lamp, 0],
    ['cut beside its axis along x', lens({ centreXMm: 5 }), 0],
    ['along y', lens({ centreYMm: 5, decentreYMm: -5 }), 90],
    ['along both', lens({ centreXMm: 5, centreYMm: 5 }), null],
    ['tilted about x', lens({ tiltXDeg: 5 }), 90],
    ['about y', lens({ tiltYDeg: 5 }), 0],
    ['moved along x under a tunnel of five flats', { ...lens({ decentreXMm: 3 }), tunnel: { ...tunnel, sides: 5 } }, 0],
    ['moved along y under one', { ...lens({ decentreYMm: 3 }), tunnel: { ...tunnel, sides: 5 } }, null],
    ['a square piece, turned', lens({ aperture: 'square', turnDeg: 10 }), null],
    ['an L for its face', { ...lamp, face: { ...lamp.face, ...L }, tunnel: null }, null],
    [
      'a board that stops light',
      { ...lamp, boards: lamp.boards.map((b) => ({ ...b, wedge: { tiltDeg: 11, axisDeg: 0 } })) },
      null,
    ],
  ])('%s', (_, of, deg) => expect(mirrorOf(of as Lamp)).toBe(deg))
  test.each([
    [1, 0, 7],
    [1, 90, 7],
    [2, 0, 4],
    [3, 90, 3],
    [4, 0, 2],
    [5, 0, 2],
    [6, 0, 2],
    [12, 0, 2],
  ])('fold %i with a mirror at %i°: %i azimuths go round as all do', (fold, mirrorDeg, count) => {
    const { traced, turns } = chooseSunAzimuths(fold, mirrorDeg)
    expect(traced).toHaveLength(count)
    const spot: SunAtTilt = { kWm2: 5, se: 1, xMm: 30, yMm: 4, zMm: 7, discMm: 10, tiltDeg: 2, lands: 'air' }
    const all = traced.flatMap((a) => turnSpots(spot, lamp, a, turns, mirrorDeg)).map((p) => p.azimuthDeg)
    const plain = chooseSunAzimuths(fold)
    const wanted = plain.traced.flatMap((a) => plain.turns.map((t) => (a + t + mirrorDeg) % 360))
    const inOrder = (list: number[]) => list.map((a) => Math.round(a) % 360).sort((a, b) => a - b)
    expect(inOrder(all)).toEqual(inOrder(wanted))
  })
  test('an image lies across the mirror: at 30° of a mirror at 90° it is at 150°, x with the other sign', () => {
    const spot: SunAtTilt = { kWm2: 5, se: 1, xMm: 30, yMm: 4, zMm: 7, discMm: 10, tiltDeg: 2, lands: 'air' }
    const [own, image, ...more] = turnSpots(spot, lamp, 30, [0], 90)
    expect(own).toMatchObject({ azimuthDeg: 30, xMm: 30, yMm: 4 })
    expect(image!.azimuthDeg).toBeCloseTo(150, 9)
    expect([image!.xMm, image!.yMm].map((v) => Math.round(v * 1e6) / 1e6)).toEqual([-30, 4])
    expect(more).toEqual([])
  })
})

describe('one spot turned about the axis', () => {
  const lamp = gannetHead()
  const spot = (over: Partial<SunAtTilt>): SunAtTilt => ({
    ...{ kWm2: 5, se: 1, xMm: 30, yMm: 0, zMm: 7, discMm: 10, tiltDeg: 2, lands: 'air' },
    ...over,
  })
  const near = { abs: 1e-9, because: 'rounding' }
  test('by 90° and 300°: place, azimuth within the turn, all else kept', () => {
    const [quarter, back] = turnSpots(spot({ yMm: 10 }), lamp, 100, [90, 300])
    expect(quarter).toMatchObject({ kWm2: 5, se: 1, zMm: 7, discMm: 10, tiltDeg: 2, lands: 'air', azimuthDeg: 190 })
    expectWithin(quarter!.xMm, -10, near)
    expectWithin(quarter!.yMm, 30, near)
    expect(back!.azimuthDeg).toBe(40)
    // cos 300° = ½, sin 300° = −√3/2.
    expectWithin(back!.xMm, 15 + 10 * Math.sqrt(0.75), near)
    expectWithin(back!.yMm, 5 - 30 * Math.sqrt(0.75), near)
    expect(quarter).toMatchObject({ board: null, flat: null })
  })
  test('nothing comes in: none; at no tilt one azimuth', () => {
    expect(turnSpots(null, lamp, 0, [0, 30])).toEqual([])
    expect(turnSpots(spot({ tiltDeg: 0 }), lamp, 20, [30, 60]).map((p) => p.azimuthDeg)).toEqual([20])
    expect(turnSpots(spot({}), lamp, 20, [30, 60]).map((p) => p.azimuthDeg)).toEqual([50, 80])
  })
  test('on the face or a board: the board that is under it once turned', () => {
    // A board stands at (36, 0), none at 90° from it.
    const [here, there] = turnSpots(spot({ xMm: 36, lands: 'face' }), lamp, 0, [0, 180])
    const at = (x: number, y: number) => lamp.boards.find((b) => Math.hypot(b.xMm - x, b.yMm - y) < 1e-6)!.id
    expect(here).toMatchObject({ lands: 'board', board: at(36, 0), flat: null })
    expect(there).toMatchObject({ lands: 'board', board: at(-36, 0) })
    const off = turnSpots(spot({ xMm: 95, lands: 'board' }), lamp, 0, [0])[0]
    expect(off).toMatchObject({ lands: 'face', board: null })
    expect(turnSpots(spot({ xMm: 0, lands: 'board' }), lamp, 0, [0])[0]).toMatchObject({ board: at(0, 0) })
    for (const lands of ['air', 'outside', 'front', 'wall'] as const)
      expect(turnSpots(spot({ xMm: 36, lands }), lamp, 0, [0])[0]).toMatchObject({ lands, board: null, flat: null })
  })
  test('in the air here, on a raised board there', () => {
    const on = lamp.boards.find((b) => Math.hypot(b.xMm - 36, b.yMm) < 1e-6)!
    const raised = { ...lamp, boards: [{ ...on, heightMm: 40 }] }
    const [here, there] = turnSpots(spot({ xMm: -36, zMm: 45 }), raised, 0, [0, 180])
    expect(here).toMatchObject({ lands: 'air', board: null })
    expect(there).toMatchObject({ lands: 'board', board: on.id })
  })
  test('on the wall of a tunnel with flats: which, counted from +x', () => {
    const six = { ...lamp, tunnel: { ...lamp.tunnel!, sides: 6 } }
    const flats = turnSpots(spot({ xMm: 100, lands: 'wall' }), six, 0, [0, 29, 31, 60, 120, 180, 240, 300, 331, 359])
    expect(flats.map((p) => p.flat)).toEqual([0, 0, 1, 1, 2, 3, 4, 5, 0, 0])
    expect(turnSpots(spot({ lands: 'air' }), six, 0, [60])[0]!.flat).toBeNull()
    expect(turnSpots(spot({ lands: 'wall' }), { ...lamp, tunnel: null }, 0, [60])[0]!.flat).toBeNull()
  })
  test('of a traced sun its worst spot is turned', () => {
    const run = filledRun(smallShape(), (tally, layout) => {
      tally[layout.faceW + 5] = 1
    })
    const points = readSunPoints({ tiltDeg: 2, run, places: [] }, lamp, 10, [0, 90])
    expect(points.map((p) => [p.azimuthDeg, p.lands])).toEqual([
      [10, 'board'],
      [100, 'board'],
    ])
    const dark = filledRun(smallShape(), () => {})
    expect(readSunPoints({ tiltDeg: 2, run: dark, places: [] }, lamp, 10, [0, 90])).toEqual([])
  })
})

describe('the bare lens, from places found', () => {
  const place = (over: Partial<AirPlace>): AirPlace => ({
    ...{ kWm2: 5, se: 0, xMm: 0, yMm: 0, zMm: 400, discMm: 10, zone: 'inside', spreadRad: 0.1, dx: 0, dy: 0, dz: -1 },
    ...over,
  })
  const ideal: Lens = { kind: 'ideal', zMm: 1000, focalMm: 500, diameterMm: 100 }
  test('the hottest behind it by its upper end, the first of two, with its tilt; the hottest before it', () => {
    const suns = [
      { tiltDeg: 0, places: [place({ kWm2: 20, zMm: 510 }), place({ kWm2: 99, zone: 'outside' })] },
      {
        tiltDeg: 4,
        places: [
          place({ kWm2: 19, se: 1, zMm: 520, discMm: 12 }),
          place({ zone: 'front', kWm2: 3, zMm: 1100 }),
          place({ zone: 'front', kWm2: 3, zMm: 1200 }),
        ],
      },
      {
        tiltDeg: 8,
        places: [place({ kWm2: 19, se: 1, zMm: 530 }), place({ zone: 'front', kWm2: 2, se: 0.25, zMm: 1300 })],
      },
    ]
    const bare = readBareLens(suns, ideal, 1000)!
    expect(bare).toMatchObject({ focusMm: 480, tiltDeg: 4, discMm: 12 })
    expect(bare.before).toEqual({ kWm2: 3, distanceMm: 100, tiltDeg: 4 })
    expectWithin(bare.kWm2, 21.131, { abs: 1e-9, because: 'T95 = 2.131' })
    // 2 · 500 tan 0.2666°; 15° an hour is π/720 rad a minute.
    expectWithin(bare.sunImageMm, 4.65308, { abs: 1e-5, because: 'printed digits' })
    expectWithin(bare.mmPerMinute, (480 * Math.PI) / 720, { rel: 1e-12, because: 'rounding' })
  })
  test('nothing before it, nothing behind it; distances never below zero', () => {
    expect(readBareLens([], ideal, 1000)).toBeNull()
    expect(readBareLens([{ tiltDeg: 0, places: [place({ zone: 'front' })] }], ideal, 1000)).toBeNull()
    const near = readBareLens(
      [{ tiltDeg: 0, places: [place({ zMm: 1002 }), place({ zone: 'front', zMm: 990 })] }],
      ideal,
      1000,
    )!
    expect(near).toMatchObject({ focusMm: 1, before: { distanceMm: 0 } })
    expect(readBareLens([{ tiltDeg: 0, places: [place({})] }], ideal, 1000)!.before).toBeNull()
  })
  test('a solid lens focuses at R/(n − 1) for 587.6 nm, a Fresnel lens at its own focal length', () => {
    const places = [{ tiltDeg: 0, places: [place({})] }]
    const solid: Lens = {
      ...{ kind: 'solid', zMm: 1000, diameterMm: 100, radiusMm: 200, conic: 0, thicknessMm: 20 },
      ...{ curved: 'target', material: 'pmma' },
    }
    const image = (focal: number) => 2 * focal * Math.tan((0.2666 * Math.PI) / 180)
    // PMMA, n_d 1.4918 (handbook).
    expectWithin(refractiveIndex('pmma', 587.6), 1.4918, { abs: 1e-3, because: 'makes differ' })
    expectWithin(readBareLens(places, solid, 1000)!.sunImageMm, image(200 / 0.4918), {
      rel: 2e-3,
      because: 'the index',
    })
    expectWithin(readBareLens(places, gannetHead().lens!, 1050)!.sunImageMm, image(1100), {
      rel: 1e-9,
      because: 'rounding',
    })
  })
})
