import { expect, test } from 'vitest'
import { isUnsettled } from '../../src/report/choose.ts'

test('a search that found its best late and ran out of lamps is not settled', () => {
  const history = (after: number) => [{ after: 1 }, { after }] as never
  expect(isUnsettled({ end: 'evaluations', done: 100, history: history(80) })).toBe(true)
  expect(isUnsettled({ end: 'evaluations', done: 100, history: history(60) })).toBe(false)
  expect(isUnsettled({ end: 'converged', done: 100, history: history(80) })).toBe(false)
})
