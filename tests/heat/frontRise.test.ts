// The front over the plate's own field, against closed forms of a disc on a plate.
import { describe, expect, test } from 'vitest'
import { makeFrontRise } from '../../src/heat/frontRise.ts'
import { makePlate } from '../../src/heat/plate.ts'
import { spreadingResistance } from '../../src/heat/spreading.ts'
import { expectWithin } from '../kit/expect.ts'

/** I₁ by its series, K₁ by its integral (Abramowitz and Stegun, 9.6.10 and 9.6.24). */
function i1(x: number): number {
  let [term, sum] = [x / 2, 0]
  for (let n = 1; n < 40; n++) {
    sum += term
    term *= (x * x) / 4 / (n * (n + 1))
  }
  return sum
}
function k1(x: number): number {
  let sum = 0
  for (let t = 0.0005; t < 20; t += 0.001) sum += Math.exp(-x * Math.cosh(t)) * Math.cosh(t) * 0.001
  return sum
}

const disc = (diameterMm: number, xMm = 0, yMm = 0) => ({
  ...{ outline: { shape: 'disc' as const, diameterMm }, xMm, yMm, turnDeg: 0 },
  sites: [{ xMm, yMm }],
})
const of = (shape: 'round' | 'square', sizeMm: number, thicknessM: number, conductivityWmK: number) => ({
  ...{ face: { shape, sizeMm }, thicknessM, conductivityWmK, densityKgM3: 2700, heatJkgK: 900 },
})
/** K at the middle of one board for 1 W of it, film in W/m²K: the plate's field, and with its front. */
function middleKW(size: ReturnType<typeof of>, boardMm: number, film: number, cells = 36) {
  const boards = [disc(boardMm)]
  const plate = makePlate(size, boards, size.face.sizeMm / cells)
  const field = new Float64Array(plate.areaM2.length)
  for (const [i, cell] of plate.boards[0]!.cells.entries()) field[cell] = plate.boards[0]!.shares[i]!
  plate.solve(film, field)
  const { cells: near, shares } = plate.sites[0]![0]!
  const plain = near.reduce((sum, cell, i) => sum + shares[i]! * field[cell]!, 0)
  const rise = makeFrontRise(size, plate, boards, boardMm)
  return { plain, whole: plain + rise.hotKW[0]!, face: rise.faceKW[0]! }
}

describe('a small board on a wide, thin plate', () => {
  test.each([16, 8])('%f mm on 600 mm: q/h (1 − ma (K₁(ma) − I₁(ma) K₁(mb)/I₁(mb)))', (boardMm) => {
    const [sheet, h, a, b] = [2, 10, boardMm / 2000, 0.3]
    const m = Math.sqrt(h / sheet)
    const exact = (1 - m * a * (k1(m * a) - (i1(m * a) * k1(m * b)) / i1(m * b))) / (Math.PI * a * a * h)
    const { plain, whole } = middleKW(of('round', 600, 1e-4, sheet / 1e-4), boardMm, h)
    expect(plain).toBeLessThan(0.9 * exact)
    expectWithin(whole, exact, { rel: 0.025, because: 'cells of a fifth of the board' })
  })
})

describe('a thick plate', () => {
  test('even heat: t/2k from its mean to its front, half of it by the back’s outflow', () => {
    const size = of('square', 200, 0.1, 167)
    const plate = makePlate(size, [disc(400)], 200 / 24)
    const { faceKW } = makeFrontRise(size, plate, [disc(400)], 200)
    const exact = 0.1 / (2 * 167 * 0.04)
    for (const x of faceKW[0]!) expectWithin(x, exact, { rel: 1e-9, because: 't/3k + t/6k' })
  })
  test.each([20, 50, 100])('%f mm thick, a board of 36 mm in the middle of 200 mm: Lee et al. 1995', (mm) => {
    const [t, k, h] = [mm / 1000, 167, 60]
    const size = of('round', 200, t, k)
    const { whole } = middleKW(size, 36, h)
    const area = (Math.PI / 4) * 0.04
    const spread = spreadingResistance({ sourceM: 0.018, plateM: 0.1, thicknessM: t, conductivityWmK: k, film: h })
    const published = t / (k * area) + 1 / (h * area) + spread.maxKW
    // The plate's field has the film at its mean: t/2k to the back comes with the sink (src/heat/sink.ts).
    const back = t / (2 * k * area)
    const edge = 1 / (h * area)
    expectWithin(whole + back - edge, published - edge, { rel: 0.1, because: 'the source’s own accuracy' })
  })
})
