// Told again from the same trace: thresholds, things and the place in the sun change, the light doesn't.
import { expect, test } from 'vitest'
import { rejudge } from '../../../src/job/danger/rejudge.ts'
import { sameTrace } from '../../../src/job/danger/sameTrace.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import { fakeDanger } from '../../kit/fakeDanger.ts'

const lamp = gannetHead()

test('a changed threshold moves its own distance and is marked; nothing else moves', () => {
  const before = fakeDanger(lamp)
  const own = { ...lamp, danger: { thresholdsKWm2: { skin: 4 } } }
  const after = rejudge(before, own)
  expect(after.clear[0]).toMatchObject({ id: 'skin', kWm2: 4, changedFrom: 1 })
  expect(after.clear[0]!.clearDistanceMm).toBeLessThan(before.clear[0]!.clearDistanceMm)
  expect(after.clear.slice(1)).toEqual(before.clear.slice(1))
  expect(after.findings.map((f) => f.rule)).toContain('thresholds-changed')
  expect(after).toEqual(fakeDanger(own))
})

test('things in the way, the place in the sun and asked distances are rejudge as a new reading tells them', () => {
  const danger = {
    things: [{ name: 'A fence', material: 'timber' as const, distanceMm: 700, absorbs: 0.8 }],
    sun: { ...fakeDanger(lamp).sunDay!.place, latitudeDeg: -30, month: 12 },
  }
  const own = { ...lamp, danger }
  expect(rejudge(fakeDanger(lamp), own)).toEqual(fakeDanger(own))
  expect(rejudge(fakeDanger(lamp), { ...lamp, danger: { askedMm: [450] } }).harm.map((h) => h.distanceMm)).toContain(
    450,
  )
})

test('what lies on the lens still gets as much as falls on the lens itself', () => {
  const before = fakeDanger(lamp)
  const { lens } = before.parts
  const hot = { ...before, parts: { ...before.parts, lens: lens && { ...lens, kWm2: 400 } } }
  expect(before.things.every((t) => t.kWm2 < 400)).toBe(true)
  const onLens = rejudge(hot, lamp).things.filter((t) => t.distanceMm === 0)
  expect(onLens.map((t) => t.kWm2)).toEqual(onLens.map(() => 400))
  expect(onLens.length).toBeGreaterThan(0)
})

test('the same trace serves while the light is the same and no weaker focus begins to count', () => {
  expect(sameTrace({ ...lamp, name: 'Other', danger: { thresholdsKWm2: { skin: 4 } } }, lamp)).toBe(true)
  expect(sameTrace({ ...lamp, danger: { thresholdsKWm2: { skin: 0.2 } } }, lamp)).toBe(false)
  expect(sameTrace({ ...lamp, lens: { ...lamp.lens!, zMm: lamp.lens!.zMm + 1 } }, lamp)).toBe(false)
})

test('workshop and screw holes leave the trace as it is', () => {
  const boardTypes = lamp.boardTypes.map((t) => ({ ...t, holes: [{ xMm: 0, yMm: 14, diameterMm: 3.2 }] }))
  expect(sameTrace({ ...lamp, boardTypes, workshop: { kerfMm: 0.3 } }, lamp)).toBe(true)
  expect(sameTrace(lamp, { ...lamp, boardTypes })).toBe(true)
})
