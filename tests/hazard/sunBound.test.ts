// The most that can be made of the sun, against closed forms.
import { expect, test } from 'vitest'
import { mirrorShareOf, mostConcentration, openingMm2 } from '../../src/hazard/sunBound.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { middleOfSun } from '../../src/library/sunDisc.ts'
import { expectWithin } from '../kit/expect.ts'

const demo = gannetHead()
const lens = { kind: 'ideal', zMm: 200, focalMm: 200, diameterMm: 80 } as Lamp['lens']
const tunnel = { ...demo.tunnel!, sides: 0, inMm: 40, outMm: 60, zInMm: 5, zOutMm: 200 }

test('all that falls on a round lens over a disc: (D/d)²; never above the sun’s own surface, 1/sin² of its half angle', () => {
  const round = openingMm2({ ...demo, lens, tunnel: null })
  expectWithin(mostConcentration(round, 10), 64, { rel: 1e-12, because: 'closed form' })
  // About 46 200 for a uniform sun (Winston and Welford, from memory: 46 000), brighter in its middle.
  const limit = 1 / Math.sin((0.2666 * Math.PI) / 180) ** 2
  expectWithin(limit, 46_000, { rel: 0.01, because: 'from memory' })
  expect(mostConcentration(round, 0.01)).toBe(limit * middleOfSun(0))
})

test('a rectangle, a mouth with flats, and a row seen from its side', () => {
  const sheet = { ...lens, aperture: 'rectangle', diameterMm: 80, heightMm: 30 } as Lamp['lens']
  expect(openingMm2({ ...demo, lens: sheet, tunnel: null })).toBe(2400)
  // A hexagon across its flats: √3/2 · a².
  const hexagon = { ...tunnel, sides: 6 }
  expectWithin(openingMm2({ ...demo, lens: null, tunnel: hexagon }), (Math.sqrt(3) / 2) * 3600, {
    rel: 1e-12,
    because: 'closed form',
  })
  // Behind the lens and in one plane with it the mouth adds nothing; 30 mm behind, the shadow of a drum: π 40² cos + 30 · 80 sin.
  const area = Math.PI * 1600
  expectWithin(openingMm2({ ...demo, lens, tunnel }), area, { rel: 1e-12, because: 'one plane' })
  const behind = { ...tunnel, zOutMm: 170 }
  const drum = Math.max(
    ...Array.from({ length: 9001 }, (_, k) => area * Math.cos(k / 5730) + 2400 * Math.sin(k / 5730)),
  )
  expectWithin(openingMm2({ ...demo, lens, tunnel: behind }), drum, { rel: 1e-6, because: 'steps of 0.01°' })
  // Far behind: never more than both together.
  expectWithin(openingMm2({ ...demo, lens, tunnel: { ...tunnel, zOutMm: 60 } }), area + Math.PI * 900, {
    rel: 1e-12,
    because: 'closed form',
  })
  expect(openingMm2({ ...demo, lens: null, tunnel: null })).toBe(0)
})

test('the best stretch’s mirror counts', () => {
  const joint = { zMm: 50, belowMm: 50, aboveMm: 50, reflectance: 0.9, specularShare: 0.5, scatterDeg: 0 }
  const dull = { ...tunnel, reflectance: 0.5, specularShare: 0.1 }
  expect(mirrorShareOf(null)).toBe(0)
  expect(mirrorShareOf({ ...dull, joints: [joint] })).toBe(0.45)
})
