import fc from 'fast-check'
import { expect, test } from 'vitest'
import { formatNumber, parseQuantity, rangeFault, stepped, type Unit } from '../../../src/app/common/units.ts'
import { withDecimalMark } from '../../../src/num/decimalMark.ts'

// Conversion factors by definition: international inch 25.4 mm (1959), 1 rad = 180/π degrees, 0 °C = 273.15 K (SI).
const TAKEN: [string, Unit, number][] = [
  ['200', 'mm', 200],
  ['2 in', 'mm', 50.8],
  ['2in', 'mm', 50.8],
  ['2"', 'mm', 50.8],
  ['1 1/2 in', 'mm', 38.1],
  ['1-1/2 in', 'mm', 38.1],
  ['3/4"', 'mm', 19.05],
  ['0.3 m', 'mm', 300],
  ['25.4mm', 'mm', 25.4],
  ['5 ft 6 in', 'mm', 1676.4],
  ['5\' 6"', 'mm', 1676.4],
  ['30 cm', 'mm', 300],
  ['560/2', 'mm', 280],
  ['600 + 10', 'mm', 610],
  ['600+10', 'mm', 610],
  ['600 - 10 - 2.5', 'mm', 587.5],
  ['2 in + 5 mm', 'mm', 55.8],
  ['2 in - 1/2 in', 'mm', 38.1],
  ['5 ft 6 in + 1 in', 'mm', 1701.8],
  ['-3 + 5', 'mm', 2],
  ['360/7 + 1', 'deg', 52.4285714286],
  ['20 + 5', '°C', 25],
  ['0,3 m', 'mm', 300],
  ['-3', 'mm', -3],
  ['\u22123', 'mm', -3],
  ['-1 1/2 in', 'mm', -38.1],
  ['1e2', 'mm', 100],
  ['.5', 'mm', 0.5],
  ['800', 'm', 800],
  ['0.8 km', 'm', 800],
  ['100 ft', 'm', 30.48],
  ['45°', 'deg', 45],
  ['0.5 rad', 'deg', 28.6478897565],
  ["12° 30'", 'deg', 12.5],
  ['4 mrad', 'deg', 0.229183118052],
  ['2.5 klm', 'lm', 2500],
  ['600 lm', 'lm', 600],
  ['350 mA', 'A', 0.35],
  ['2 A', 'A', 2],
  ['88 %', 'share', 0.88],
  ['0.88', 'share', 0.88],
  ['20 °C', '°C', 20],
  ['300 K', '°C', 26.85],
  ['68 °F', '°C', 20],
  ['1 kW/m²', 'W/m²', 1000],
  ['0.1 W/cm2', 'W/m²', 1000],
  ['0.55 µm', 'nm', 550],
  ['4 K/W', 'K/W', 4],
  ['1.2 kJ/K', 'J/K', 1200],
  ['400', 'J/K', 400],
  ['0.12 kW', 'W', 120],
  ['19', '', 19],
  ['25 kHz', 'Hz', 25_000],
  ['40 %', '%', 40],
  ['40', '%', 40],
]
test.each(TAKEN)('%s in a field of %s is %d', (text, unit, value) => {
  const parsed = parseQuantity(text, unit)
  expect(parsed.ok ? parsed.value : parsed.why).toBeCloseTo(value, 9)
})

