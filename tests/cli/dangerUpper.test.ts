// The danger sheet on the terminal and as JSON: every figure is an upper end, rounded up where it is rounded.
import { expect, test } from 'vitest'
import { dangerJson } from '../../src/cli/dangerJson.ts'
import { dangerText } from '../../src/cli/dangerText.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { fakeDanger } from '../kit/fakeDanger.ts'

const lamp = gannetHead()
const sheet = fakeDanger(lamp)

test('the hottest places in front: 12.341 kW/m² is up to 12.4', () => {
  const [focus] = sheet.foci
  const text = dangerText(
    { ...sheet, foci: [{ ...focus!, kWm2: 12.341, se: 0 }], front: { worst: null, curve: [] } },
    lamp,
  )
  expect(text).toMatch(/focus +12\.4 kW\/m²/)
})

test('an element that no ray has met has what the light on it stays under, not none', () => {
  const { lens } = sheet.parts
  const unmet = { ...lens!, index: 1, name: 'Cover', kWm2: 0.012, spot: null }
  const { elements } = dangerJson({ ...sheet, parts: { ...sheet.parts, elements: [unmet] } }, 'test')
  expect(elements).toMatchObject([{ name: 'Cover', kWm2: 0.012 }])
})
