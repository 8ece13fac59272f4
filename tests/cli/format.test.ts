import { expect, test } from 'vitest'
import { columns, duration, significant, withError, wrapped } from '../../src/cli/format.ts'
import { nearest } from '../../src/cli/nearest.ts'

test.each([
  [1234567, 1950, '1\u202f234\u202f600', '± 4\u202f200'],
  [5.12345, 0.0127, '5.123', '± 0.027'],
  [5.12345, 0.51, '5.1', '± 1.1'],
  [99.97, 5.2, '100', '± 11'],
  [-0.00012, 0.00001, '-0.000120', '± 0.000021'],
  [62160, 0, '62\u202f160', 'exact'],
  [40_499.99892711637, 1.5e-10, '40\u202f500', 'exact'],
  [1.84723456, 0.00002, '1.8472', '± 0.0001'],
  [123_456, 0.4, '123\u202f460', '± 10'],
  [0, 0, '0', ''],
  [0.25, 0, '0.25000', 'exact'],
])('%f with standard error %f', (value, se, shown, error) => {
  expect(withError({ value, se })).toEqual({ value: shown, error })
})

test('shares are shown in per cent, error and all', () => {
  expect(withError({ value: 0.39, se: 0.0006 }, 100)).toEqual({ value: '39.00', error: '± 0.13' })
})

test('significant digits', () => {
  expect([123456, 12.3456, 0.00123456, 0].map((x) => significant(x, 3))).toEqual([
    '123\u202f000',
    '12.3',
    '0.00123',
    '0',
  ])
})

test('durations', () => {
  expect([0.0834, 31.42, 600, 10_000].map(duration)).toEqual(['0.083 s', '31.4 s', '10.0 min', '2.78 h'])
})

test('columns are as wide as their widest cell, counted in characters', () => {
  expect(
    columns(
      [
        ['a', '1', '×'],
        ['bcd²', '100', ''],
      ],
      [1],
    ),
  ).toEqual(['a       1  ×', 'bcd²  100'])
})

test('long text is broken at spaces and loses none', () => {
  const text = 'a lamp is a lamp is a lamp'
  expect(wrapped(text, 12, '  ')).toBe('a lamp is\n  a lamp is\n  a lamp')
  expect(wrapped('unbreakable-word', 5, ' ')).toBe('unbreakable-word')
})

test('a guess is a near word or none', () => {
  const known = ['rays', 'seed', 'threads', 'json', 'help']
  expect(['ray', 'raise', 'sed', 'thread', 'js', 'colour', 'x', ''].map((w) => nearest(w, known))).toEqual([
    'rays',
    'rays',
    'seed',
    'threads',
    null,
    null,
    null,
    null,
  ])
})
