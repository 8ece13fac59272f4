// A beam thrown aside: figures about the axis mean little, and a finding says what throws it.
import { expect, test } from 'vitest'
import { checkSheet } from '../../src/checks/check.ts'
import type { SheetParts } from '../../src/checks/parts.ts'
import type { Element, Lamp } from '../../src/lamp/schema.ts'
import { lampOf } from '../kit/singleBoards.ts'

const sheet = { state: 'settled', hotSpots: {}, sun: [], risks: [], patterned: false, variants: [] } as const
interface Off {
  axial?: number
  se?: number
  thetaDeg?: number
  around?: boolean
}
function found(lamp: Lamp, { axial = 100, se = 0, thetaDeg = 20, around = false }: Off = {}) {
  const figures: SheetParts['figures'] = {
    axialIntensityCd: { value: axial, se },
    peakIntensityCd: { value: 1000, se: 0 },
  }
  const peakAt = { thetaDeg, azimuthDeg: -90, around }
  return checkSheet(lamp, { ...sheet, figures, peakAt }).find((f) => f.rule === 'beam-aside')
}
const board = lampOf([[0, 0]]).boards[0]!
const tilted = (...tilts: number[]): Lamp => {
  const lamp = lampOf(tilts.map((_, i) => [30 * (i - (tilts.length - 1) / 2), 0]))
  const boards = tilts.map((tiltDeg, i) => ({ ...board, ...lamp.boards[i]!, wedge: { tiltDeg, axisDeg: 0 } }))
  return { ...lamp, boards }
}

test('says how far, how little of the peak is on the axis, and which boards are tilted', () => {
  const f = found(tilted(20, -5))
  expect(f).toMatchObject({ severity: 'warning', place: { kind: 'board', boardIndex: 0 } })
  expect(f!.title).toBe(
    'The peak lies 20° off the axis, towards 270° from +x: the axis has 10 % of it, so figures about the axis mean little.',
  )
  expect(f!.why).toMatch(/Here B1 is tilted by 20°, B2 is tilted by 5°\.$/)
  expect(found(tilted(2, 9, 3, 4))!.why).toContain('4 boards are tilted by up to 9°')
})

test('only where the axis lies outside the beam, for certain, and the peak is a place aside', () => {
  const lamp = tilted(20)
  expect(found(lamp, { axial: 499 })).toBeDefined()
  expect(found(lamp, { axial: 500 })).toBeUndefined()
  expect(found(lamp, { axial: 499, se: 1 })).toBeUndefined()
  expect(found(lamp, { thetaDeg: 0.9 })).toBeUndefined()
  expect(found(lamp, { around: true })).toBeUndefined()
  // A picture of an array with a dark middle is patterned, not thrown aside.
  expect(found(lampOf([[0, 0]]))).toBeUndefined()
})

test('aims, a point aside, a moved or tilted lens, an array beside the axis', () => {
  const why = (over: Partial<Lamp>) => found(lampOf([[0, 0]], over))?.why.split('Here ')[1]
  expect(why({ boards: [{ ...board, xMm: 0, yMm: 0, siteAims: { '0': { xDeg: 3, yDeg: 4 } } }] })).toBe(
    'B1 has optics aimed by 5°.',
  )
  expect(why({ aimAt: { xMm: 1000, yMm: 0, distanceM: 1 } })).toBe('all optics are aimed at a point 45° off the axis.')
  const second: Element = { kind: 'ideal', name: 'Second', zMm: 100, focalMm: 100, diameterMm: 60, decentreXMm: 20 }
  expect(why({ elements: [second] })).toBe('“Second” stands tilted, moved, or is cut beside its optical centre.')
  expect(found(lampOf([[30, 0]]))!.why).toContain('the emitters’ middle lies 30 mm beside the axis')
})

test('each cause counts from 1° on, by its greatest; a film, a cover and a turn throw nothing aside', () => {
  const why = (over: Partial<Lamp>) => found(lampOf([[0, 0]], over))?.why.split('Here ')[1]
  const at = { ...board, xMm: 0, yMm: 0 }
  expect(why({ boards: [{ ...at, wedge: { tiltDeg: -1, axisDeg: 0 } }] })).toBe('B1 is tilted by 1°.')
  expect(why({ boards: [{ ...at, wedge: { tiltDeg: 0.9, axisDeg: 0 } }] })).toBeUndefined()
  const aims = { aim: { xDeg: 2, yDeg: 0 }, siteAims: { '0': { xDeg: 0, yDeg: -7 } } }
  expect(why({ boards: [{ ...at, ...aims }] })).toBe('B1 has optics aimed by 7°.')
  expect(why({ aimAt: { xMm: 0, yMm: -1000, distanceM: 10 } })).toMatch(/ a point 5\.71° off the axis\.$/)
  expect(why({ aimAt: { xMm: 100, yMm: 0, distanceM: 10 } })).toBeUndefined()
  const piece = { name: 'Piece', zMm: 100, diameterMm: 60 }
  const lens = { ...piece, kind: 'ideal', focalMm: 100 } as const
  for (const over of [{ decentreYMm: 3 }, { tiltXDeg: 2 }, { tiltYDeg: -2 }, { centreXMm: 5 }, { centreYMm: 5 }])
    expect(why({ elements: [{ ...lens, ...over }] })).toContain('“Piece” stands tilted')
  expect(why({ elements: [{ ...lens, aperture: 'square', turnDeg: 30 }] })).toBeUndefined()
  const film = {
    ...piece,
    kind: 'diffuser',
    aperture: 'round',
    spreadDeg: 5,
    transmittance: 0.9,
    reflectance: 0.1,
  } as const
  expect(why({ elements: [{ ...film, tiltXDeg: 20 }] })).toBeUndefined()
})

test('two emitters about the axis are no array beside it; the same two moved by more than half their reach are', () => {
  expect(
    found(
      lampOf([
        [-20, 0],
        [20, 0],
      ]),
    ),
  ).toBeUndefined()
  expect(
    found(
      lampOf([
        [0, 5],
        [0, 45],
      ]),
    )!.why,
  ).toContain('the emitters’ middle lies 25 mm beside the axis')
})

test('the peak’s lower end and the axis’s upper end decide', () => {
  const lamp = tilted(20)
  const figures = (peakSe: number): SheetParts['figures'] => ({
    axialIntensityCd: { value: 490, se: 0 },
    peakIntensityCd: { value: 1000, se: peakSe },
  })
  const at = (peakSe: number) =>
    checkSheet(lamp, {
      ...sheet,
      figures: figures(peakSe),
      peakAt: { thetaDeg: 20, azimuthDeg: 0, around: false },
    }).some((f) => f.rule === 'beam-aside')
  expect([at(0), at(20)]).toEqual([true, false])
})
