import { expect, test } from 'vitest'
import { floorWords } from '../../src/report/floor.ts'

test('what is read off single rays says when more rays help no longer; all others go on', () => {
  const of = (rays: number) => ({ rays, exitsFrom: 524_288 })
  const words = 'Read off the first 524,288 rays: more make its ± no smaller.'
  expect([floorWords('front', of(2e6)), floorWords('inverseSquareFromM', of(524_289))]).toEqual([words, words])
  expect(floorWords('front', of(524_288))).toBeNull()
  expect([floorWords('targetMinLx', of(2e6)), floorWords('lens', of(2e6))]).toEqual([null, null])
})
