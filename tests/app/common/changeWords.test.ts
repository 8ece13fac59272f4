import { expect, test } from 'vitest'
import { changeWords, withValues } from '../../../src/app/common/changeWords.ts'
import { changesBetween } from '../../../src/lamp/changes.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { gannetHead } from '../../../src/library/demos.ts'

const lamp = gannetHead()
const words = (to: Lamp) => changeWords(changesBetween(lamp, to))
const boards = (change: (b: Lamp['boards'][number], i: number) => Lamp['boards'][number]) =>
  words({ ...lamp, boards: lamp.boards.map(change) })

test('one number, with its unit', () => {
  const lens = lamp.lens!
  expect(words({ ...lamp, lens: { ...lens, zMm: lens.zMm + 20 } })).toBe(`${lens.zMm} → ${lens.zMm + 20}\u202fmm`)
  const face = { ...lamp.face, reflectance: 0.955 }
  expect(words({ ...lamp, face })).toBe(`${100 * lamp.face.reflectance} → 95.5\u202f%`)
  expect(boards((b, i) => (i === 0 ? { ...b, turnDeg: 30 } : b))).toBe(`${lamp.boards[0]!.turnDeg}° → 30°`)
})

test('two numbers of one thing', () => {
  const [b] = lamp.boards
  expect(boards((row, i) => (i === 0 ? { ...row, xMm: 1.5, yMm: -2 } : row))).toBe(
    `x ${b!.xMm} → 1.5\u202fmm, y ${b!.yMm} → −2\u202fmm`.replaceAll('-', '−'),
  )
})

test('a name', () => expect(words({ ...lamp, name: 'Mine' })).toBe('“Gannet Head” → “Mine”'))

test('no numbers where several things have changed, or a thing came or went', () => {
  expect(boards((b) => ({ ...b, xMm: b.xMm + 1 }))).toBe('')
  expect(words({ ...lamp, boards: lamp.boards.slice(1) })).toBe('')
  expect(words({ ...lamp, lens: null })).toBe('')
  expect(words(lamp)).toBe('')
})

test('behind the edit’s name', () => {
  expect(withValues('Lens: stands at z', '600 → 620 mm')).toBe('Lens: stands at z 600 → 620 mm')
  expect(withValues('Move the lens', '600 → 620 mm')).toBe('Move the lens: 600 → 620 mm')
  expect(withValues('Fill', '')).toBe('Fill')
})
