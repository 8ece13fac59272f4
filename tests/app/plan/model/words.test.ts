import { expect, test } from 'vitest'
import { withCurrent, withEmitterOptic } from '../../../../src/app/common/boardEdits.ts'
import { chosenFacts } from '../../../../src/app/plan/model/words.ts'
import { gannetHead } from '../../../../src/library/demos.ts'

const lamp = gannetHead()
const usual = lamp.opticTypes.find((o) => o.id === lamp.optic)!.name

test('what is chosen, in words beside the drawing', () => {
  expect(chosenFacts(lamp, [], [])).toEqual([])
  expect(chosenFacts(lamp, ['gone'], [])).toEqual([])
  const { id, xMm, yMm } = lamp.boards[3]!
  const place = `x ${Number(xMm.toFixed(2))}, y ${Number(yMm.toFixed(2))} mm`.replaceAll('-', '−')
  expect(chosenFacts(lamp, [id], [])).toEqual([`Board ${id}`, place, 'turned 0°', '2 A', usual])
  expect(chosenFacts(lamp, ['B1', 'B2'], [])[0]).toBe('2 boards')
  expect(chosenFacts(withCurrent(lamp, ['B1'], 1), ['B1', 'B2'], [])).toContain('various currents')
})

test('emitters: their own optic counts, not their board’s', () => {
  const other = lamp.opticTypes.find((o) => o.id !== lamp.optic) ?? {
    ...lamp.opticTypes[0]!,
    id: 'other',
    name: 'Other',
  }
  const two = { ...lamp, opticTypes: [...lamp.opticTypes.filter((o) => o.id !== other.id), other] }
  const mixed = withEmitterOptic(two, ['B1:2'], other.id)
  expect(chosenFacts(mixed, [], ['B1:2'])).toEqual(['Emitter 3 of B1', '2 A', other.name])
  expect(chosenFacts(mixed, [], ['B1:2', 'B1:3'])).toEqual(['2 emitters', '2 A', 'various optics'])
  expect(chosenFacts(mixed, ['B1'], [])).toContain('various optics')
})