const REFUSED: [string, Unit, string][] = [
  ['', 'mm', 'Nothing was typed.'],
  ['wide', 'mm', '“wide” is no number.'],
  ['2 lm', 'mm', '“lm” is no unit for this field; it takes mm, cm, m, in, ft or thou.'],
  ['3 km', '', '“km” is no unit for this field; it takes a plain number.'],
  ['1,000', 'mm', '“1,000” can be read two ways; write it without the comma, or with a point.'],
  ['1,000.5', 'mm', '“1,000.5” mixes commas and points; write it with one point.'],
  ['2 in 3', 'mm', '“2 in 3” holds more than one number.'],
  ['1 + 1/2 in', 'mm', '“1 + 1/2 in” can be read two ways; write the unit after every number of a sum, or after none.'],
  ['600 +', 'mm', '“+” is not understood after “600”.'],
  ['20 °C + 5 K', '°C', '“20 °C + 5 K”: in a sum of temperatures only numbers.'],
  ['1/0', 'mm', 'A fraction with 0 below the line is no number.'],
  ['1e999', 'mm', '“1e999” is too large a number.'],
  ['12 mm!', 'mm', '“mm!” is no unit for this field; it takes mm, cm, m, in, ft or thou.'],
]
test.each(REFUSED)('%s in a field of %s is refused in words', (text, unit, why) => {
  expect(parseQuantity(text, unit)).toEqual({ ok: false, why })
})

test('what a field shows is read back as the same value', () => {
  fc.assert(
    fc.property(fc.integer({ min: -99_999_999, max: 99_999_999 }), (n) => {
      const value = n / 10_000
      expect(parseQuantity(formatNumber(value), 'mm')).toEqual({ ok: true, value })
    }),
  )
})

test('on a page with commas too; then a point before three digits is refused', () => {
  fc.assert(
    fc.property(fc.integer({ min: -99_999_999, max: 99_999_999 }), (n) => {
      const shown = withDecimalMark(formatNumber(n / 10_000), ',')
      expect(shown).not.toContain('.')
      expect(parseQuantity(shown, 'mm', 'metric', ',')).toEqual({ ok: true, value: n / 10_000 })
    }),
  )
  expect(parseQuantity('1.5 + 1,125', 'mm', 'metric', ',')).toEqual({ ok: true, value: 2.625 })
  expect(parseQuantity('12.5', 'mm', 'metric', ',')).toEqual({ ok: true, value: 12.5 })
  expect(parseQuantity('12.500', 'mm', 'metric', ',')).toEqual({
    ok: false,
    why: '“12.500” can be read two ways; write it without the point, or with a comma.',
  })
})

test('any text gives a finite number or a sentence, never a crash', () => {
  fc.assert(
    fc.property(fc.string({ maxLength: 24 }), fc.constantFrom<Unit>('mm', 'deg', 'share', '°C', ''), (text, unit) => {
      const parsed = parseQuantity(text, unit)
      if (parsed.ok) expect(Number.isFinite(parsed.value)).toBe(true)
      else expect(parsed.why.length).toBeGreaterThan(5)
    }),
  )
})

test('range faults state the value and what is allowed', () => {
  expect(rangeFault(-1, { min: 0, max: 10 }, 'mm')).toBe('-1 mm is too small; at least 0 mm.')
  expect(rangeFault(400, { min: 0, max: 360 }, 'deg')).toBe('400° is too large; at most 360°.')
  expect(rangeFault(88, { min: 0, max: 1 }, 'share')).toBe('88 is over 1; write 88 % or 0.88.')
  expect(rangeFault(2.5, { min: 1, max: 9, integer: true }, '')).toBe('2.5: only whole numbers here.')
  expect(rangeFault(5, { min: 0, max: 10 }, 'mm')).toBeNull()
})

test('steps stay in range and gather no dust', () => {
  let value = 0
  for (let i = 0; i < 10; i++) value = stepped(value, 1, { unit: 'mm', step: 0.1, min: 0, max: 10 })
  expect(value).toBe(1)
  expect(stepped(9.95, 1, { unit: 'mm', step: 0.1, min: 0, max: 10 })).toBe(10)
  expect(stepped(3, -10, { unit: '', step: 1, min: 1, max: 9, integer: true })).toBe(1)
})

test('small numbers are not shown as nothing', () => {
  expect(formatNumber(0.00001234)).toBe('0.0000123')
  expect(formatNumber(0)).toBe('0')
  expect(formatNumber(1050)).toBe('1050')
  expect(formatNumber(587.6)).toBe('587.6')
})
