import { describe, expect, test } from 'vitest'
import { readFaceEvenness, readFaceMap, readLensEvenness, readLensMap, readWallMap } from '../../src/beam/evenness.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { seededRandom } from '../../src/num/rng.ts'
import { expectWithin } from '../kit/expect.ts'
import { drawnRun, onDisc } from '../kit/handRun.ts'

const lamp = gannetHead()
const lens = { n: 256, halfMm: 280, zMm: 1050 }

describe('evenness of the lens', () => {
  test('an even lens is even, whatever the noise', () => {
    // Plain random numbers: all the noise there can be.
    const random = seededRandom(7)
    const run = drawnRun({
      rays: 40_000,
      shape: { lens },
      draw: () => ({ fate: 'lensAbsorbed', lensAt: onDisc(random(), random(), 280) }),
    })
    const { evenness, variation } = readLensEvenness(run, lamp)
    expectWithin(evenness!.value, 1, { sigmas: 4, se: evenness!.se })
    // Some 130 rays a cell: noise alone would be 9 %.
    expect(variation!.value).toBeLessThan(0.04)
  })
  test('a slope of known size: standard deviation of a linear density', () => {
    // Density 1 + 0.6 x/R over the disc: variance 0.36/4, minimum near 0.4.
    const run = drawnRun({
      rays: 200_000,
      shape: { lens },
      draw: (u) => {
        const [x, y] = onDisc(u(0), u(1), 280)
        return { fate: 'lensAbsorbed', lensAt: u(2) < (1 + (0.6 * x) / 280) / 1.6 ? [x, y] : [999, 0] }
      },
    })
    const { evenness, variation } = readLensEvenness(run, lamp)
    expectWithin(variation!.value, 0.3, { sigmas: 4, se: variation!.se + 0.01 })
    expectWithin(evenness!.value, 0.43, { sigmas: 4, se: evenness!.se + 0.01 })
  })
  test('a dark patch is dark to one ray in its cell, not exactly', () => {
    const rays = 40_000
    const run = drawnRun({
      rays,
      shape: { lens },
      draw: (u) => {
        const [x, y] = onDisc(u(0), u(1), 280)
        return { fate: 'lensAbsorbed', lensAt: x > -60 ? [x, y] : [999, 0] }
      },
    })
    const { evenness } = readLensEvenness(run, lamp)
    expect(evenness!.value).toBe(0)
    // A disc of 10 cells' radius has 100 π of them, 127 rays each where it is lit. The light that falls on it is some 0.63 of all.
    const oneInMean = (100 * Math.PI) / (0.63 * rays)
    expectWithin(evenness!.se, oneInMean, { rel: 0.3, because: 'cells at the rim are smaller, lit share by eye' })
  })
  test('dark parts are absent with a reason', () => {
    const dark = drawnRun({ rays: 16, shape: { lens }, draw: () => ({ fate: 'wall' }) })
    expect(readLensEvenness(dark, lamp)).toEqual({ absent: 'No light reaches the lens.' })
    expect(readFaceEvenness(dark, lamp)).toEqual({ absent: 'No light comes back to the face.' })
    expect(readLensEvenness(dark, { ...lamp, lens: null })).toEqual({ absent: 'The lamp has no lens.' })
  })
})

test('maps hold all the watts that fell on them', () => {
  const wall = { nAlong: 64, nRound: 64, zInMm: 14, zOutMm: 1040, inMm: 200, outMm: 560, sides: 6 }
  const run = drawnRun({
    rays: 16_000,
    emittedLm: 30_000,
    shape: { lens, wall },
    draw: (u) => ({
      fate: 'wall',
      lensAt: onDisc(u(0), u(1), 280),
      faceAt: onDisc(u(0), u(1), 90),
      wallAt: [14 + 1026 * u(2), 6.2831 * u(3)],
    }),
  })
  for (const map of [readLensMap(run)!, readFaceMap(run)]) {
    const cell = ((map.toX - map.fromX) / map.columns) ** 2
    expectWithin(map.values.reduce((a, b) => a + b, 0) * cell * 1e-3, 100, { rel: 1e-5, because: 'float32' })
  }
  const unrolled = readWallMap(run)!
  expectWithin(unrolled.toX, 12 * 190 * Math.tan(Math.PI / 6), { rel: 1e-9, because: 'perimeter at mid height' })
  expect([unrolled.fromY, unrolled.toY, unrolled.unit, unrolled.of]).toEqual([14, 1040, 'mm', 'kW/m2'])
})
