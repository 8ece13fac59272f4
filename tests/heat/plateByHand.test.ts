// Plates of few cells, where areas, conductances and shares are counted by hand.
import { describe, expect, test } from 'vitest'
import { makePlate, type PlateBoard, sitesOf } from '../../src/heat/plate.ts'
import type { FaceSize } from '../../src/lamp/facePlate.ts'
import { expectWithin } from '../kit/expect.ts'

const rounding = { rel: 1e-9, because: 'rounding' }
/** 2 mm of 250 W/mK: 0.5 W/K between two square cells. */
const metal = { thicknessM: 0.002, conductivityWmK: 250, densityKgM3: 2000, heatJkgK: 900 }
const SHEET = 0.5
const plateOf = (shape: FaceSize['shape'], sizeMm: number, cellMm: number, boards: PlateBoard[] = []) =>
  makePlate({ ...metal, face: { shape, sizeMm } }, boards, cellMm)
const rectangle = (widthMm: number, heightMm: number, xMm: number, yMm: number, turnDeg = 0): PlateBoard => ({
  outline: { shape: 'rectangle', widthMm, heightMm },
  ...{ xMm, yMm, turnDeg },
  sites: [{ xMm, yMm }],
})
type Patch = ReturnType<typeof makePlate>['boards'][number]
/** Shares by cell; none twice. */
const sharesOf = (patch: Patch | undefined): Map<number, number> => {
  const map = new Map<number, number>()
  for (const [i, cell] of (patch?.cells ?? []).entries()) map.set(cell, patch?.shares[i] ?? 0)
  expect(map.size).toBe(patch?.cells.length)
  return map
}
const expectShares = (patch: Patch | undefined, expected: Record<number, number>) => {
  const map = sharesOf(patch)
  expect([...map.keys()].sort((a, b) => a - b)).toEqual(Object.keys(expected).map(Number))
  for (const [cell, share] of map) expectWithin(share, expected[cell] ?? Number.NaN, rounding)
}
/** The plate's outflow where one cell is 1 K and the others 0. */
const unitOutflow = (plate: ReturnType<typeof makePlate>, cell: number) => {
  const x = new Float64Array(plate.areaM2.length)
  x[cell] = 1
  return [...plate.outflow(x)]
}

describe('the grid', () => {
  test('as many cells as cover the face, two each way at least, its middle in the middle', () => {
    const plate = plateOf('square', 30, 10)
    expect([plate.columns, plate.rows, plate.fromXMm, plate.fromYMm]).toEqual([3, 3, -15, -15])
    const wide = plateOf('square', 25, 10)
    expect([wide.columns, wide.rows, wide.fromXMm]).toEqual([3, 3, -15])
    const few = plateOf('square', 10, 10)
    expect([few.columns, few.rows, few.fromXMm, few.cellMm]).toEqual([2, 2, -10, 10])
    const hexagon = plateOf('hexagon', 30, 10)
    expect([hexagon.columns, hexagon.rows, hexagon.fromXMm, hexagon.fromYMm]).toEqual([3, 4, -15, -20])
  })
  test('numbered row by row from low y; 1 cm² each; what 1 m² of it stores: 2 mm · 2000 · 900', () => {
    const plate = plateOf('square', 30, 10)
    expect([...plate.cellAt]).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8])
    for (const a of plate.areaM2) expectWithin(a, 1e-4, rounding)
    expectWithin(plate.totalM2, 9e-4, rounding)
    expectWithin(plate.storedJm2K, 3600, rounding)
  })
  test('a cut cell has its own area: 25 mm leave 6 of 8 points each way', () => {
    const plate = plateOf('square', 25, 10)
    const [corner, side, middle] = [0.5625e-4, 0.75e-4, 1e-4]
    const expected = [corner, side, corner, side, middle, side, corner, side, corner]
    for (const [i, a] of expected.entries()) expectWithin(plate.areaM2[i] ?? 0, a, rounding)
  })
  test('a cell of which an eighth lies on the face counts (round, 65 mm: 8 of 64 points), a smaller one not (51 mm: 7)', () => {
    expect(plateOf('round', 65, 10).areaM2).toHaveLength(49 - 4)
    const less = plateOf('round', 51, 10)
    expect(less.areaM2).toHaveLength(36 - 4 - 8)
    expect([...less.cellAt.slice(0, 6)]).toEqual([-1, -1, 0, 1, -1, -1])
  })
})

