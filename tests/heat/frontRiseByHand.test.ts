// The front's excess on plates of few cells, where each mode is one or two equations.
import { describe, expect, test } from 'vitest'
import { type FrontRise, makeFrontRise } from '../../src/heat/frontRise.ts'
import { makePlate, type Plate, type PlateBoard, type PlateSize } from '../../src/heat/plate.ts'
import { expectWithin } from '../kit/expect.ts'

const rounding = { rel: 1e-9, because: 'rounding' }
const [T, K] = [0.03, 200]
const sizeOf = (sizeMm: number): PlateSize => ({
  face: { shape: 'square', sizeMm },
  ...{ thicknessM: T, conductivityWmK: K, densityKgM3: 2700, heatJkgK: 900 },
})
const rectangle = (widthMm: number, heightMm: number, xMm: number, yMm: number, sites = [[xMm, yMm]]): PlateBoard => ({
  outline: { shape: 'rectangle', widthMm, heightMm },
  ...{ xMm, yMm, turnDeg: 0 },
  sites: sites.map(([x = 0, y = 0]) => ({ xMm: x, yMm: y })),
})
const riseOf = (sizeMm: number, cellMm: number, boards: PlateBoard[], leastMm: number) => {
  const plate = makePlate(sizeOf(sizeMm), boards, cellMm)
  return { plate, rise: makeFrontRise(sizeOf(sizeMm), plate, boards, leastMm) }
}
/** Mean and hottest of a field at the emitters of a board. */
const readAt = (plate: Plate, board: number, field: Float64Array) => {
  const values = (plate.sites[board] ?? []).map(({ cells, shares }) =>
    [...cells].reduce((sum, cell, i) => sum + (shares[i] ?? 0) * (field[cell] ?? 0), 0),
  )
  return { mean: values.reduce((a, b) => a + b, 0) / values.length, hot: Math.max(...values) }
}

describe('two by two cells of 20 mm, the left two under a board', () => {
  // Each mode n: film f = k n²π²/t on cells of 4 cm²; half of the heat is even, half differs from left to right, where it also flows k t.
  const [cell, sheet] = [4e-4, K * T]
  const modes = [1, 2, 3].map((n) => ({ film: (K * (n * Math.PI) ** 2) / T, left: 1 / n ** 2 }))
  const byHand = (side: 1 | -1) => {
    let sum = 0
    let rest = Math.PI ** 2 / 6
    for (const { film, left } of modes) {
      sum += 2 * (0.25 / (film * cell) + (side * 0.25) / (film * cell + 2 * sheet))
      rest -= left
    }
    // What is left of Σ 1/n² stays where its heat is; heat that leaves by the back adds t/6kA everywhere.
    const tail = side > 0 ? ((2 * rest * T) / (Math.PI ** 2 * K)) * (0.5 / cell) : 0
    return sum + tail + T / (6 * K * 4 * cell)
  }
  test('three modes that spread, the rest where its heat is, and the back’s t/6kA', () => {
    const { rise } = riseOf(40, 20, [rectangle(20, 40, -10, 0)], 1000)
    const expected = [byHand(1), byHand(-1), byHand(1), byHand(-1)]
    expect(rise.faceKW).toHaveLength(1)
    for (const [i, kW] of expected.entries()) expectWithin(rise.faceKW[0]?.[i] ?? 0, kW, rounding)
  })
  test('emitters on both cells: the mean of the two, and the hotter one', () => {
    const sites = [
      [-10, -10],
      [10, -10],
      [10, 10],
    ]
    const { rise } = riseOf(40, 20, [rectangle(20, 40, -10, 0, sites)], 1000)
    expectWithin(rise.meanKW[0] ?? 0, (byHand(1) + 2 * byHand(-1)) / 3, rounding)
    expectWithin(rise.hotKW[0] ?? 0, byHand(1), rounding)
  })
  test('a board without emitters: nothing', () => {
    const { rise } = riseOf(40, 20, [rectangle(20, 40, -10, 0, [])], 1000)
    expect([rise.meanKW[0], rise.hotKW[0]]).toEqual([0, 0])
  })
  test('row: whose emitters, column: whose heat', () => {
    // One board on the left half; one on all of the plate with its emitter on the right: even heat lifts all by t/2kA.
    const { rise } = riseOf(40, 20, [rectangle(20, 40, -10, 0), rectangle(40, 40, 0, 0, [[10, 10]])], 1000)
    const even = T / (2 * K * 4 * cell)
    for (const matrix of [rise.meanKW, rise.hotKW]) {
      const expected = [byHand(1), even, byHand(-1), even]
      expect(matrix).toHaveLength(4)
      for (const [i, kW] of expected.entries()) expectWithin(matrix[i] ?? 0, kW, rounding)
    }
  })
})

