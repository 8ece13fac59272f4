import { expect, test } from 'vitest'
import { editDistance } from '../../src/num/editDistance.ts'

// kitten to sitting, 3: the textbook example of Levenshtein's distance (memory).
test('edit distance', () => {
  expect(editDistance('', 'abc')).toBe(3)
  expect(editDistance('kitten', 'sitting')).toBe(3)
  expect(editDistance('focalMm', 'focalMm')).toBe(0)
})