describe('conductances', () => {
  test('k t between neighbours, none over a square’s rim nor from one row’s end to the next', () => {
    const plate = plateOf('square', 30, 10)
    const s = SHEET
    const expected = [
      [2 * s, -s, 0, -s, 0, 0, 0, 0, 0],
      [0, 0, -s, 0, -s, 3 * s, 0, 0, -s],
      [0, -s, 0, -s, 4 * s, -s, 0, -s, 0],
    ]
    for (const [k, cell] of [0, 5, 4].entries()) {
      for (const [i, w] of unitOutflow(plate, cell).entries())
        expectWithin(w, expected[k]?.[i] ?? 0, { abs: 1e-12, because: 'rounding' })
    }
  })
  test('a cut edge by its open share: round, 40 mm, at x = −10 the face begins at y = −√300, 12 of 16 points', () => {
    const plate = plateOf('round', 40, 10)
    expect(plate.areaM2).toHaveLength(16)
    const corner = unitOutflow(plate, 0)
    expectWithin(corner[0] ?? 0, 1.5 * SHEET, rounding)
    expectWithin(corner[1] ?? 0, -0.75 * SHEET, rounding)
    expectWithin(corner[4] ?? 0, -0.75 * SHEET, rounding)
  })
  test('cells that were dropped conduct nothing: round, 51 mm, an even plate is at rest, each row’s ends alike', () => {
    const plate = plateOf('round', 51, 10)
    const n = plate.areaM2.length
    for (const w of plate.outflow(new Float64Array(n).fill(7))) expectWithin(w, 0, { abs: 1e-12, because: 'rounding' })
    // The lowest row has two cells; the next one four, from cell 2 on.
    const [low, high] = [unitOutflow(plate, 0), unitOutflow(plate, n - 1).reverse()]
    for (const [i, w] of low.entries()) expectWithin(high[i] ?? 0, w, { abs: 1e-12, because: 'a half turn' })
    // Between the two the face begins at y = −25.5 mm of −30 to −20: 9 of 16 points.
    expectWithin(low[1] ?? 0, (-9 / 16) * SHEET, rounding)
    expectWithin(low[3] ?? 0, -SHEET, rounding)
    expect([low[2], low[4]]).toEqual([0, 0])
  })
})

describe('the solver', () => {
  test('2 × 2 cells, heat 3, 1, 1, −1 W: even, left to right and bottom to top apart, at s A, s A + 2 k t and s A + 2 k t', () => {
    const plate = plateOf('square', 20, 10)
    const film = 1e-4 * 1000
    const x = Float64Array.of(3, 1, 1, -1)
    plate.solve(1000, x)
    // Mean 1 W; columns differ by ±1 and rows by ±1.
    const [even, slope] = [1 / film, 1 / (film + 2 * SHEET)]
    const expected = [even + 2 * slope, even, even, even - 2 * slope]
    for (const [i, k] of expected.entries()) expectWithin(x[i] ?? 0, k, rounding)
  })
  test('each film has its own factor, kept or not: the same answers after sixty others', () => {
    const plate = plateOf('square', 20, 10)
    const warm = (film: number) => {
      const x = new Float64Array(4).fill(1)
      plate.solve(film, x)
      return x[0] ?? 0
    }
    for (let i = 1; i <= 60; i++) expectWithin(warm(i), 1 / (i * 1e-4), rounding)
    for (const i of [1, 30, 60]) expectWithin(warm(i), 1 / (i * 1e-4), rounding)
  })
  test('without a film to the air there is no answer', () => {
    expect(() => plateOf('square', 20, 10).solve(0, new Float64Array(4))).toThrow(/positive definite/)
  })
})