describe('what coarse cells smear out', () => {
  /** What the window adds for a board's own heat at its own emitters. */
  const smeared = (plate: Plate, rise: FrontRise, board: number, n: number) => {
    const read = readAt(plate, board, rise.faceKW[board] ?? new Float64Array())
    const at = board * n + board
    return { mean: (rise.meanKW[at] ?? 0) - read.mean, hot: (rise.hotKW[at] ?? 0) - read.hot }
  }
  /** K/W of the whole: the plate's field under a film of 20 W/m²K, and its front, at board 0's emitters. */
  const whole = (plate: Plate, rise: FrontRise) => {
    const field = new Float64Array(plate.areaM2.length)
    for (const [i, cell] of (plate.boards[0]?.cells ?? []).entries()) field[cell] = plate.boards[0]?.shares[i] ?? 0
    plate.solve(20, field)
    return readAt(
      plate,
      0,
      field.map((v, i) => v + (rise.faceKW[0]?.[i] ?? 0)),
    )
  }
  const sites = [
    [0, 0],
    [3, 1],
  ]
  test('a plate as large as the window, seven cells: as if all of it had cells of a third', () => {
    // 5 cells across the 18 mm of the board: 5 · 10/18 = 2.8, so each cell is split in 3.
    const boards = [
      rectangle(
        18,
        20,
        1,
        3,
        sites.map(([a = 0, b = 0]) => [1 + a, 3 + b]),
      ),
    ]
    const { plate, rise } = riseOf(70, 10, boards, 18)
    const fine = riseOf(70, 10 / 3, boards, 1000)
    const [rough, exact] = [whole(plate, rise), whole(fine.plate, fine.rise)]
    const added = smeared(plate, rise, 0, 1)
    expect(added.hot).toBeGreaterThan(1e-4)
    expectWithin(rough.hot + added.hot, exact.hot, rounding)
    expectWithin(rough.mean + added.mean, exact.mean, rounding)
  })
  test('a window is laid as the board lies in its own cell: the same at (1, 3) of the middle and at (31, −17)', () => {
    const at = (x: number, y: number) =>
      rectangle(
        12,
        9,
        x,
        y,
        sites.map(([a = 0, b = 0]) => [x + a, y + b]),
      )
    const middle = riseOf(70, 10, [at(1, 3)], 25)
    const aside = riseOf(130, 10, [at(0, 0), at(31, -17)], 25)
    const [a, b] = [smeared(middle.plate, middle.rise, 0, 1), smeared(aside.plate, aside.rise, 1, 2)]
    expect(a.mean).toBeGreaterThan(0)
    expectWithin(b.mean, a.mean, { rel: 1e-6, because: 'a difference of larger figures' })
    expectWithin(b.hot, a.hot, { rel: 1e-6, because: 'a difference of larger figures' })
    // Only at a board’s own emitters: the heat of board 0 at board 1, which has a window of its own.
    const other = readAt(aside.plate, 1, aside.rise.faceKW[0] ?? new Float64Array())
    expectWithin(aside.rise.meanKW[2] ?? 0, other.mean, rounding)
    expectWithin(aside.rise.hotKW[2] ?? 0, other.hot, rounding)
  })
  test('five cells across the smallest board are enough: nothing is added', () => {
    const { plate, rise } = riseOf(70, 10, [rectangle(12, 9, 1, 3)], 50)
    expectWithin(smeared(plate, rise, 0, 1).hot, 0, { abs: 1e-15, because: 'rounding' })
    const split = riseOf(70, 10, [rectangle(12, 9, 1, 3)], 49.9)
    expect(smeared(split.plate, split.rise, 0, 1).hot).toBeGreaterThan(1e-4)
  })
  test('an emitter that coarse cells take as hotter than it is keeps that: the hotter side', () => {
    // 3 mm beside a board of 4 mm; between the middles of two coarse cells it has half of the board’s excess.
    const { plate, rise } = riseOf(70, 10, [rectangle(4, 4, 0, 0, [[5, 0]])], 20)
    const added = smeared(plate, rise, 0, 1)
    expectWithin(added.mean, 0, { abs: 1e-15, because: 'rounding' })
    expectWithin(added.hot, 0, { abs: 1e-15, because: 'rounding' })
  })
})
