import { expect, test } from 'vitest'
import { memoize } from '../../src/num/memoize.ts'

test('made again when any number it is made from changes, or how many there are; a few are kept', () => {
  let made = 0
  const sumOf = memoize(
    ({ a, b }: { a: number[]; b: Float32Array }) => [a, b],
    ({ a, b }) => ({ nr: ++made, sum: [...a, ...b].reduce((x, y) => x + y, 0) }),
  )
  const one = { a: [1, 2], b: Float32Array.of(3) }
  expect(sumOf(one)).toEqual({ nr: 1, sum: 6 })
  expect(sumOf({ a: [1, 2], b: Float32Array.of(3) })).toBe(sumOf(one))
  expect(sumOf({ ...one, b: Float32Array.of(4) })).toEqual({ nr: 2, sum: 7 })
  expect(sumOf({ ...one, a: [1, 2, 0] })).toEqual({ nr: 3, sum: 6 })
  expect(sumOf({ ...one, a: [2, 1] })).toEqual({ nr: 4, sum: 6 })
  expect(sumOf(one).nr).toBe(1)
  expect(sumOf({ ...one, a: [9] }).nr).toBe(5)
  expect(sumOf({ ...one, b: Float32Array.of(4) }).nr).toBe(6) // the one least memoize asked for was dropped
  expect(sumOf(one).nr).toBe(1)
})
