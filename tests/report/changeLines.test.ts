// What changed between two documents, in words, as a builder would say it.
import { expect, test } from 'vitest'
import { gannetHead, stileLamp } from '../../src/library/demos.ts'
import { changeLines } from '../../src/report/changeLines.ts'
import { lampWith } from '../kit/lampWith.ts'

const lamp = gannetHead()

test('a lamp and itself: nothing', () => {
  expect(changeLines(lamp, gannetHead())).toEqual([])
})

test('one current; all currents in one line; a board that is gone is named, whatever its place in the list', () => {
  const dimmed = (ids: readonly string[]) =>
    lampWith({ boards: lamp.boards.map((b) => (ids.includes(b.id) ? { ...b, currentA: 1.5 } : b)) })
  const ids = lamp.boards.map((b) => b.id)
  expect(changeLines(lamp, dimmed(['B7']))).toEqual(['Board B7: current 2 → 1.5 A'])
  expect(changeLines(lamp, dimmed(ids))).toEqual(['Boards: current 2 → 1.5 A (19 of them)'])
  expect(changeLines(lamp, lampWith({ boards: lamp.boards.slice(1) }))).toEqual(['Board B1: taken out'])
})

test('numbers with their units, choices, whole parts', () => {
  const changed = lampWith({
    lens: { zMm: 1060 },
    target: { coneHalfDeg: 3 },
    face: { reflectance: 0.5 },
    tunnel: null,
  })
  expect(changeLines(lamp, changed).sort()).toEqual([
    `Face: reflectance ${100 * lamp.face.reflectance} % → 50 %`,
    'Lens: stands at z 1050 → 1060 mm',
    'Target: cone, half angle 2° → 3°',
    'Tunnel: taken out',
  ])
  expect(changeLines(stileLamp(), { ...stileLamp(), name: 'Other' })).toEqual(['Name: “Stile lamp” → “Other”'])
})
