// Plates that are rectangles or have corners of their own: against a rod's closed form, by name and by corners, and weighed by hand.
import { describe, expect, test } from 'vitest'
import { makePlate, type PlateBoard } from '../../src/heat/plate.ts'
import { solveSteady } from '../../src/heat/plateTemperatures.ts'
import { makeSink } from '../../src/heat/sink.ts'
import { type FaceSize, faceCorners, polygonFace } from '../../src/lamp/facePlate.ts'
import { expectWithin } from '../kit/expect.ts'
import { coolingOf } from '../kit/handSink.ts'

const METAL = { thicknessM: 0.004, conductivityWmK: 200, densityKgM3: 2700, heatJkgK: 900 }
const rectangle = { shape: 'rectangle', sizeMm: 200, heightMm: 100 } as const
const byCorners = polygonFace(faceCorners(rectangle) ?? [])
const turned = polygonFace((faceCorners(rectangle) ?? []).map(([x, y]) => [-y, x]))
/** Off the axis altogether. */
const aside = polygonFace((faceCorners(rectangle) ?? []).map(([x, y]) => [x + 300, y - 90]))
const strip = (xMm: number, yMm: number, turnDeg: number): PlateBoard => ({
  outline: { shape: 'rectangle', widthMm: 40, heightMm: 100 },
  ...{ xMm, yMm, turnDeg },
  sites: [{ xMm, yMm }],
})

/**
 * A rod of length L that loses h over its back and is heated evenly over its first a: with m² = h/kt, over the air at the cold end
 * q/h · sinh(ma)/sinh(mL), at the hot one q/h (1 − sinh(m(L − a))/sinh(mL)) (k t T″ = h T − q; derived).
 */
test.each<[string, FaceSize, PlateBoard, (row: number, column: number) => boolean]>([
  ['a rectangle twice as wide as high', rectangle, strip(-80, 0, 0), (_, c) => c === 0],
  ['by its corners', byCorners, strip(-80, 0, 0), (_, c) => c === 0],
  ['by its corners, turned by 90°', turned, strip(0, -80, 90), (r) => r === 0],
  ['by its corners, off the axis', aside, strip(220, -90, 0), (_, c) => c === 0],
])('%s, heated over its first fifth: the rod’s temperatures at both ends', (_, face, board, isHot) => {
  const plate = makePlate({ ...METAL, face }, [board], 5)
  const [h, watts] = [25, 20]
  const heat = new Float64Array(plate.areaM2.length)
  const [patch] = plate.boards
  for (const [i, cell] of patch!.cells.entries()) heat[cell] = watts * patch!.shares[i]!
  const { plateC } = solveSteady(plate, { base: h, link: 0, fin: 0, finStored: 0 }, heat, 20)
  const [m, L, a] = [Math.sqrt(h / (200 * 0.004)), 0.2, 0.04]
  const rise = watts / (0.1 * a) / h
  const hot = rise * (1 - Math.sinh(m * (L - a)) / Math.sinh(m * L))
  const cold = (rise * Math.sinh(m * a)) / Math.sinh(m * L)
  let [hotSeen, coldSeen] = [0, Infinity]
  for (let row = 0; row < plate.rows; row++)
    for (let column = 0; column < plate.columns; column++) {
      const c = plateC[plate.cellAt[row * plate.columns + column]!]! - 20
      if (isHot(row, column)) hotSeen = Math.max(hotSeen, c)
      coldSeen = Math.min(coldSeen, c)
    }
  // Second order: cells of 5 mm at 1/m = 179 mm.
  expectWithin(hotSeen, hot, { rel: 2e-3, because: 'the middle of a cell, 2.5 mm from the end' })
  expectWithin(coldSeen, cold, { rel: 2e-3, because: 'the middle of a cell, 2.5 mm from the end' })
  expectWithin(plate.totalM2, 0.02, { rel: 1e-9, because: 'whole cells' })
})

describe('sinks behind them', () => {
  const fins = coolingOf({ kind: 'fins', count: 9, thicknessMm: 2, heightMm: 40, spacingMm: 8 })
  const kgOf = (face: FaceSize) => makeSink(fins, face, 20).finKg
  test('nine fins of 100, of 200 mm when it is turned: twice the metal', () => {
    expectWithin(kgOf(turned), 2 * kgOf(rectangle), { rel: 1e-9, because: 'as long as the chord at each' })
    expectWithin(kgOf(byCorners), kgOf(rectangle), { rel: 1e-9, because: 'the same chords' })
    expectWithin(kgOf(aside), kgOf(rectangle), { rel: 1e-9, because: 'about the middle of the plate' })
  })
  test('a bare back: by its corners as by name; an L loses less than the rectangle about it', () => {
    const bare = coolingOf({ kind: 'none' })
    const lossOf = (face: FaceSize) => makeSink(bare, face, 20).totalWK(80)
    expectWithin(lossOf(byCorners), lossOf(rectangle), { rel: 1e-9, because: 'rounding' })
    const L = polygonFace([
      [-100, -50],
      [100, -50],
      [100, 0],
      [0, 0],
      [0, 50],
      [-100, 50],
    ])
    expect(lossOf(L)).toBeLessThan(lossOf(rectangle))
    // Three quarters of the area; smaller plates lose a little more for theirs.
    expect(lossOf(L)).toBeGreaterThan(0.75 * lossOf(rectangle))
  })
})
