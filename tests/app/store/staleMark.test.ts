import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { createDesign } from '../../../src/app/store/design.ts'
import { createResult } from '../../../src/app/store/result.ts'
import { followStaleMark } from '../../../src/app/store/staleMark.ts'
import { gannetHead } from '../../../src/library/demos.ts'

beforeEach(() => void vi.useFakeTimers())
afterEach(() => void vi.useRealTimers())

function bench() {
  const design = createDesign(gannetHead())
  const result = createResult()
  const stop = followStaleMark(design, result)
  const stale = (is: boolean) => result.setState({ stale: is })
  return { design, result, stop, stale, marked: () => result.getState().marked }
}

test('an edit marks the figures at once, and its sheet takes the mark away', () => {
  const b = bench()
  b.stale(true)
  expect(b.marked()).toBe(true)
  b.stale(false)
  expect(b.marked()).toBe(false)
})

test('during a drag, sheets that keep up are never marked', () => {
  const b = bench()
  const session = b.design.beginDrag('Lens')
  for (let frame = 0; frame < 60; frame++) {
    b.stale(true)
    vi.advanceTimersByTime(16)
    expect(b.marked()).toBe(false)
    b.stale(false)
  }
  session.commit()
  expect(b.marked()).toBe(false)
})

test('during a drag, figures that lag are marked until they have kept up for a while', () => {
  const b = bench()
  b.design.beginDrag('Lens')
  b.stale(true)
  vi.advanceTimersByTime(100)
  expect(b.marked()).toBe(true)
  for (let frame = 0; frame < 9; frame++) {
    b.stale(false)
    vi.advanceTimersByTime(20)
    b.stale(true)
    expect(b.marked()).toBe(true)
  }
  b.stale(false)
  vi.advanceTimersByTime(1000)
  expect(b.marked()).toBe(false)
})

test('the end of a drag leaves no stale figure unmarked', () => {
  const b = bench()
  const session = b.design.beginDrag('Lens')
  b.stale(true)
  expect(b.marked()).toBe(false)
  session.commit()
  expect(b.marked()).toBe(true)
})
