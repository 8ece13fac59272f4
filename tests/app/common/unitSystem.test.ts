// The builder's units. Exact by definition: 1 in = 25.4 mm, 1 ft = 0.3048 m, 1 mi = 5280 ft (international yard and pound agreement, 1959);
// water freezes at 32 °F and boils at 212 °F, and −40 is the same on both scales.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { clearDistance, degreesText, formatFigure, formatValue } from '../../../src/app/common/format.ts'
import { distanceText, lengthText } from '../../../src/app/common/lengthText.ts'
import { fahrenheit, M_PER_MILE, shownStep, shownUnit } from '../../../src/app/common/unitSystem.ts'
import { parseQuantity, rangeFault, stepped, type Unit, valueText } from '../../../src/app/common/units.ts'
import { rulerTicks } from '../../../src/app/plan/model/camera.ts'
import { sizesAcross, sizesAlong } from '../../../src/app/section/model/sizes.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import { decimalMarkOf } from '../../../src/num/decimalMark.ts'

const T = '\u202f'

test.each([
  [0, 32],
  [100, 212],
  [-40, -40],
  [37, 98.6],
])('%d °C are %d °F', (c, f) => {
  expect(fahrenheit(c)).toBeCloseTo(f, 12)
  expect(shownUnit('°C', 'inch').toDocument(f)).toBeCloseTo(c, 12)
})

describe('typed', () => {
  test.each<[string, Unit, number]>([
    ['1', 'mm', 25.4],
    ['8', 'mm', 203.2],
    ['1 1/2', 'mm', 38.1],
    ['10 mm', 'mm', 10],
    ['1 ft', 'mm', 304.8],
    ['100', 'm', 30.48],
    ['100 m', 'm', 100],
    ['5280', 'm', 1609.344],
    ['212', '°C', 100],
    ['100 °C', '°C', 100],
    ['2', 'A', 2],
    ['45', 'deg', 45],
  ])('%s in inches, a field in %s', (text, unit, value) => {
    const parsed = parseQuantity(text, unit, 'inch')
    expect(parsed).toMatchObject({ ok: true })
    if (parsed.ok) expect(parsed.value).toBeCloseTo(value, 9)
  })
})

test('what is shown and typed again is the same value', () => {
  fc.assert(
    fc.property(
      fc.double({ min: -5000, max: 5000, noNaN: true }),
      fc.constantFrom<Unit>('mm', 'm', '°C', 'A'),
      (value, unit) => {
        const { toShown, toDocument } = shownUnit(unit, 'inch')
        expect(toDocument(toShown(value))).toBeCloseTo(value, 8)
      },
    ),
  )
})

test('a range is said in the builder’s units', () => {
  expect(rangeFault(600, { min: 0, max: 508 }, 'mm', 'inch')).toBe('23.622 in is too large; at most 20 in.')
  expect(rangeFault(90, { min: 0, max: 80 }, '°C', 'inch')).toBe('194 °F is too large; at most 176 °F.')
})

test('steps are whole in the builder’s units', () => {
  // 1 mm is 0.039 in, 5 mm 0.197 in, 1 m 3.28 ft; 1 K is 1.8 °F.
  expect(['mm', 'm', '°C', 'A'].map((u) => shownStep(1, u as Unit, 'inch'))).toEqual([0.05, 5, 2, 1])
  expect(shownStep(5, 'mm', 'inch')).toBe(0.2)
  expect(shownStep(0.3, 'mm', 'metric')).toBe(0.3)
  expect(stepped(25.4, 2, { unit: 'mm', step: 1, min: 0, max: 100 }, 'inch')).toBeCloseTo(1.1 * 25.4, 9)
  expect(stepped(100, -1, { unit: '°C', step: 1, min: 0, max: 200 }, 'inch')).toBeCloseTo(((210 - 32) * 5) / 9, 9)
})

test('figures, lengths and distances', () => {
  expect(M_PER_MILE).toBeCloseTo(5280 * 0.3048, 9)
  expect(valueText(304.8, 'mm', 'inch')).toBe('12 in')
  expect(valueText(304.8, 'mm', 'metric')).toBe('304.8 mm')
  expect(formatValue(30.48, 'm', 3, 'inch')).toBe(`100${T}ft`)
  expect(formatValue(160_934.4, 'm', 3, 'inch')).toBe(`100${T}mi`)
  expect(formatValue(12, 'lx', 3, 'inch')).toBe(`12${T}lx`)
  // Value and ± are converted together: 0.3048 m of error are 1 ft, at 95 % 2.1 ft.
  expect(formatFigure({ value: 304.8, se: 0.3048 }, 'm', 'inch').text).toBe(`1000.0 ± 2.1${T}ft`)
  expect(lengthText(560, 'inch')).toBe('22.05 in')
  expect(lengthText(30_480, 'inch')).toBe('100 ft')
  expect(distanceText(146.05, 'inch')).toBe('5.75 in')
})

test('clear distances are rounded up after they are converted', () => {
  // 254.1 mm are 10.004 in; 2540 mm are 8.3333 ft.
  expect(clearDistance(254.1, 'inch')).toBe(`10.1${T}in`)
  expect(clearDistance(2540, 'inch')).toBe(`8.34${T}ft`)
})

test('the section’s sizes and the plan’s ruler', () => {
  expect(sizesAlong(gannetHead(), 'inch').map((s) => s.text)).toContain('lens at 41.34 in')
  expect(sizesAcross(gannetHead(), 'upright', 'inch').map((s) => s.text)).toContain('lens ⌀ 22.05 in')
  const ticks = rulerTicks(0, 100, 3, 25.4).filter((t) => t.long)
  expect(ticks.map((t) => [t.shown, t.mm])).toEqual([
    [0, 0],
    [1, 25.4],
    [2, 50.8],
    [3, 76.2],
  ])
})

test('a spreadsheet’s decimal mark by the language', () => {
  expect(['en-GB', 'en-US', 'de-DE', 'fr-FR', 'pl-PL'].map(decimalMarkOf)).toEqual(['.', '.', ',', ',', ','])
})

test('temperatures to whole degrees', () => {
  expect(degreesText(70, 'inch')).toBe(`158${T}°F`)
  expect(degreesText(70.4, 'metric')).toBe(`70${T}°C`)
})
