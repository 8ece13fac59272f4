// Readings on the way, by a clock that stands still unless it is moved.
import { expect, test } from 'vitest'
import { makePacing } from '../../../src/job/beam/pacing.ts'

test('readings take a quarter of the time since the first sheet at most; a search waits for eight times as much', () => {
  let now = 0
  const pacing = makePacing(() => now)
  now = 50
  pacing.begin(50)
  const at = (ms: number) => {
    now = 50 + ms
    return [pacing.mayRead(), pacing.maySearch()]
  }
  expect([at(199), at(200), at(1599), at(1600)]).toEqual([
    [false, false],
    [true, false],
    [true, false],
    [true, true],
  ])
  // Of 1600 ms 400 may be spent, and are.
  pacing.took(400, true)
  expect([at(1700), at(1800), at(3200)]).toEqual([
    [false, false],
    [true, false],
    [true, true],
  ])
  pacing.took(300, false)
  expect([at(3999), at(4000)]).toEqual([
    [false, false],
    [true, false],
  ])
})
