import { expect, test } from 'vitest'
import { localDate } from '../../src/num/localDate.ts'

test('the day where the clock hangs, with two figures for day and month', () => {
  expect(localDate(new Date(2026, 0, 3, 23, 59))).toBe('2026-01-03')
  expect(localDate(new Date(2026, 10, 30, 0, 1))).toBe('2026-11-30')
})
