// The hottest discs on lens, face and wall, from maps of a few cells filled by hand.
import { describe, expect, test } from 'vitest'
import { readFaceSpot, readLensSpot, readWallSpot, upperKWm2 } from '../../src/hazard/discs.ts'
import { findDiscCells, makeEvenGrid } from '../../src/num/gridDisc.ts'
import { T95 } from '../../src/num/stats.ts'
import type { TallyLayout } from '../../src/run/layout.ts'
import type { Run, TallyShape } from '../../src/run/types.ts'
import { expectWithin } from '../kit/expect.ts'
import { filledRun, smallShape } from '../kit/handRun.ts'

const because = 'by hand'
type Wall = NonNullable<TallyShape['wall']>
const WALL: Wall = { nAlong: 4, nRound: 8, zInMm: 10, zOutMm: 50, inMm: 60, outMm: 120, sides: 0 }

/** Lens of 8 × 8 cells of 10 mm, face of 4 × 4, wall of 4 × 8. A weight of 1 in a batch is 16 W; all maps but the one in question are full. */
function runWith(
  map: 'lensW' | 'faceW' | 'wallW',
  weigh: (cell: number, batch: number) => number,
  { wall = WALL, rays = 16 }: { wall?: Wall | null; rays?: number } = {},
): Run {
  const shape = smallShape({ lens: { n: 8, halfMm: 40, zMm: 7 }, wall, face: { n: 4, halfMm: 20 } })
  const sizes = { lensW: 64, wallW: wall ? wall.nAlong * wall.nRound : 0, faceW: 16 }
  return filledRun(
    shape,
    (tally, layout: TallyLayout, batch) => {
      tally.fill(9, layout.windowLm)
      for (let i = 0; i < sizes[map]; i++) tally[layout[map] + i] = weigh(i, batch)
    },
    { rays },
  )
}

/** kW/m² of a weight in one cell of 10 × 10 mm: 16 W over 100 mm². */
const CELL = 160
const at = (column: number, row: number) => row * 8 + column

describe('a disc smaller than a cell is that cell', () => {
  test('where, how hot and how sure: the batches’ mean and its standard error', () => {
    // Batch b has b: mean 7.5, Σ (b − 7.5)² = 340, s.e. √(340/15/16).
    const spot = readLensSpot(
      runWith('lensW', (cell, b) => (cell === at(6, 2) ? b : 0)),
      8,
    )!
    expect([spot.xMm, spot.yMm, spot.zMm]).toEqual([25, -15, 7])
    expectWithin(spot.kWm2, 7.5 * CELL, { rel: 1e-12, because })
    expectWithin(spot.se, Math.sqrt(340 / 15 / 16) * CELL, { rel: 1e-12, because })
    // The disc of 100 mm².
    expectWithin(spot.discMm, Math.sqrt(400 / Math.PI), { rel: 1e-12, because })
  })
  test('at least one ray’s watts: 16 W of 64 rays, by sixteen batches', () => {
    const spot = readLensSpot(
      runWith('lensW', (cell) => (cell === at(6, 2) ? 1 : 0), { rays: 64 }),
      8,
    )!
    expectWithin(spot.kWm2, CELL, { rel: 1e-12, because })
    // 0.25 W on 100 mm².
    expectWithin(spot.se, 2.5, { rel: 1e-12, because })
  })
  test('on the face at z = 0', () => {
    const spot = readFaceSpot(
      runWith('faceW', (cell) => (cell === 4 * 3 + 1 ? 2 : 1)),
      8,
    )!
    expect([spot.xMm, spot.yMm, spot.zMm]).toEqual([-5, 15, 0])
    expectWithin(spot.kWm2, 2 * CELL, { rel: 1e-12, because })
  })
})

