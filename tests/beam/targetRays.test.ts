// Illuminance on the target from rays that land where the test puts them: lumens over area, by hand. A ray of full weight is 1 lm.
import { describe, expect, test } from 'vitest'
import { centreDiscM } from '../../src/beam/target.ts'
import { frontZMm } from '../../src/lamp/front.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { T95 } from '../../src/num/stats.ts'
import type { TallyShape } from '../../src/run/types.ts'
import { readAimed } from '../kit/aimRun.ts'
import { expectWithin } from '../kit/expect.ts'
import { exitRays, filledRun, smallShape } from '../kit/handRun.ts'

const float32 = { rel: 2e-6, because: 'single precision' }
const gannet = gannetHead()
const front = frontZMm(gannet)
/** Its neighbours draw the darkest cell towards them by less. */
const drawn = { rel: 0.02, because: 'the smooth model' }
const aimed = (widthM: number, heightM: number, distanceM = 10): Lamp => ({
  ...gannet,
  target: { ...gannet.target, widthM, heightM, distanceM },
})

interface Landed {
  /** m on the target. */
  x: number
  y: number
  batch: number
  lm?: number
  /** How much of x, and of y, the ray's slope makes over 10 m, m. */
  drift?: number
  driftY?: number
}
/** Rays that land 10 m before the front; 4800 lm of 4800 rays. */
function landing(rays: Landed[], shape: TallyShape = smallShape()) {
  const run = filledRun(shape, () => {}, { rays: 4800 })
  const stored = rays.map(({ x, y, lm = 1, drift = 0, driftY = 0 }) => {
    const length = Math.hypot(drift / 10, driftY / 10, 1)
    const direction = [drift / 10 / length, driftY / 10 / length, 1 / length]
    return [1000 * (x - drift), 1000 * (y - driftY), front, ...direction, lm, 300 * lm]
  })
  run.exits = exitRays(stored, 4800, (i) => rays[i]!.batch)
  return run
}
/** `each` rays of every batch at one place. */
const heap = (x: number, y: number, each: number, over: Partial<Landed> = {}): Landed[] =>
  Array.from({ length: 16 * each }, (_, i) => ({ x, y, batch: i % 16, ...over }))

test('the disc of the centre: the cone’s, a tenth of half the shorter side, half the shorter side at most', () => {
  const { target } = gannet
  const of = (widthM: number, heightM: number, distanceM: number, tan: number) =>
    centreDiscM({ ...target, widthM, heightM, distanceM }, Math.atan(tan))
  expectWithin(of(4, 2, 10, 0.03), 0.3, { ulps: 4 })
  expectWithin(of(2, 4, 10, 0.005), 0.1, { ulps: 4 })
  expectWithin(of(4, 2, 10, 0.5), 1, { ulps: 4 })
})

/** 15 × 15 cells of the target, `count` rays in each by batch: at their middles. */
const inCells = (
  widthM: number,
  heightM: number,
  count: (cell: number, batch: number) => number,
  over = {},
): Landed[] =>
  Array.from({ length: 225 }, (_, cell) =>
    Array.from({ length: 16 }, (_, batch) =>
      Array.from({ length: count(cell, batch) }, () => ({
        x: (((cell % 15) + 0.5) / 15 - 0.5) * widthM,
        y: ((Math.floor(cell / 15) + 0.5) / 15 - 0.5) * heightM,
        batch,
        ...over,
      })),
    ).flat(),
  ).flat()

