import { describe, expect, test } from 'vitest'
import { readFaceSpot, readLensSpot, readWallSpot } from '../../src/hazard/discs.ts'
import { findDisc, findDiscCells, makeEvenGrid, meanOver } from '../../src/num/gridDisc.ts'
import type { TallyShape } from '../../src/run/types.ts'
import { wallGrid } from '../../src/run/wall.ts'
import { amount } from '../kit/amount.ts'
import { expectWithin, seeds } from '../kit/expect.ts'
import { drawnRun, onDisc } from '../kit/handRun.ts'

describe('disc on a grid', () => {
  test('covers its own area, and covered cells by what is covered', () => {
    const cells = findDiscCells(makeEvenGrid(50, 50, 2), { column: 20.3, row: 31.7 }, 11, 200)
    expectWithin(
      cells.area.reduce((a, b) => a + b, 0),
      Math.PI * 121,
      { rel: 2e-3, because: 'strips' },
    )
    const middle = cells.index.indexOf(31 * 50 + 20)
    expectWithin(cells.area[middle]!, 4, { abs: 1e-9, because: 'a whole cell' })
  })
  test('a small disc is its cell; a disc over the edge is the part that lies on the grid', () => {
    expect(findDiscCells(makeEvenGrid(4, 4, 10), { column: 1.2, row: 2.9 }, 3)).toEqual({ index: [9], area: [100] })
    const edge = findDiscCells(makeEvenGrid(20, 20, 1), { column: 0, row: 10 }, 4, 200)
    expectWithin(
      edge.area.reduce((a, b) => a + b, 0),
      (Math.PI * 16) / 2,
      { rel: 5e-3, because: 'half a disc' },
    )
  })
  test('goes round where columns close', () => {
    const grid = { ...makeEvenGrid(40, 10, 1), wraps: true }
    const density = new Float64Array(400)
    density[5 * 40] = 1
    density[5 * 40 + 39] = 1
    const found = findDisc(grid, density, 1.2)
    expectWithin(meanOver(findDiscCells(grid, found, 1.2), density), 2 / (Math.PI * 1.44), {
      rel: 0.05,
      because: 'strips',
    })
    expectWithin(((found.column + 20) % 40) - 20, 0, { abs: 0.4, because: 'between the last and the first column' })
  })
  test.each(seeds(amount(2, 5)))('finds a planted blob in a noisy map, seed %i', (seed) => {
    const at = { column: 20 + ((seed * 37) % 200), row: 20 + ((seed * 71) % 200) }
    const density = new Float64Array(256 * 256)
    for (let i = 0; i < density.length; i++) {
      const off = Math.hypot((i % 256) + 0.5 - at.column, Math.floor(i / 256) + 0.5 - at.row)
      density[i] = 1 + 0.3 * Math.sin(i * 12.9898 * seed) + (off < 2.5 ? 3 : 0)
    }
    const found = findDisc(makeEvenGrid(256, 256, 2.2), density, 5)
    expectWithin(Math.hypot(found.column - at.column, found.row - at.row), 0, { abs: 1, because: 'a cell' })
  })
})

const lens = { n: 256, halfMm: 280, zMm: 1050 }

