// How much of the tunnel's mouth, and of pieces behind others, lies bare, against areas by hand.
import { describe, expect, test } from 'vitest'
import { bareMouthShare, openedLamps } from '../../src/lamp/mouth.ts'
import type { Element, Lamp, Lens, Tunnel } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { expectWithin } from '../kit/expect.ts'
import { lampOf } from '../kit/singleBoards.ts'

const mirror = { reflectance: 0.92, specularShare: 1, scatterDeg: 0 }
const tunnelOf = (over: Partial<Tunnel>): Tunnel => ({
  ...mirror,
  ...{ sides: 0, inMm: 40, outMm: 100, zInMm: 5, zOutMm: 100 },
  ...over,
})
const film = (over: Partial<Element> = {}): Element =>
  ({
    ...{ kind: 'diffuser', name: 'Film', zMm: 110, diameterMm: 100, aperture: 'round' },
    ...{ spreadDeg: 5, transmittance: 0.8, reflectance: 0.1 },
    ...over,
  }) as Element
const pane = (over: Partial<Element> = {}): Element =>
  ({
    ...{ kind: 'cover', name: 'Pane', zMm: 110, diameterMm: 100, aperture: 'round', thicknessMm: 2, material: 'pmma' },
    ...over,
  }) as Element
const GRID = { abs: 0.01, because: '96 points across' }

/** Area of a circle of radius r that another as wide, moved by d, leaves bare, over its own (textbook). */
const crescent = (r: number, d: number): number =>
  d >= 2 * r ? 1 : 1 - (2 / Math.PI) * (Math.acos(d / 2 / r) - (d / 2 / r) * Math.sqrt(1 - (d / 2 / r) ** 2))

describe('the mouth, seen along the axis', () => {
  test.each([
    ['a round one under a piece half as wide', tunnelOf({}), film({ diameterMm: 50 }), 0.75],
    ['under one moved by its radius', tunnelOf({}), film({ decentreXMm: 50 }), crescent(50, 50)],
    [
      'under a square inside it, turned',
      tunnelOf({}),
      film({ aperture: 'square', diameterMm: 60, turnDeg: 30 }),
      1 - 0.36 * (4 / Math.PI),
    ],
    ['under one tilted by 60°', tunnelOf({}), film({ tiltXDeg: 60, zMm: 200 }), 0.5],
    ['one of four flats under the circle in it', tunnelOf({ sides: 4 }), film(), 1 - Math.PI / 4],
    [
      'one of six, whose flats are 100 mm apart, under the same',
      tunnelOf({ sides: 6 }),
      film(),
      1 - (Math.PI / 4) * (2 / Math.sqrt(3)),
    ],
    [
      'a rectangle of 100 × 40 mm under one of 50 × 40 mm',
      tunnelOf({ sides: 4, inHeightMm: 20, outHeightMm: 40 }),
      film({ aperture: 'rectangle', diameterMm: 50, heightMm: 40 }),
      0.5,
    ],
    [
      'turned by 90°: 40 of 100 mm are covered',
      tunnelOf({ sides: 4, inHeightMm: 20, outHeightMm: 40 }),
      film({ aperture: 'rectangle', diameterMm: 50, heightMm: 40, turnDeg: 90 }),
      0.6,
    ],
  ] as [string, Tunnel, Element, number][])('%s', (_, tunnel, piece, share) => {
    expectWithin(bareMouthShare([piece], tunnel), share, GRID)
  })
  test('two halves cover all of it; one as wide leaves nothing, and rounding is no opening', () => {
    const half = (decentreXMm: number) => film({ aperture: 'rectangle', diameterMm: 50, heightMm: 100, decentreXMm })
    expect(bareMouthShare([half(-25), half(25)], tunnelOf({}))).toBe(0)
    expectWithin(bareMouthShare([half(-25)], tunnelOf({})), 0.5, GRID)
    expect(bareMouthShare([film()], tunnelOf({}))).toBe(0)
  })
})

describe('what the sun can reach past pieces in front', () => {
  const lens: Lens = { kind: 'ideal', zMm: 110, focalMm: 100, diameterMm: 120 }
  const kinds = (lamp: Lamp) =>
    openedLamps(lamp).map((open) => [...(open.lens ? ['lens'] : []), ...(open.elements ?? []).map((e) => e.name)])
  const lamp = (over: Partial<Lamp>) => lampOf([[0, 0]], over)
  test('nothing past one piece that lies on the mouth, or of pieces that touch', () => {
    expect(kinds(lamp({ tunnel: tunnelOf({}), lens }))).toEqual([])
    expect(kinds(lamp({ lens, elements: [film({ zMm: 112, diameterMm: 120 })] }))).toEqual([])
    expect(kinds(gannetHead())).toEqual([])
  })
  test('onto a lens behind a film that stands far before it, or is smaller, or aside; a clear pane shades nothing', () => {
    expect(kinds(lamp({ lens, elements: [film({ zMm: 150, diameterMm: 120 })] }))).toEqual([['lens']])
    expect(kinds(lamp({ lens, elements: [film({ zMm: 112, diameterMm: 110 })] }))).toEqual([['lens']])
    expect(kinds(lamp({ lens, elements: [film({ zMm: 112, diameterMm: 130, decentreYMm: 10 })] }))).toEqual([['lens']])
    expect(kinds(lamp({ lens, elements: [pane({ zMm: 150 })] }))).toEqual([])
  })
  test('onto a wider lens behind a narrow one, and each opening once', () => {
    const narrow: Element = { kind: 'ideal', name: 'Second', zMm: 200, focalMm: 80, diameterMm: 60 }
    expect(kinds(lamp({ lens, elements: [narrow] }))).toEqual([['lens']])
    expect(kinds(lamp({ lens, elements: [narrow, film({ zMm: 300, diameterMm: 60 })] }))).toEqual([
      ['lens', 'Second'],
      ['lens'],
    ])
  })
  test('into the mouth under a film that stands before it by more than a twentieth of it at 45°', () => {
    // The crescent's share is 4 d/π D for small d.
    const at = (gapMm: number) => kinds(lamp({ tunnel: tunnelOf({}), elements: [film({ zMm: 100 + gapMm })] }))
    expect([crescent(50, 3), crescent(50, 6)].map((share) => share > 0.05)).toEqual([false, true])
    expect([at(3), at(6)]).toEqual([[], [[]]])
  })
  test('seen along the piece’s own slant: a tilted film leaves the mouth bare on the side where it stands high', () => {
    const roof = film({ zMm: 130, diameterMm: 116, tiltYDeg: 30 })
    expect(bareMouthShare([roof], tunnelOf({}))).toBe(0)
    expect(kinds(lamp({ tunnel: tunnelOf({}), elements: [roof] }))).toEqual([[]])
  })
})
