import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { redraw } from '../../src/app/frame.ts'

let frames: (() => void)[] = []
const nextFrame = () => {
  const now = frames
  frames = []
  for (const run of now) run()
}
beforeEach(() => {
  frames = []
  vi.stubGlobal('requestAnimationFrame', (run: () => void) => frames.push(run))
})
afterEach(() => vi.unstubAllGlobals())

test('many requests are one drawing, the last one', () => {
  const drawn: string[] = []
  redraw('a', () => drawn.push('old'))
  redraw('a', () => drawn.push('new'))
  redraw('b', () => drawn.push('b'))
  expect(frames).toHaveLength(1)
  nextFrame()
  expect(drawn).toEqual(['new', 'b'])
  expect(frames).toHaveLength(0)
})

test('another drawing that a drawing requests comes in the same frame; the drawing itself in the next', () => {
  const drawn: string[] = []
  redraw('sheet', () => {
    drawn.push('sheet')
    redraw('picture', () => drawn.push('picture of it'))
    redraw('sheet', () => drawn.push('sheet again'))
  })
  redraw('picture', () => drawn.push('picture of the one before'))
  nextFrame()
  expect(drawn).toEqual(['sheet', 'picture of it'])
  expect(frames).toHaveLength(1)
  nextFrame()
  expect(drawn).toEqual(['sheet', 'picture of it', 'sheet again'])
})

test('two that request each other take a frame each time, not an endless loop', () => {
  let count = 0
  const one = () => {
    count++
    redraw('two', two)
  }
  const two = () => redraw('one', one)
  redraw('one', one)
  nextFrame()
  expect(count).toBe(1)
  nextFrame()
  expect(count).toBe(2)
  for (const name of ['one', 'two']) redraw(name, () => {})
  nextFrame()
})

test('a drawing that fails leaves the next frame to the others', () => {
  const drawn: string[] = []
  redraw('bad', () => {
    throw new Error('no')
  })
  redraw('good', () => drawn.push('good'))
  expect(nextFrame).toThrow('no')
  expect(drawn).toEqual([])
  redraw('more', () => drawn.push('more'))
  nextFrame()
  expect(drawn).toEqual(['good', 'more'])
})