describe('4 × 1 m in 15 × 15 cells, 32 rays each and one with 16', () => {
  const cells = inCells(4, 1, (cell) => (cell === 17 ? 1 : 2), { drift: 1.5, driftY: -0.7 })
  // Beside the target, by a little in x or in y.
  const beside = [heap(2.001, 0, 1), heap(-2.001, 0, 1), heap(0, 0.501, 1), heap(0, -0.501, 1)].flat()
  const reading = () => readAimed(landing([...cells, ...beside]), aimed(4, 1))

  test('mean, minimum, evenness: all batches alike, and the minimum known to one ray in its cell', () => {
    const { figures, absent, notes } = reading()
    expect(absent).toEqual({})
    expect(notes[1]).toContain('15 × 15 cells')
    // 224 · 32 + 16 lm on 4 m²; 16 lm on 4/225 m².
    expectWithin(figures.targetMeanLx!.value, 1796, float32)
    expectWithin(figures.targetMinLx!.value, 900, float32)
    expectWithin(figures.targetEvenness!.value, 900 / 1796, float32)
    expectWithin(figures.targetMeanLx!.se, 0, { abs: 1e-3, because: 'single precision' })
    // A ray is 1 lm.
    expectWithin(figures.targetMinLx!.se, 225 / 4, float32)
    expectWithin(figures.targetEvenness!.se, 225 / 4 / 1796, float32)
  })
})

describe('4 × 1 m, sixteen places with 64 rays each and one with 32', () => {
  const heaps = Array.from({ length: 16 }, (_, k) =>
    heap(-1.75 + 0.5 * (k % 8), k < 8 ? -0.2 : 0.2, k === 15 ? 2 : 4, { drift: k === 0 ? 0 : 1.5 }),
  ).flat()
  const reading = () => readAimed(landing(heaps), aimed(4, 1))
  test('the centre is the cone’s disc, dark or not, and no wider one', () => {
    const { figures, notes, absent, centreRadiusM } = reading()
    expectWithin(centreRadiusM!, 10 * Math.tan(0.02), { ulps: 8 })
    expect(figures.targetCentreLx).toBeUndefined()
    expect(absent.targetCentreLx).toBe('Too few rays hit the middle of the target so far.')
    expect(notes[0]).toBe('Distances to the target are taken from the lamp’s front.')
    expect(notes[1]).toContain('a disc of 400 mm')
  })
  test('the map: 18 × 4 cells, about twelve rays each', () => {
    const { values, ...rest } = reading().map
    expect(rest).toEqual({ columns: 18, rows: 4, fromX: -2, toX: 2, fromY: -0.5, toY: 0.5, unit: 'm', of: 'lx' })
    const area = (4 / 18) * 0.25
    // y = −0.2 lies in row 1, x = −1.75 in column 1; 0.2 in row 2 and 1.75 in column 16.
    expectWithin(values[18 + 1]!, 64 / area, float32)
    expectWithin(values[2 * 18 + 16]!, 32 / area, float32)
    expectWithin(
      values.reduce((a, b) => a + b, 0),
      992 / area,
      float32,
    )
  })
})

test('the map of 2 × 4 m, from rays that drift in y', () => {
  // Eight places of 64 rays, the lowest two of 256.
  const heaps = Array.from({ length: 8 }, (_, k) =>
    heap(k % 2 ? 0.5 : -0.5, -1.5 + (k >> 1), k < 2 ? 16 : 4, { driftY: k - 4 }),
  ).flat()
  const { figures, map } = readAimed(landing(heaps), aimed(2, 4))
  // 896 lm on 8 m².
  expectWithin(figures.targetMeanLx!.value, 112, float32)
  // √(896/12) = 8.64: 6 × 12 cells of 1/9 m². ±0.5 m are columns 1 and 4, ±1.5 m rows 1 and 10.
  expect([map.columns, map.rows]).toEqual([6, 12])
  expectWithin(map.values[6 + 1]!, 256 * 9, float32)
  expectWithin(map.values[6 * 10 + 4]!, 64 * 9, float32)
})

describe('how many cells', () => {
  test('one at least, forty-eight at most in the map: long and low, or high and narrow', () => {
    const wide = readAimed(landing(heap(1, 0.01, 26)), aimed(10, 0.1))
    // √(416/12) = 5.89, times and over ten.
    expect([wide.map.columns, wide.map.rows]).toEqual([48, 1])
    const high = readAimed(landing(heap(0.01, 1, 26)), aimed(0.1, 10))
    expect([high.map.columns, high.map.rows]).toEqual([1, 48])
  })
  test('400 rays are enough, 399 are not', () => {
    const lamp = aimed(1, 1)
    expect(readAimed(landing(heap(0.1, 0.1, 25)), lamp).centreRadiusM).not.toBeNull()
    expect(readAimed(landing(heap(0.1, 0.1, 25).slice(1)), lamp).centreRadiusM).toBeNull()
  })
})

