// Contrast of the pattern inside half of the field, and the notes on how the figures were read.
import { describe, expect, test } from 'vitest'
import { readBeam } from '../../src/beam/beam.ts'
import { thetaEdges, zoneSr } from '../../src/beam/profile.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { T95 } from '../../src/num/stats.ts'
import type { TallyShape } from '../../src/run/types.ts'
import { expectWithin } from '../kit/expect.ts'
import { filledRun, smallShape } from '../kit/handRun.ts'

const rounding = { rel: 1e-9, because: 'rounding' }
const gannet = gannetHead()

/** A profile of 1000 cd with a straight edge from 0.3 down to 0.5, or as given, under a window of its own. */
function beamOf(
  of: TallyShape,
  window: (row: number, column: number, b: number) => number,
  cd: (theta: number, b: number) => number = (theta) => 1000 * Math.min(1, Math.max(0, (0.5 - theta) / 0.2)),
) {
  const edges = thetaEdges(of)
  const cell = (2 * of.fineHalfRad) / of.windowN
  const run = filledRun(of, (t, l, b) => {
    t[l.axialLm] = (cd(0, b) * zoneSr(0, of.axialConeHalfRad)) / 16
    for (let j = 0; j < edges.length - 1; j++)
      t[l.profileLm + j] = (cd((edges[j]! + edges[j + 1]!) / 2, b) * zoneSr(edges[j]!, edges[j + 1]!)) / 16
    for (let i = 0; i < of.windowN ** 2; i++) {
      const [row, column] = [Math.floor(i / of.windowN), i % of.windowN]
      const theta = cell * Math.hypot(row + 0.5 - of.windowN / 2, column + 0.5 - of.windowN / 2)
      t[l.windowLm + i] = (window(row, column, b) * cell * cell * Math.sin(theta)) / theta / 16
    }
  })
  return readBeam(run, gannet)
}
/** Cells of 0.06, centres at 0.03, 0.09 …; a cone within one. */
const fine = smallShape({ fineHalfRad: 0.6, fineBins: 60, coarseBins: 10, windowN: 20, axialConeHalfRad: 0.004 })

