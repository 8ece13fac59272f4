// Who holds the trace: the sheet says “Paused” only where the user paused.
import { beforeEach, expect, test } from 'vitest'
import { createResult } from '../../../src/app/store/result.ts'
import { createTracePause } from '../../../src/app/store/tracePause.ts'
import type { Sheet } from '../../../src/job/beam/sheet.ts'

const never = () => false
const result = createResult()
const trace = {
  pause: () => result.setState({ trace: 'paused' }),
  resume: () => result.setState({ trace: 'tracing', heldBy: [] }),
}
const search = createTracePause(result, trace, 'optimize')
const compare = createTracePause(result, trace, 'compare')
const now = () => {
  const { trace: state, heldBy } = result.getState()
  return [state, ...heldBy]
}
beforeEach(() =>
  result.setState({ sheet: { state: 'settling' } as Sheet, stale: false, trace: 'tracing', heldBy: [], atWork: true }),
)

test('two panels hold it, and it goes on after the last', async () => {
  await search.begin(never)
  expect(now()).toEqual(['paused', 'optimize'])
  await compare.begin(never)
  await compare.begin(never)
  expect(now()).toEqual(['paused', 'optimize', 'compare'])
  search.end()
  expect(now()).toEqual(['paused', 'compare'])
  compare.end()
  expect(now()).toEqual(['tracing'])
})

test('what the user paused nobody holds, nor resumes', async () => {
  trace.pause()
  await search.begin(never)
  search.end()
  expect(now()).toEqual(['paused'])
})

test('resumed and paused again by the user while a search runs: it stays paused', async () => {
  await search.begin(never)
  trace.resume()
  trace.pause()
  search.end()
  expect(now()).toEqual(['paused'])
})