describe('the centre', () => {
  test('20 rays in its disc are enough, 19 are not', () => {
    const centre = (rays: number) =>
      readAimed(landing([...heap(0.1, 0, 2).slice(32 - rays), ...heap(0.4, 0.4, 26)]), aimed(1, 1)).figures
        .targetCentreLx
    const area = Math.PI * (10 * Math.tan(0.02)) ** 2
    expectWithin(centre(20)!.value, 20 / area, float32)
    expect(centre(19)).toBeUndefined()
  })
  test('its error: √(16/15 Σ (s − s̄)²) over the area', () => {
    const rays = heap(0.1, 0, 26).map((ray) => ({ ...ray, lm: ray.batch % 2 ? 1.25 : 0.75 }))
    const { figures } = readAimed(landing(rays), aimed(1, 1))
    const area = Math.PI * (10 * Math.tan(0.02)) ** 2
    // 416 lm; each batch is 26 ± 6.5.
    expectWithin(figures.targetCentreLx!.value, 416 / area, float32)
    expectWithin(figures.targetCentreLx!.se, (Math.sqrt((16 / 15) * 16) * 6.5) / area, float32)
  })
})

describe('noise', () => {
  /** Rays a batch in cells 0 and 1, and in all the others. */
  const of = (even: number[], odd: number[]) => {
    const rays = inCells(1, 1, (cell, batch) => (batch % 2 ? odd : even)[Math.min(2, cell)]!)
    return readAimed(landing(rays), aimed(1, 1)).figures
  }
  test('the darkest cell of one half is measured in the other; a third of the way to the darkest of all', () => {
    const figures = of([1, 5, 10], [6, 2, 10])
    // A batch's ray stands for 16 on 1/225 m². 5 and 6 rays by halves; all batches 3.5 in cells 0 and 1.
    const lx = 16 * 225
    expectWithin(figures.targetMinLx!.value, lx * (5.5 - 2 / 3), drawn)
    const spread = 0.5 / Math.sqrt(15)
    expectWithin(figures.targetMinLx!.se, lx * Math.hypot(spread, 2 / 2 / T95), drawn)
    // 2236 and 2238 rays.
    const mean = 16 * 2237
    expectWithin(figures.targetMeanLx!.value, mean, float32)
    expectWithin(figures.targetMeanLx!.se, 16 / Math.sqrt(15), { rel: 1e-3, because: 'single precision' })
    expectWithin(figures.targetEvenness!.value, (lx * (5.5 - 2 / 3)) / mean, drawn)
    const apart = Math.abs((16 * 5.5 - 5) / (16 * 2237 - 2236) - (16 * 5.5 - 6) / (16 * 2237 - 2238))
    const split = (225 * Math.sqrt(15) * apart) / 2
    expectWithin(figures.targetEvenness!.se, Math.hypot(split, (lx * 2) / mean / 2 / T95), drawn)
  })
  test('a minimum is never above the mean, whatever cell noise has taken for the darkest', () => {
    // Cell 0 is darkest in the even batches and brightest in the odd ones, cell 1 the other way about: 16 by halves; all batches 7 at the least.
    const figures = of([2, 16, 7], [16, 2, 7])
    const mean = (2 * 9 + 223 * 7) / 225
    expectWithin(figures.targetMinLx!.value, 16 * 225 * (mean + (7 - mean) / 3), drawn)
    expect(figures.targetEvenness!.value).toBeLessThan(1)
  })
  test('of cells alike the first one', () => {
    // Even batches 2, 2, 20; odd ones 3, 7, 20: cell 0 in the even ones holds 3 in the odd; it is darkest in them too.
    expectWithin(of([2, 2, 20], [3, 7, 20]).targetMinLx!.value, 225 * 16 * 2.5, drawn)
  })
})