describe('hot spot on the lens', () => {
  test.each(seeds(amount(2, 6)))('a quick search finds it too, and its ± covers what is there, seed %i', (seed) => {
    const run = drawnRun({
      rays: 60_000,
      seed,
      emittedLm: 30_000,
      shape: { lens },
      draw: (u) => {
        if (u(2) >= 0.1) return { fate: 'lensAbsorbed', lensAt: onDisc(u(0), u(1), 280) }
        const [x, y] = onDisc(u(0), u(1), 5)
        return { fate: 'lensAbsorbed', lensAt: [x + 100, y - 40] }
      },
    })
    const spot = readLensSpot(run, 10, true)!
    expectWithin(Math.hypot(spot.xMm - 100, spot.yMm + 40), 0, { abs: 2.5, because: 'a cell' })
    // A tenth of 100 W on a disc of 10 mm, read over cells of 2.2 mm; and what the rest adds there.
    const kWm2 = (10 / (Math.PI * 25) + 90 / (Math.PI * 280 ** 2)) * 1000
    expect(spot.kWm2 + 2.131 * spot.se).toBeGreaterThan(0.85 * kWm2)
    expect(spot.kWm2).toBeLessThan(kWm2 + 4 * spot.se)
    expect(spot.se).toBeGreaterThan(0)
  })
  test('a disc of known watts at a known place', () => {
    const run = drawnRun({
      rays: 80_000,
      emittedLm: 30_000,
      shape: { lens },
      draw: (u) => {
        if (u(2) >= 0.1) return { fate: 'lensAbsorbed', lensAt: onDisc(u(0), u(1), 280) }
        const [x, y] = onDisc(u(0), u(1), 5)
        return { fate: 'lensAbsorbed', lensAt: [x + 100, y - 40] }
      },
    })
    const spot = readLensSpot(run, 10)!
    expectWithin(spot.xMm, 100, { abs: 1.1, because: 'half a cell' })
    expectWithin(spot.yMm, -40, { abs: 1.1, because: 'half a cell' })
    // The edge of the spot is smeared over cells of 2.2 mm.
    expectWithin(spot.kWm2, (10 / (Math.PI * 25)) * 1000, {
      rel: 0.18,
      because: 'cells of 2.2 mm at the rim of the spot',
    })
    expect([spot.zMm, spot.discMm]).toEqual([1050, 10])
  })
  test('an even lens is as hot as its mean, whatever the noise', () => {
    const run = drawnRun({
      rays: 60_000,
      emittedLm: 30_000,
      shape: { lens },
      draw: (u) => ({ fate: 'lensAbsorbed', lensAt: onDisc(u(0), u(1), 280) }),
    })
    const spot = readLensSpot(run, 10)!
    const mean = (100 / (Math.PI * 280 * 280)) * 1000
    expectWithin(spot.kWm2, mean, { sigmas: 4, se: spot.se })
    expect(spot.se).toBeGreaterThan(0.02 * mean)
  })
  test('no lens or no light: no spot', () => {
    expect(readLensSpot(drawnRun({ rays: 16, draw: () => ({ fate: 'wall' }) }), 10)).toBeNull()
    expect(readFaceSpot(drawnRun({ rays: 16, draw: () => ({ fate: 'wall' }) }), 10)).toBeNull()
  })
})

describe('hot spot on the wall', () => {
  const wall = (sides: number): TallyShape['wall'] => ({
    nAlong: 256,
    nRound: 256,
    zInMm: 14,
    zOutMm: 1040,
    inMm: 200,
    outMm: 560,
    sides,
  })
  test('cells of a cone and of a prism add up to the true wall', () => {
    for (const [sides, half] of [
      [0, Math.PI],
      [6, 6 * Math.tan(Math.PI / 6)],
    ] as const) {
      const grid = wallGrid(wall(sides)!)
      let area = 0
      for (const w of grid.widths) for (const s of grid.shares!) area += w * s * grid.rowSize
      // Frustum: (perimeter in + perimeter out) / 2 × slant height; a perimeter is 2 · half · (size / 2).
      expectWithin(area, half * (100 + 280) * Math.hypot(1026, 180), { rel: 1e-9, because: 'geometry' })
    }
  })
  test('a spot across azimuth 0 at a known height', () => {
    const z = 700
    const r = 100 + (180 * (z - 14)) / 1026
    const run = drawnRun({
      rays: 80_000,
      emittedLm: 30_000,
      shape: { wall: wall(0) },
      draw: (u) => {
        if (u(2) >= 0.1) return { fate: 'wall', wallAt: [14 + 1026 * u(0), 2 * Math.PI * u(1)] }
        const [along, round] = onDisc(u(0), u(1), 10)
        return { fate: 'wall', wallAt: [z + along / Math.hypot(1, 180 / 1026), round / r] }
      },
    })
    const spot = readWallSpot(run, 20)!
    expectWithin(spot.zMm, z, { abs: 4, because: 'a cell' })
    expectWithin(spot.xMm, r, { abs: 3, because: 'on +x' })
    expectWithin(spot.yMm, 0, { abs: 4, because: 'on +x' })
    expectWithin(spot.kWm2, (10 / (Math.PI * 100)) * 1000, { rel: 0.2, because: 'cells of 4 × 6 mm at the rim' })
  })
})