describe('where a board’s heat enters', () => {
  test('cells of 10 mm: 15 × 10 mm from the middle to the right, two thirds in the first', () => {
    // 4 × 4 cells from −20; x from 0 to 15, y from 0 to 10: cells 10 and 11.
    const plate = plateOf('square', 40, 10, [rectangle(15, 10, 7.5, 5), rectangle(10, 15, 5, -7.5)])
    expectShares(plate.boards[0], { 10: 2 / 3, 11: 1 / 3 })
    expectShares(plate.boards[1], { 2: 1 / 3, 6: 2 / 3 })
  })
  test('cells of 2 mm, of 16 mm: the whole board, wherever it is', () => {
    // 10 × 10 cells of 2 mm from −10: x −10 to −8, y 6 to 10, then the opposite corner.
    const small = plateOf('square', 20, 2, [rectangle(2, 4, -9, 8), rectangle(2, 4, 9, -8)])
    expectShares(small.boards[0], { 80: 0.5, 90: 0.5 })
    expectShares(small.boards[1], { 9: 0.5, 19: 0.5 })
    // x 2 to 6, y −4 to 2: columns 6 and 7 of rows 3 to 5.
    const inside = plateOf('square', 20, 2, [rectangle(4, 6, 4, -1)])
    const sixth = Object.fromEntries([36, 37, 46, 47, 56, 57].map((cell) => [cell, 1 / 6]))
    expectShares(inside.boards[0], sixth)
    // 4 × 4 cells of 16 mm from −32.
    const large = plateOf('square', 64, 16, [rectangle(32, 16, 16, 24), rectangle(16, 32, -24, -16)])
    expectShares(large.boards[0], { 14: 0.5, 15: 0.5 })
    expectShares(large.boards[1], { 0: 0.5, 4: 0.5 })
  })
  test('turned by 90° about its middle', () => {
    const plate = plateOf('square', 40, 10, [rectangle(20, 10, 5, 0, 90)])
    expectShares(plate.boards[0], { 6: 0.5, 10: 0.5 })
  })
  test('turned by 30°: its moments ⟨x²⟩ = (w² cos² + h² sin²)/12 and ⟨xy⟩ = (w² − h²) sin 60°/24, cells add their own', () => {
    const plate = plateOf('square', 28, 1, [rectangle(24, 8, 0, 0, 30)])
    let [xx, xy, yy] = [1 / 12, 0, 1 / 12]
    for (const [cell, share] of sharesOf(plate.boards[0])) {
      const [x, y] = [(cell % 28) - 13.5, Math.floor(cell / 28) - 13.5]
      xx += share * x * x
      xy += share * x * y
      yy += share * y * y
    }
    const tolerance = { rel: 0.01, because: 'a cut cell’s heat is taken about the middle of the whole cell' }
    expectWithin(xx, (576 * 0.75 + 64 * 0.25) / 12, tolerance)
    expectWithin(yy, (576 * 0.25 + 64 * 0.75) / 12, tolerance)
    expectWithin(xy, ((576 - 64) * Math.sin(Math.PI / 3)) / 24, tolerance)
  })
  test('what hangs over an edge enters the rest: nothing comes back on the other side', () => {
    // 4 × 4 cells of 10 mm: over the left edge at row 1, the right edge at row 2, the bottom and the top.
    const plate = plateOf('square', 40, 10, [
      ...[rectangle(20, 10, -20, -5), rectangle(20, 10, 20, 5)],
      ...[rectangle(10, 20, -5, -20), rectangle(10, 20, 5, 20)],
    ])
    expectShares(plate.boards[0], { 4: 1 })
    expectShares(plate.boards[1], { 11: 1 })
    expectShares(plate.boards[2], { 1: 1 })
    expectShares(plate.boards[3], { 14: 1 })
  })
  test('a board between the counting points enters about its middle, bilinear', () => {
    // Middles at ±5: a quarter of the way to the right, none up.
    const plate = plateOf('square', 20, 10, [rectangle(0.1, 0.1, -2.5, -5)])
    expectShares(plate.boards[0], { 0: 0.75, 1: 0.25 })
  })
  test('what lies over a cell that was dropped enters the rest: round, 51 mm, the lowest row has two cells', () => {
    const plate = plateOf('round', 51, 10, [rectangle(20, 10, -10, -25)])
    expectShares(plate.boards[0], { 0: 1 })
  })
  test('a board beside the plate enters the nearest cell that is there', () => {
    const plate = plateOf('round', 60, 10, [rectangle(5, 5, -100, -100), rectangle(5, 5, 80, 18)])
    expect(plate.areaM2).toHaveLength(32)
    // Rows of 4, 6, 6, 6, 6 and 4 cells: from the corner at −30 the nearest middles are (−15, −25) and (−25, −15), equally far.
    const [corner] = plate.boards[0]?.cells ?? []
    expect([0, 4]).toContain(corner)
    expectShares(plate.boards[0], { [corner ?? -1]: 1 })
    expectShares(plate.boards[1], { 27: 1 })
  })
})