describe('pattern: (max − min)/(max + min) inside half of the field', () => {
  // No cell is brighter than the peak of the profile, so that the field ends at 100 cd, 0.48: half of it is 0.24.
  const flat = (...spots: [number, number, number][]) =>
    beamOf(fine, (r, c) => spots.find(([row, column]) => row === r && column === c)?.[2] ?? 800).figures
      .patternContrast!
  test('the brightest and the darkest place', () => {
    // Cells (10, 12) and (8, 9): 0.153 and 0.095 from the axis.
    const { value, se } = flat([10, 12, 900], [8, 9, 300])
    expectWithin(value, 600 / 1200, rounding)
    // Batches alike: the darkest is known to one ray in the cone. 2a/(a + b)² of that.
    const oneRayCd = 4800 / 2 ** 40 / zoneSr(0, 0.004)
    expectWithin(se, ((2 * 900) / 1200 ** 2) * oneRayCd, rounding)
    expectWithin(flat().value, 0, { abs: 1e-12, because: 'even' })
  })
  test('what lies further out does not count', () => {
    // Column 13 and row 10: 0.212; column 14: 0.272. Mirrored likewise, and in rows.
    for (const [row, column] of [
      [10, 13],
      [10, 6],
      [13, 10],
      [6, 10],
    ] as const)
      expectWithin(flat([row, column, 300]).value, 500 / 1100, rounding)
    for (const [row, column] of [
      [10, 14],
      [10, 5],
      [14, 10],
      [5, 10],
      [12, 13],
    ] as const)
      expectWithin(flat([row, column, 300]).value, 0, { abs: 1e-12, because: 'even inside' })
  })
  test('its error, by leaving batches out', () => {
    const { figures } = beamOf(fine, (r, c, b) =>
      r === 10 && c === 12 ? 900 + (b % 2 ? 40 : -40) : r === 8 && c === 9 ? 300 + 2 * b : 800,
    )
    const most = Array.from({ length: 16 }, (_, b) => 900 + (b % 2 ? 40 : -40))
    const least = Array.from({ length: 16 }, (_, b) => 300 + 2 * b)
    const without = (list: number[], b: number) => (list.reduce((x, y) => x + y) - list[b]!) / 15
    const all = most.map((_, b) => {
      const [a, c] = [without(most, b), without(least, b)]
      return (a - c) / (a + c)
    })
    const mean = all.reduce((x, y) => x + y) / 16
    const se = Math.sqrt((15 / 16) * all.reduce((x, v) => x + (v - mean) ** 2, 0))
    // The same place in both halves: what they say of each other is what all batches say.
    expectWithin(figures.patternContrast!.value, (900 - 315) / (900 + 315), rounding)
    expectWithin(figures.patternContrast!.se, se, rounding)
  })
  describe('a map that slopes evenly: both places lie on the edge of the cone, to no side of the grid', () => {
    // A cone of 2.5 cells, so that the mean over it is the slope's value at its middle.
    const of = { ...fine, axialConeHalfRad: 0.15 }
    const middle = of.windowN / 2
    const cell = (2 * of.fineHalfRad) / of.windowN
    const sloping = (deg: number) => (row: number, column: number) => {
      const [x, y] = [(column + 0.5 - middle) * cell, (row + 0.5 - middle) * cell]
      const along = x * Math.cos((deg * Math.PI) / 180) + y * Math.sin((deg * Math.PI) / 180)
      return 800 + 1500 * along
    }
    const half = (beam: ReturnType<typeof beamOf>) => (beam.figures.fieldAngleDeg!.value * Math.PI) / 180 / 4
    test.each([0, 20, 45, 70, 100, 155, 250])('towards %i°', (deg) => {
      const beam = beamOf(of, sloping(deg))
      const because = 'the last step, an eighth of a cell, to the side'
      expectWithin(beam.figures.patternContrast!.value, (1500 * half(beam)) / 800, { rel: 3e-3, because })
    })
    test('± of the field angle moves that edge', () => {
      const ends = (theta: number, b: number) =>
        1000 * Math.min(1, Math.max(0, (0.5 + (b % 2 ? 0.01 : -0.01) - theta) / 0.2))
      const beam = beamOf(of, sloping(100), ends)
      const { value, se } = beam.figures.fieldAngleDeg!
      expect(se / value).toBeGreaterThan(1e-3)
      const moves = ((1500 * half(beam)) / 800) * (se / value)
      expectWithin(beam.figures.patternContrast!.se, moves, {
        rel: 0.25,
        because: 'cells and strips: the mean over a disc is no straight line',
      })
    })
  })
  test('a dark window has none; what noise alone makes is within its error', () => {
    const dark = beamOf(fine, () => 0).figures.patternContrast!
    expect([dark.value, dark.se]).toEqual([0, 0])
    // The brightest place of the even batches is dark in the odd ones, and the other way about.
    const noisy = beamOf(fine, (r, c, b) =>
      r === 10 && c === 12 ? (b % 2 ? 100 : 850) : r === 8 && c === 9 ? (b % 2 ? 850 : 100) : 800,
    )
    // By all batches 475 against 800: a third of the way from none, and half of it as ±.
    const own = (800 - 475) / (800 + 475)
    expectWithin(noisy.figures.patternContrast!.value, own / 3, rounding)
    expect(noisy.figures.patternContrast!.se * T95).toBeGreaterThan(own / 2)
  })
  test('a field narrower than the cells: the four in the middle', () => {
    // Cells of 0.3 and a field that ends at 0.096.
    const of = smallShape({ fineHalfRad: 0.6, fineBins: 60, coarseBins: 10, windowN: 4, axialConeHalfRad: 0.004 })
    const narrow = (theta: number) => 1000 * Math.min(1, Math.max(0, (0.1 - theta) / 0.04))
    const window = (r: number, c: number) => (r === 1 && c === 2 ? 600 : r === 3 ? 0 : 400)
    expectWithin(beamOf(of, window, narrow).figures.patternContrast!.value, 0.2, rounding)
  })
  test('a field wider than twice the window', () => {
    const of = smallShape({ fineHalfRad: 0.6, fineBins: 60, coarseBins: 1000, windowN: 4, axialConeHalfRad: 0.001 })
    const to = (end: number) =>
      beamOf(
        of,
        () => 1000,
        (theta) => (theta < end ? 1000 : 0),
      )
    const { absent, figures } = to(1.3)
    expect(figures.patternContrast).toBeUndefined()
    expect(absent.patternContrast).toBe('The field is wider than the map over direction near the axis.')
    expectWithin(to(1.1).figures.patternContrast!.value, 0, { abs: 1e-12, because: 'even' })
  })
})

describe('notes', () => {
  const notes = (over: Partial<TallyShape>) => beamOf(smallShape(over), () => 1).notes
  // Bins of 0.1 and cells of 0.2 rad.
  const bins = 'Off the axis the profile is a mean over bins of 5.73°, which are wider than that cone.'
  const cells = 'The map over direction has cells of 11.5°, wider than that cone.'
  const wide = 'The cone is as wide as the beam: peak and angles are smoothed by it.'
  const cone = (deg: string) => `Intensities are means over a cone of ${deg}° half angle.`
  test.each<[number, string, string[]]>([
    [0.02, '1.15', [bins, cells]],
    [0.05, '2.86', [cells]],
    [0.07, '4.01', [cells]],
    [0.1, '5.73', []],
    [0.15, '8.59', []],
    [0.2, '11.5', []],
    [0.25, '14.3', [wide]],
  ])('a cone of %d rad', (axialConeHalfRad, deg, others) => {
    expect(notes({ axialConeHalfRad })).toEqual([cone(deg), ...others])
  })
})