describe('a place found in one half is measured in the other', () => {
  /** Weights of the even and of the odd batches in two cells. */
  const two = (a: [number, number, number, number], b: [number, number, number, number]) =>
    runWith('lensW', (cell, batch) => {
      const half = 2 + (batch % 2)
      return cell === at(a[0], a[1]) ? a[half]! : cell === at(b[0], b[1]) ? b[half]! : 0
    })
  /** A third of the way from what the halves say of each other to what all say of their own. */
  const between = (split: number, own: number) => CELL * (split + (own - split) / 3)
  const error = (se: number, split: number, own: number) => Math.hypot(se, (CELL * (own - split)) / 2 / T95)
  test('between that and the hottest of all batches, which has the place', () => {
    // Even batches see 10 in the first cell and 4 in the second, odd ones 3 and 10: of each other 4 and 3. All: 6.5 and 7.
    const spot = readLensSpot(two([1, 1, 10, 3], [5, 6, 4, 10]), 8)!
    expect([spot.xMm, spot.yMm]).toEqual([15, 25])
    expectWithin(spot.kWm2, between(3.5, 7), { rel: 1e-12, because })
    // Halves of 3.5 ± 0.5.
    expectWithin(spot.se, error((CELL * 0.5) / Math.sqrt(15), 3.5, 7), { rel: 1e-12, because })
    expectWithin(spot.discMm, Math.sqrt(400 / Math.PI), { rel: 1e-12, because })
    const other = readLensSpot(two([1, 1, 10, 5], [5, 6, 4, 9]), 8)!
    expect([other.xMm, other.yMm]).toEqual([-25, -25])
    expectWithin(other.kWm2, between(4.5, 7.5), { rel: 1e-12, because })
  })
  test('neighbours or not: what the halves say of each other’s place', () => {
    for (const [c, r] of [
      [2, 1],
      [1, 0],
      [2, 2],
      [3, 1],
    ] as const)
      expectWithin(readLensSpot(two([1, 1, 10, 3], [c, r, 3, 9]), 8)!.kWm2, between(3, 6.5), { rel: 1e-12, because })
  })
  test('quick: the first half that has light finds, the other measures, with what the first has of its own', () => {
    const spot = readLensSpot(two([1, 1, 10, 3], [5, 6, 4, 9]), 8, true)!
    expect([spot.xMm, spot.yMm]).toEqual([-25, -25])
    expectWithin(spot.kWm2, between(3, 10), { rel: 1e-12, because })
    // Eight batches: one ray is worth twice as much, 2 W.
    expectWithin(spot.se, error(20, 3, 10), { rel: 1e-12, because })
    expectWithin(spot.discMm, Math.sqrt(400 / Math.PI), { rel: 1e-12, because })
    const odd = readLensSpot(two([1, 1, 0, 3], [5, 6, 0, 9]), 8, true)!
    expect([odd.xMm, odd.yMm]).toEqual([15, 25])
    expectWithin(odd.kWm2, between(0, 9), { rel: 1e-12, because })
    const face = runWith('faceW', (cell) => (cell === 13 ? 2 : 1))
    expectWithin(readFaceSpot(face, 8, true)!.kWm2, 2 * CELL, { rel: 1e-12, because })
  })
  test('light in one half alone is a spot too', () => {
    const spot = readLensSpot(two([1, 1, 10, 0], [5, 6, 0, 0]), 8)!
    expectWithin(spot.kWm2, between(0, 5), { rel: 1e-12, because })
    expectWithin(spot.se, error(10, 0, 5), { rel: 1e-12, because })
    expect(readLensSpot(two([1, 1, 0, 10], [5, 6, 0, 0]), 8)).not.toBeNull()
  })
  test('no light, no spot', () => {
    for (const quick of [false, true]) {
      expect(
        readLensSpot(
          runWith('lensW', () => 0),
          8,
          quick,
        ),
      ).toBeNull()
      expect(
        readFaceSpot(
          runWith('faceW', () => 0),
          8,
          quick,
        ),
      ).toBeNull()
      expect(
        readWallSpot(
          runWith('wallW', () => 0),
          8,
          quick,
        ),
      ).toBeNull()
      expect(
        readWallSpot(
          runWith('lensW', () => 1, { wall: null }),
          8,
          quick,
        ),
      ).toBeNull()
      expect(
        readLensSpot(
          filledRun(smallShape(), () => {}),
          8,
          quick,
        ),
      ).toBeNull()
    }
  })
})

