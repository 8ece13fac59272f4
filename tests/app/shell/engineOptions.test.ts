import { expect, test } from 'vitest'
import { parseEngineOptions } from '../../../src/app/shell/engineOptions.ts'

test.each([
  ['', { choice: 'auto' }],
  ['?engine=cpu', { choice: 'cpu' }],
  ['?engine=abacus&reading-threads=-1&lose-graphics=soon', { choice: 'auto' }],
  ['?engine=gpu&lose-graphics=100000', { choice: 'gpu', loseAfter: 100_000 }],
  ['?reading-threads=2', { choice: 'auto', readingThreads: 2 }],
  ['?reading-threads=0', { choice: 'auto', readingThreads: 0 }],
  ['?reading-threads=1e9', { choice: 'auto', readingThreads: 16 }],
])('the address “%s”', (search, order) => {
  expect(parseEngineOptions(search)).toEqual(order)
})
