import { describe, expect, test } from 'vitest'
import {
  clearDistance,
  countWords,
  figureInDoubt,
  formatFigure,
  formatValue,
  groupThousands,
  relativeError,
  roundDown,
  roundTogether,
  roundUp,
  THIN,
  toDigits,
  upperBound,
} from '../../../src/app/common/format.ts'

const plain = (s: string) => s.replaceAll(THIN, '_')

test('a value has no more digits than ± of tracing and the doubt of its parts leave it', () => {
  const shown = (...of: Parameters<typeof figureInDoubt>) => {
    const { value, pm } = figureInDoubt(...of)
    return plain(`${value} ± ${pm}`)
  }
  const flux = { value: 66_070, se: 61 }
  // 7 % of it are 4600: two digits of that end at the hundreds.
  expect(shown(flux, 'lm', 0.07)).toBe('66_100 ± 200')
  expect(shown({ value: 66_070, se: 6100 }, 'lm', 0.07)).toBe('66_000 ± 13_000')
  expect(shown({ value: 4_656_300, se: 1000 }, 'cd', 0.07)).toBe('4.66 ± 0.01')
  // Of angles nothing is known of the parts' doubt; three digits are the most that any part deserves. ± is never 0.
  expect(shown({ value: 8.19312, se: 0.016 }, 'deg', 0)).toBe('8.19 ± 0.04')
  expect(shown({ value: 8.19312, se: 1e-5 }, 'deg', 0)).toBe('8.19 ± 0.01')
  expect(shown({ value: 8.19312, se: 0.5 }, 'deg', 0)).toBe('8.2 ± 1.1')
  expect(shown({ value: 0.8279, se: 7e-4 }, '%', 0)).toBe('82.8 ± 0.2')
})

describe('a figure with its ±', () => {
  test.each([
    [{ value: 5_963_412, se: 18_486 }, 'cd', '5.963 ± 0.039_Mcd'],
    [{ value: 58_612.4, se: 61 }, 'lm', '58_610 ± 130_lm'],
    [{ value: 0.7345, se: 0.00061 }, '%', '73.45 ± 0.13_%'],
    [{ value: 5.1234, se: 0.0392 }, 'deg', '5.123 ± 0.084°'],
    [{ value: 5.1234, se: 0.05 }, 'deg', '5.12 ± 0.11°'],
    [{ value: 5.1234, se: 0.046 }, 'deg', '5.123 ± 0.098°'],
    // 2.131 · 0.0468 = 0.0997: two digits of it are 0.10, so two decimals.
    [{ value: 5.1234, se: 0.0468 }, 'deg', '5.12 ± 0.10°'],
    [{ value: 4884.9, se: 7.6 }, 'm', '4885 ± 16_m'],
    [{ value: 9.3, se: 4 }, 'lx', '9.3 ± 8.5_lx'],
    [{ value: 214.2, se: 33 }, 'kW/m²', '214 ± 70_kW/m²'],
    [{ value: 79_800, se: 0 }, 'lm', '79_800_lm (exact)'],
    [{ value: 12_345, se: 900 }, 'cd', '12.3 ± 1.9_kcd'],
    [{ value: 1, se: 1e-8 }, '%', '100.0000 ± 0.0001_%'],
    [{ value: 0.12, se: 1e-17 }, '%', '12_% (exact)'],
    [{ value: 0, se: 0 }, '%', '0_%'],
    [{ value: 3.1234, se: Number.NaN }, 'm', '3.1 (± unknown)_m'],
    [{ value: 0, se: 0.0123 }, '%', '0.0 ± 2.6_%'],
    [{ value: -0.5, se: 0.1 }, 'm', '\u22120.50 ± 0.21_m'],
  ] as const)('%o in %s is %s', (figure, unit, text) => {
    expect(plain(formatFigure(figure, unit).text)).toBe(text)
  })

  test('the ± keeps two significant digits and the value the same decimals, over many sizes', () => {
    for (let e = -4; e < 6; e += 0.37) {
      const half = 10 ** e
      const { value, pm } = roundTogether(half * 43.21, half)
      const digits = (s: string) => (s.split('.')[1] ?? '').length
      expect(digits(value)).toBe(digits(pm))
      const shown = Number(pm.replaceAll(THIN, ''))
      expect(Math.abs(shown - half) / half).toBeLessThan(0.0501)
      expect(Number(shown.toPrecision(2))).toBe(shown)
    }
  })
})

describe('towards danger', () => {
  test.each([
    [2.301, 2, '2.4'],
    [2.3, 2, '2.3'],
    [2.3000000000000003, 2, '2.3'],
    [0.0381, 2, '0.039'],
    [99.1, 2, '100'],
    [214.7, 3, '215'],
    [12_010, 2, '13_000'],
    [0, 2, '0'],
  ])('%f rounds up to %i digits as %s', (value, digits, text) => expect(plain(roundUp(value, digits))).toBe(text))
  test.each([
    [9.29, 2, '9.2'],
    [0.999, 2, '0.99'],
    [145.9, 2, '140'],
    [3, 2, '3.0'],
  ])('%f rounds down to %i digits as %s', (value, digits, text) => expect(plain(roundDown(value, digits))).toBe(text))
  test('the upper end is 2.131 standard errors up', () => expect(upperBound(10, 1)).toBeCloseTo(12.131, 12))
})

test('thousands stand apart from five digits on, and zero has no sign', () => {
  expect(plain(groupThousands('1234567.25'))).toBe('1_234_567.25')
  expect(plain(groupThousands('4884'))).toBe('4884')
  expect(groupThousands('-0.00')).toBe('0.00')
})

test('plain values', () => {
  expect(plain(formatValue(5_963_412, 'cd'))).toBe('5.96_Mcd')
  expect(plain(formatValue(0.1234, '%'))).toBe('12.3_%')
  expect(plain(formatValue(12.5, 'deg'))).toBe('12.5°')
  expect(toDigits(100, 3)).toBe('100')
  expect(toDigits(0.5, 3)).toBe('0.5')
  expect(plain(countWords(6_291_456))).toBe('6.29 million')
  expect(plain(countWords(16_384))).toBe('16_384')
})

test('± as a share of the value', () => {
  expect(relativeError({ value: 200, se: 1 })).toBeCloseTo(0.010655, 12)
  expect(relativeError({ value: 0, se: 1 })).toBeNull()
  expect(relativeError(undefined)).toBeNull()
})

test('± is never shown smaller than it is when its last place is cut off', () => {
  expect(roundTogether(2, 0.000085, 6)).toEqual({ value: '2.00000', pm: '0.00009' })
  expect(roundTogether(2, 0.0000049, 6)).toEqual({ value: '2.00000', pm: '0.00001' })
  expect(roundTogether(123456.7, 0.3, 6)).toEqual({ value: '123\u202f457', pm: '1' })
})

test('a distance to keep: millimetres to a metre, metres from there, rounded up', () => {
  const texts = [0.5, 285.2, 999.2, 1000, 4903].map((mm) => clearDistance(mm).replace('\u202f', ' '))
  expect(texts).toEqual(['0.5 mm', '286 mm', '1 m', '1 m', '4.91 m'])
})