describe('a larger disc is the mean of what it covers', () => {
  test('even light, whatever the disc', () => {
    const spot = readLensSpot(
      runWith('lensW', () => 2, { rays: 64 }),
      26,
    )!
    expectWithin(spot.kWm2, 2 * CELL, { rel: 1e-12, because })
    expect(spot.discMm).toBe(26)
    const place = { column: (spot.xMm + 40) / 10, row: (spot.yMm + 40) / 10 }
    const area = findDiscCells(makeEvenGrid(8, 8, 10), place, 13).area.reduce((a, b) => a + b, 0)
    expectWithin(spot.se, 250 / area, { rel: 1e-12, because: '0.25 W over what of the disc lies on the lens' })
  })
  test('weighted by the area of each cell under it', () => {
    const weights = (cell: number) => 1 + ((cell * 37) % 11)
    const spot = readLensSpot(runWith('lensW', weights), 26)!
    const place = { column: (spot.xMm + 40) / 10, row: (spot.yMm + 40) / 10 }
    const { index, area } = findDiscCells(makeEvenGrid(8, 8, 10), place, 13)
    const sum = index.reduce((s, cell, i) => s + weights(cell) * area[i]!, 0)
    expectWithin(spot.kWm2, (CELL * sum) / area.reduce((a, b) => a + b, 0), { rel: 1e-12, because })
  })
})

describe('on the wall', () => {
  // Rows of 10 mm in z on a cone from radius 30 to 60: at z = 25 it is 41.25; the slope is 30/40.
  const lit = (row: number, column: number, over: Partial<Wall> = {}) =>
    readWallSpot(
      runWith('wallW', (cell) => (cell === row * 8 + column ? 3 : 0), { wall: { ...WALL, ...over } }),
      1,
    )!
  test('its place, and its watts over the cell’s true area', () => {
    const spot = lit(1, 6)
    const azimuth = (6.5 / 8) * 2 * Math.PI
    expectWithin(spot.zMm, 25, { abs: 1e-12, because })
    expectWithin(spot.xMm, 41.25 * Math.cos(azimuth), { abs: 1e-12, because })
    expectWithin(spot.yMm, 41.25 * Math.sin(azimuth), { abs: 1e-12, because })
    const area = ((41.25 * 2 * Math.PI) / 8) * 10 * 1.25
    expectWithin(spot.kWm2, (3 * 16 * 1000) / area, { rel: 1e-12, because })
    expectWithin(spot.se, (16 * 1000) / (16 * area), { rel: 1e-12, because: '1 W of 16 rays by sixteen batches' })
    expectWithin(spot.discMm, Math.sqrt((4 * area) / Math.PI), { rel: 1e-12, because })
    expectWithin(lit(3, 0).zMm, 45, { abs: 1e-12, because })
  })
  test('of a square tube: cells are wider towards the corners', () => {
    // Straight, 30 mm to its flats, the first towards +x. Column 6 from 270° to 315°: 30 mm; its middle at 292.5°, 22.5° from that of its flat.
    const spot = lit(1, 6, { sides: 4, outMm: 60 })
    const r = 30 / Math.cos(Math.PI / 8)
    expectWithin(Math.hypot(spot.xMm, spot.yMm), r, { rel: 1e-12, because })
    expectWithin(Math.atan2(spot.yMm, spot.xMm), (-67.5 * Math.PI) / 180, { abs: 1e-12, because })
    expectWithin(spot.kWm2, (3 * 16 * 1000) / (30 * 10), { rel: 1e-9, because })
    // Sixteen columns: the second of each eighth is wider, 30 (1 − tan 22.5°).
    const run = runWith('wallW', (cell) => (cell === 16 + 1 ? 3 : 0), {
      wall: { ...WALL, sides: 4, outMm: 60, nRound: 16 },
    })
    expectWithin(readWallSpot(run, 1)!.kWm2, (3 * 16 * 1000) / (30 * (1 - Math.tan(Math.PI / 8)) * 10), {
      rel: 1e-9,
      because,
    })
  })
  test('the brightest by area: the narrower of two alike', () => {
    const run = runWith('wallW', (cell) => (cell === 16 || cell === 17 ? 3 : 0), {
      wall: { ...WALL, sides: 4, outMm: 60, nRound: 16 },
    })
    expectWithin(readWallSpot(run, 1)!.kWm2, (3 * 16 * 1000) / (30 * Math.tan(Math.PI / 8) * 10), {
      rel: 1e-9,
      because,
    })
  })
  test('quick', () => {
    const run = runWith('wallW', (cell) => (cell === 14 ? 3 : 0))
    const whole = readWallSpot(run, 1)!
    expect(readWallSpot(run, 1, true)).toEqual({ ...whole, se: 2 * whole.se })
  })
})

test('upper end: 2.131 standard errors over it', () => {
  expectWithin(upperKWm2({ kWm2: 5, se: 2 }), 5 + 2 * T95, { abs: 1e-15, because })
})
