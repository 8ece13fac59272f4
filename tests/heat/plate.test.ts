// The plate's grid: areas, sources at their true places, symmetry.
import { describe, expect, test } from 'vitest'
import { faceAreaM2, isOnBoard } from '../../src/heat/face.ts'
import { makePlate, type Plate } from '../../src/heat/plate.ts'
import { solveSteady } from '../../src/heat/plateTemperatures.ts'
import { isOnFace } from '../../src/lamp/facePlate.ts'
import { expectWithin } from '../kit/expect.ts'

const metal = { thicknessM: 0.004, conductivityWmK: 160, densityKgM3: 2700, heatJkgK: 896 }
const board = (xMm: number, yMm: number, turnDeg = 0) => ({
  outline: { shape: 'rectangle' as const, widthMm: 30, heightMm: 10 },
  xMm,
  yMm,
  turnDeg,
  sites: [{ xMm, yMm }],
})
const middle = (plate: Plate, b: number): [number, number] => {
  const { cells, shares } = plate.boards[b]!
  let [x, y] = [0, 0]
  for (let row = 0; row < plate.rows; row++) {
    for (let column = 0; column < plate.columns; column++) {
      const k = cells.indexOf(plate.cellAt[row * plate.columns + column]!)
      if (k < 0 || plate.cellAt[row * plate.columns + column]! < 0) continue
      x += shares[k]! * (plate.fromXMm + (column + 0.5) * plate.cellMm)
      y += shares[k]! * (plate.fromYMm + (row + 0.5) * plate.cellMm)
    }
  }
  return [x, y]
}

describe.each(['round', 'square', 'hexagon'] as const)('%s face', (shape) => {
  const face = { shape, sizeMm: 200 }
  const cut = () => makePlate({ ...metal, face }, [board(31, -22, 33)], 5.3)

  test('cut cells add up to its area', () => {
    expectWithin(cut().totalM2, faceAreaM2(face), { rel: 0.005, because: 'counted on points; slivers are dropped' })
  })
  test('a board’s heat is centred where the board is, and all of it', () => {
    const plate = cut()
    const [x, y] = middle(plate, 0)
    expectWithin(x, 31, { abs: 0.15, because: 'counted on points' })
    expectWithin(y, -22, { abs: 0.15, because: 'counted on points' })
    expectWithin(
      plate.boards[0]!.shares.reduce((a, b) => a + b, 0),
      1,
      { abs: 1e-12, because: 'shares' },
    )
  })
  test('nothing flows over the rim: an even plate is at rest', () => {
    const plate = cut()
    const flow = plate.outflow(new Float64Array(plate.areaM2.length).fill(50))
    for (const w of flow) expectWithin(w, 0, { abs: 1e-10, because: 'rounding' })
  })
})

test('a turned board is turned the right way: the plan’s x right, y up, anticlockwise', () => {
  const plate = makePlate({ ...metal, face: { shape: 'square', sizeMm: 100 } }, [board(0, 0, 90)], 1)
  const at = (x: number, y: number) => plate.cellAt[Math.floor(y + 50) * 100 + Math.floor(x + 50)]!
  expect([...plate.boards[0]!.cells]).toContain(at(2.5, 13.5))
  expect([...plate.boards[0]!.cells]).not.toContain(at(13.5, 2.5))
  const slant = makePlate({ ...metal, face: { shape: 'square', sizeMm: 100 } }, [board(0, 0, 45)], 1)
  expect([...slant.boards[0]!.cells]).toContain(at(8.5, 8.5))
  expect([...slant.boards[0]!.cells]).not.toContain(at(8.5, -8.5))
})

test('mirror images are equally warm; of two boards the lone one in the corner is hotter than the same in the middle', () => {
  const face = { shape: 'square' as const, sizeMm: 120 }
  const plate = makePlate({ ...metal, face }, [board(40, 20), board(-40, 20), board(0, 0)], 3)
  const sheet = { base: 40, link: 0, fin: 0, finStored: 0 }
  const warmBy = (b: number) => {
    const heat = new Float64Array(plate.areaM2.length)
    const { cells, shares } = plate.boards[b]!
    for (let k = 0; k < cells.length; k++) heat[cells[k]!] = 20 * shares[k]!
    return solveSteady(plate, sheet, heat, 20).plateC.reduce((most, c) => Math.max(most, c), 0)
  }
  expectWithin(warmBy(0), warmBy(1), { rel: 1e-9, because: 'mirror images' })
  expect(warmBy(0)).toBeGreaterThan(warmBy(2) + 1)
})

test('outlines', () => {
  expect(isOnFace({ shape: 'hexagon', sizeMm: 100 }, 49.9, 0)).toBe(true)
  expect(isOnFace({ shape: 'hexagon', sizeMm: 100 }, 0, 57.7)).toBe(true)
  expect(isOnFace({ shape: 'hexagon', sizeMm: 100 }, 0, 57.8)).toBe(false)
  expect(isOnFace({ shape: 'hexagon', sizeMm: 100 }, 40, 40)).toBe(false)
  expect(isOnBoard({ shape: 'star', acrossMm: 20, points: 6, notchMm: 3 }, 9.9, 0)).toBe(true)
  expect(isOnBoard({ shape: 'rectangle', widthMm: 20, heightMm: 4 }, 9, 3)).toBe(false)
})
