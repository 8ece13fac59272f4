// Findings of boards on wedges and of aimed optics; heights by hand: half the width times the sine of the tilt.
import { expect, test } from 'vitest'
import { checkDesign } from '../../src/checks/check.ts'
import type { Board, Lamp } from '../../src/lamp/schema.ts'
import { findLayoutFaults } from '../../src/layout/clearance.ts'
import { iceRink } from '../../src/library/demos.ts'

const on = (part: Partial<Board>, lamp: Partial<Lamp> = {}): Lamp => {
  const rink = { ...iceRink(), ...lamp }
  return { ...rink, boards: [{ ...rink.boards[0]!, turnDeg: 0, ...part }] }
}
const found = (lamp: Lamp, rule: string) => checkDesign(lamp).filter((f) => f.rule === rule)

test('a wedge that puts an edge under the face, and the height that it needs', () => {
  // 64 mm by 22 mm: about x half of 22 mm counts, 11 sin 30° = 5.5 mm.
  const wedge = { tiltDeg: -30, axisDeg: 0 }
  const [finding] = found(on({ wedge }), 'board-under-face')
  expect(finding).toMatchObject({ severity: 'severe', title: 'The wedge puts an edge of B1 5.5 mm under the face.' })
  expect(finding!.cure).toContain('at least 5.5 mm')
  expect(found(on({ wedge, heightMm: 5.5 }), 'board-under-face')).toEqual([])
  expect(found(on({ wedge, heightMm: 5.4 }), 'board-under-face')[0]!.cure).toContain('at least 5.5 mm')
  // About y half of 64 mm: 32 sin 30° = 16 mm.
  expect(found(on({ wedge: { tiltDeg: 30, axisDeg: 90 }, heightMm: 15 }), 'board-under-face')[0]!.cure).toContain(
    'at least 16 mm',
  )
})

test('a raised board that the tunnel’s wall or the lens runs through', () => {
  // 64 mm by 22 mm at the middle: half its diagonal is √(32² + 11²) = 33.84 mm.
  const tunnel = {
    sides: 0,
    inMm: 60,
    outMm: 60,
    zInMm: 5,
    zOutMm: 80,
    reflectance: 0.9,
    specularShare: 1,
    scatterDeg: 0,
  }
  const at = { xMm: 0, yMm: 0, heightMm: 20 }
  expect(found(on(at, { tunnel }), 'board-in-wall')[0]!.title).toBe('B1 reaches 3.84 mm through the tunnel’s wall.')
  expect(found(on(at, { tunnel: { ...tunnel, inMm: 68, outMm: 68 } }), 'board-in-wall')).toEqual([])
  expect(found(on({ ...at, heightMm: 4 }, { tunnel }), 'board-in-wall')).toEqual([])
  // Its collimators end 10 mm above it.
  const lens = { kind: 'ideal' as const, zMm: 29, focalMm: 100, diameterMm: 200 }
  expect(found(on(at, { lens }), 'board-in-lens')[0]!.title).toBe('B1 reaches 1 mm into the lens.')
  expect(found(on(at, { lens: { ...lens, zMm: 30.1 } }), 'board-in-lens')).toEqual([])
})

test('what a spacer of solid aluminium adds to the joint: thickness over conductivity', () => {
  expect(found(on({}), 'spacer-heat')).toEqual([])
  // 20 mm / 200 W/mK = 10⁻⁴ K m²/W = 1 K cm²/W.
  expect(found(on({ heightMm: 20 }), 'spacer-heat')[0]).toMatchObject({ severity: 'warning' })
  expect(found(on({ heightMm: 20 }), 'spacer-heat')[0]!.why).toContain('adds 1 K·cm²/W')
})

test('light that comes back is read under raised boards that stop none of it, which is said; flat ones and steep ones need no word', () => {
  const titleOf = (part: Partial<Board>) => found(on(part), 'returned-below-boards')[0]?.title
  expect(titleOf({})).toBeUndefined()
  expect(titleOf({ heightMm: 20 })).toBe(
    'Light that comes back is read on the face, not on 1 raised board up to 20 mm above it.',
  )
  // 20 mm + 11 mm · sin 10°.
  expect(titleOf({ heightMm: 20, wedge: { tiltDeg: 10, axisDeg: 0 } })).toContain('up to 22 mm above it')
  expect(titleOf({ heightMm: 20, wedge: { tiltDeg: 11, axisDeg: 0 } })).toBeUndefined()
})

test('boards side by side on wedges need less room, seen from the front', () => {
  const rink = iceRink()
  const lamp = on({}, { face: { ...rink.face, keepOuts: [] } })
  const [b] = lamp.boards
  const wedge = { tiltDeg: 60, axisDeg: 0 }
  const pair = (part: Partial<Board>) => ({
    ...lamp,
    boards: [
      { ...b!, xMm: 0, yMm: 0, ...part },
      { ...b!, id: 'B2', xMm: 0, yMm: 18, ...part },
    ],
  })
  const kinds = (l: Lamp) => findLayoutFaults(l).map((f) => f.kind)
  expect(kinds(pair({}))).toContain('overlap') // 22 mm boards 18 mm apart
  // 22 cos 60° = 11 mm: 7 mm are left between them, and 18 mm in space between their optics of 14 mm.
  expect(kinds(pair({ wedge, heightMm: 12 }))).toEqual([])
})

test('optics aimed at one another run into each other at their exits', () => {
  const kinds = (l: Lamp) => findLayoutFaults(l).map((f) => f.kind)
  expect(kinds(on({}))).not.toContain('opticsOverlap')
  const sites = iceRink().boardTypes[0]!.sites
  const middle = sites.reduce((sum, s) => sum + s.xMm, 0) / sites.length
  const siteAims = Object.fromEntries(sites.map((s, i) => [i, { xDeg: 0, yDeg: s.xMm > middle ? -45 : 45 }]))
  expect(kinds(on({ siteAims }))).toContain('opticsOverlap')
})

test('an aimed reflector says that its emitter is traced as turned with it', () => {
  const cup = {
    ...{ kind: 'reflector' as const, id: 'cup', name: 'Cup', focalMm: 2.5, exitDiameterMm: 14, reflectance: 0.9 },
    ...{ shiftXMm: 0, shiftYMm: 0, shiftZMm: 0 },
  }
  const lamp = { opticTypes: [cup], optic: 'cup' }
  expect(found(on({}, lamp), 'aimed-reflector')).toEqual([])
  expect(found(on({ aim: { xDeg: 3, yDeg: 0 } }, lamp), 'aimed-reflector')).toHaveLength(1)
})
