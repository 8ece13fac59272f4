// Quantities in both systems of units. Exact by definition: 1 in = 25.4 mm, 1 ft = 0.3048 m, 1 lb = 0.45359237 kg = 16 oz (international yard and
// pound agreement, 1959); t/°F = 9/5 · t/°C + 32.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  allInSystem,
  distanceText,
  hasBoth,
  inEither,
  inSystem,
  sizeText,
  temperatureText,
} from '../../src/num/quantity.ts'
import {
  fahrenheitApart,
  fahrenheitText,
  feetText,
  inches,
  poundsText,
  squareInches,
} from '../../src/num/unitSystem.ts'

describe('numbers', () => {
  test.each([
    [25.4, '1'],
    [304.8, '12'],
    [38.1, '1.5'],
    [1050, '41.34'],
    [1, '0.039'],
    [0.05, '0.002'],
    [-12.7, '-0.5'],
    [0, '0'],
  ])('%d mm are %s in', (mm, text) => {
    expect(inches(mm)).toBe(text)
  })
  test('to a thousandth of an inch on drawings', () => {
    expect([inches(10, 3), inches(0.2, 3), inches(3.175, 3)]).toEqual(['0.394', '0.0079', '0.125'])
  })
  test('distances in inches below three feet, then in feet; a clear distance never shorter than it is', () => {
    expect([feetText(127), feetText(914), feetText(914.4), feetText(30480)]).toEqual([
      '5 in',
      '36 in',
      '3 ft',
      '100 ft',
    ])
    expect([feetText(5430), feetText(5430, 'up'), feetText(3048, 'up')]).toEqual(['17.8 ft', '17.9 ft', '10 ft'])
    fc.assert(
      fc.property(fc.double({ min: 1, max: 1e6, noNaN: true }), (mm) => {
        const [number = '', unit] = feetText(mm, 'up').split(' ')
        expect(Number(number) * (unit === 'ft' ? 304.8 : 25.4)).toBeGreaterThanOrEqual(mm * (1 - 1e-9))
      }),
      { seed: 1 },
    )
  })
  test('temperatures, and how far apart two are', () => {
    expect([0, 37, 100, -40].map((c) => fahrenheitText(c))).toEqual(['32 °F', '99 °F', '212 °F', '−40 °F'])
    expect([fahrenheitText(51, 'up'), fahrenheitText(51, 'down')]).toEqual(['124 °F', '123 °F'])
    expect(fahrenheitApart(20)).toBe('36 °F')
  })
  test('masses and areas', () => {
    expect([poundsText(0.45359237), poundsText(25), poundsText(0.1)]).toEqual(['1 lb', '55.1 lb', '3.53 oz'])
    expect(squareInches(645.16)).toBe('1 in²')
  })
})

describe('a sentence', () => {
  const sentence = `Keep ${distanceText('5.43 m', 5430, 'up')} clear of ${sizeText('304.8', 304.8)} at ${temperatureText('90', 90)}.`
  test('reads in either system, and is itself again in metric', () => {
    expect(inSystem(sentence, 'metric')).toBe('Keep 5.43 m clear of 304.8 mm at 90 °C.')
    expect(inSystem(sentence, 'inch')).toBe('Keep 17.9 ft clear of 12 in at 194 °F.')
    expect(hasBoth(sentence)).toBe(true)
    expect(hasBoth(inSystem(sentence, 'inch'))).toBe(false)
  })
  test('what reads alike is written once; any words come back', () => {
    expect(inEither('AWG 12', 'AWG 12')).toBe('AWG 12')
    fc.assert(
      fc.property(fc.string(), fc.string(), fc.string(), (before, metric, inch) => {
        expect(inSystem(before + inEither(metric, inch), 'metric')).toBe(before + metric)
        expect(inSystem(before + inEither(metric, inch), 'inch')).toBe(before + inch)
      }),
      { seed: 1 },
    )
  })
  test('in a structure; what is no plain object stays the same', () => {
    const curve = new Float64Array(2)
    const shown = allInSystem({ rows: [[sentence, 1]], curve, none: null }, 'inch')
    expect(shown).toEqual({ rows: [['Keep 17.9 ft clear of 12 in at 194 °F.', 1]], curve, none: null })
    expect(shown.curve).toBe(curve)
  })
})

test('the least that will do rounds up in inches: 9.8 mm is 0.3858 in (25.4 mm to the inch; 1959)', () => {
  expect(inSystem(sizeText('9.8', 9.8, 2, 'up'), 'inch')).toBe('0.39 in')
  expect(inSystem(sizeText('9.7', 9.7, 2, 'up'), 'inch')).toBe('0.39 in')
  expect(inSystem(sizeText('9.7', 9.7), 'inch')).toBe('0.38 in')
})
