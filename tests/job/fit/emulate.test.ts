// The search for a cause's best value, which lets other work of the thread in between.
import { expect, test } from 'vitest'
import { minimise, sliced } from '../../../src/job/fit/emulate.ts'

test('the least and its interval, with a pause before each value that it takes', () => {
  let values = 0
  const chi2 = sliced((x) => {
    values++
    return 100 * (x - 0.3) ** 2
  })
  const work = minimise(chi2, 0, 1)
  let pauses = 0
  let step = work.next()
  for (; !step.done; step = work.next()) pauses++
  expect(pauses).toBe(values)
  // By hand: χ² = 100 (x − 0.3)² is least at 0.3, and 3.841 more at ± √0.03841.
  const { value, low, high, openLow, openHigh } = step.value
  expect(value).toBeCloseTo(0.3, 3)
  expect(low).toBeCloseTo(0.3 - Math.sqrt(0.03841), 3)
  expect(high).toBeCloseTo(0.3 + Math.sqrt(0.03841), 3)
  expect([openLow, openHigh]).toEqual([false, false])
})
