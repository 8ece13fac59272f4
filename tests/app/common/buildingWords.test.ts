import { expect, test } from 'vitest'
import { buildingWords } from '../../../src/app/common/buildingWords.ts'
import { formatFigure, THIN } from '../../../src/app/common/format.ts'
import type { FigureSpread } from '../../../src/job/tolerances/result.ts'

const at = (value: number) => ({ value, low: value, high: value })
const spread = (name: FigureSpread['name'], median: number, sd: FigureSpread['sd']) =>
  ({ name, median: at(median), sd, tracingSd: 0 }) as FigureSpread

test('a junction in °F: its value with the scale’s zero, its ± without (NIST SP 811, B.8: t/°F = 1.8 t/°C + 32; from memory)', () => {
  expect(formatFigure({ value: 100, se: 0 }, '°C', 'inch').text).toBe(`212${THIN}°F (exact)`)
  expect(buildingWords(spread('junctionC', 104, at(1.75)), 'inch')).toBe(`± 6.3${THIN}°F`)
  expect(buildingWords(spread('junctionC', 104, at(1.75)), 'metric')).toBe(`± 3.5${THIN}°C`)
})

test('a spread from rounding alone is none', () => {
  expect(buildingWords(spread('efficiency', 0.88, { value: 1e-16, low: 0, high: 2.5e-16 }), 'metric')).toBe('none')
})
