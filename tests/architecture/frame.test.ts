// Nothing is drawn that nobody asked for: frames are asked for in one place. (three's own loop runs on demand.)
import { expect, test } from 'vitest'
import { sources, textOf } from './tree.ts'

const FRAMES = /\b(requestAnimationFrame|setAnimationLoop|frameloop=["']always)/

test('requestAnimationFrame stands in src/app/frame.ts and nowhere else', () => {
  const asking = sources('src/').filter((path) => FRAMES.test(textOf(path).replace(/^\s*\/\/.*$/gm, '')))
  expect(asking, 'draw through redraw() of src/app/frame.ts').toEqual(['src/app/frame.ts'])
})

test('every picture of three is drawn on demand', () => {
  const always = sources('src/app/')
    .filter((path) => /<Canvas\b/.test(textOf(path)))
    .filter((path) => !/frameloop=["'](demand|never)["']/.test(textOf(path)))
  expect(always, 'give <Canvas> frameloop="demand"').toEqual([])
})
