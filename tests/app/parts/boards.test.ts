import { expect, test } from 'vitest'
import { type BoardPlan, sitesOf, withSites } from '../../../src/app/parts/BoardDesigner.tsx'
import { newOutline } from '../../../src/app/parts/outlineEdits.ts'
import { nextRow } from '../../../src/app/parts/PairTable.tsx'
import { partAt } from '../../../src/app/parts/PartsColumn.tsx'
import { rangeOf } from '../../../src/app/parts/range.ts'
import { lampFault } from '../../../src/app/store/tryEdit.ts'
import { lens } from '../../../src/lamp/lens.ts'
import { boardType, face } from '../../../src/lamp/parts.ts'
import { gannetHead } from '../../../src/library/demos.ts'

const plan: BoardPlan = { way: 'hex1', count: 3, rows: 2, pitchMm: 12, radiusMm: 12, centre: true }
const WAYS: [BoardPlan['way'], number][] = [
  ['row', 3],
  ['grid', 6],
  ['hex1', 7],
  ['hex2', 19],
  ['hex3', 37],
  ['ring', 4],
]
test.each(WAYS)('%s gives %i emitters and an outline that a lamp may hold', (way, count) => {
  expect(sitesOf({ ...plan, way })).toHaveLength(count)
  const next = withSites(gannetHead(), 'seven', { ...plan, way }, 0.5)
  expect(lampFault(next)).toBeNull()
  expect(next.boardTypes[0]!.sites).toHaveLength(count)
})

test('the demo’s own board comes out as it was drawn: seven at 12 mm, 10 mm optics, half a millimetre around', () => {
  expect(withSites(gannetHead(), 'seven', plan, 0.5).boardTypes[0]!.outline).toEqual({ shape: 'disc', diameterMm: 35 })
})

test('optics of emitters that have gone go with them', () => {
  const lamp = gannetHead()
  lamp.boards[0] = { ...lamp.boards[0]!, siteOptics: { '1': 'bare', '6': 'bare' } }
  const next = withSites(lamp, 'seven', { ...plan, way: 'row' }, 0.5)
  expect(next.boards[0]!.siteOptics).toEqual({ '1': 'bare' })
  const none = withSites(lamp, 'seven', { ...plan, way: 'row', count: 1 }, 0.5)
  expect('siteOptics' in none.boards[0]!).toBe(false)
  expect(none.boards[1]).toBe(lamp.boards[1])
})

test('another outline is of about the same size and fits', () => {
  const lamp = gannetHead()
  for (const shape of ['rectangle', 'hexagon', 'disc', 'star'] as const) {
    const outline = newOutline(shape, { shape: 'rectangle', widthMm: 64, heightMm: 22 })
    expect(lampFault({ ...lamp, boardTypes: [{ ...lamp.boardTypes[0]!, outline }] })).toBeNull()
    expect(JSON.stringify(outline)).toContain('64')
  }
})

test('a new row carries the curve on', () => {
  expect(
    nextRow(
      [
        { a: 1, b: 3 },
        { a: 1.5, b: 4 },
      ],
      'a',
      'b',
    ),
  ).toEqual({ a: 2, b: 4 })
  expect(nextRow([{ a: 0, b: 3 }], 'a', 'b')).toEqual({ a: 0.1, b: 3 })
  expect(nextRow([], 'a', 'b')).toEqual({ a: 1, b: 1 })
})

test('limits of fields are the schema’s', () => {
  expect(rangeOf(face.shape.reflectance)).toMatchObject({ min: 0, max: 1, integer: false })
  expect(rangeOf(lens.options[0].shape.designNm)).toMatchObject({ min: 380, max: 780 })
  expect(rangeOf(boardType.shape.outline.options[3].shape.points)).toMatchObject({ min: 3, max: 12, integer: true })
})

test('a place opens its part', () => {
  expect(partAt({ kind: 'part', part: 'tunnel' }, [])).toBe('tunnel')
  expect(partAt({ kind: 'board', boardIndex: 0 }, [])).toBe('boards')
  expect(partAt({ kind: 'board', boardIndex: 0 }, ['B1'])).toBe('selection')
  expect(partAt({ kind: 'emitter', boardIndex: 0, siteIndex: 0 }, [])).toBe('optics')
  expect(partAt({ kind: 'point', on: 'wall', xMm: 0, yMm: 0, zMm: 0 }, [])).toBe('tunnel')
})