describe('an emitter’s place', () => {
  const site = (xMm: number, yMm: number) => {
    const board = { ...rectangle(5, 5, 0, 0), sites: [{ xMm, yMm }] }
    return plateOf('square', 40, 10, [board]).sites[0]?.[0]
  }
  test('bilinear between four middles: 0.2 to the right, 0.3 up', () => {
    // Middles of cells 5, 6, 9 and 10 at ±5.
    expectShares(site(-3, -2), { 5: 0.56, 6: 0.14, 9: 0.24, 10: 0.06 })
  })
  test('on a middle: that cell alone; on a line of middles: two', () => {
    expectShares(site(-15, -15), { 0: 1 })
    expectShares(site(-5, 5), { 9: 1 })
    expectShares(site(-5, 0), { 5: 0.5, 9: 0.5 })
  })
  test('beyond the outer middles only cells of the same edge count', () => {
    expectShares(site(-18, -2), { 4: 0.7, 8: 0.3 })
    expectShares(site(18, -2), { 7: 0.7, 11: 0.3 })
    expectShares(site(-2, -18), { 1: 0.7, 2: 0.3 })
    expectShares(site(-2, 18), { 13: 0.7, 14: 0.3 })
    expectShares(site(-18, -18), { 0: 1 })
  })
  test('a cell that was dropped has no share: round, 51 mm, the lowest row has but two of six', () => {
    const board = { ...rectangle(5, 5, 0, 0), sites: [{ xMm: -8, yMm: -25 }] }
    expectShares(plateOf('round', 51, 10, [board]).sites[0]?.[0], { 0: 1 })
  })
  test('beside the plate: the nearest cell', () => {
    expectShares(site(-60, -60), { 0: 1 })
    expectShares(site(-60, 4), { 8: 1 })
    expectShares(site(60, -18), { 3: 1 })
    expectShares(site(4, 70), { 14: 1 })
  })
  test('places of a board’s emitters in the lamp’s frame: turned by 90°, x goes to y and y to −x', () => {
    const type = {
      ...{ id: 'b', name: '', outline: rectangle(30, 30, 0, 0).outline, emitter: 'e' },
      sites: [
        { xMm: 3, yMm: 0 },
        { xMm: 0, yMm: 2 },
      ],
    }
    const [a, b] = sitesOf(type, { xMm: 10, yMm: 20, turnDeg: 90 })
    for (const [at, x, y] of [
      [a, 10, 23],
      [b, 8, 20],
    ] as const) {
      expectWithin(at?.xMm ?? 0, x, rounding)
      expectWithin(at?.yMm ?? 0, y, rounding)
    }
  })
})
