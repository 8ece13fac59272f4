// The face plate of a lamp, and how much hotter its front is at the boards.

import { boardLeastMm } from '../heat/face.ts'
import { type FrontRise, makeFrontRise } from '../heat/frontRise.ts'
import { makePlate, type Plate, sitesOf } from '../heat/plate.ts'
import { type FaceSize, faceBox, faceWidestMm } from '../lamp/facePlate.ts'
import { boardTypeOf } from '../lamp/place.ts'
import type { Lamp } from '../lamp/schema.ts'
import { METALS } from '../library/metals.ts'
import { coolingOf } from '../library/typicalPower.ts'

interface PlateAndFront {
  plate: Plate
  rise: FrontRise
}

/** A face twice as long as wide may have √2 as many cells along it: no more in all. */
const stretchOf = (face: FaceSize): number => {
  if (face.shape !== 'rectangle' && face.shape !== 'polygon') return 1
  const { fromX, toX, fromY, toY } = faceBox(face)
  const [x, y] = [toX - fromX, toY - fromY]
  return Math.sqrt(Math.max(x, y) / Math.min(x, y))
}

/** Cells across the smallest board, and limits of the grid. Halving them moves the hottest board by under 1 % (tests/job/power). */
const ACROSS_BOARD = 5
const FEWEST = 24
const MOST = 36

/**
 * The lamp's face plate as cells: five across the smallest board, 24 to 36 across the face (more along a long one), times `refine`. Our
 * choice; halving them moves the hottest board by under 1 % (tests/job/power).
 */
export function makePlateOf(lamp: Lamp, refine = 1): PlateAndFront {
  const { value: cooling } = coolingOf(lamp)
  const metal = METALS[cooling.plate.metal]
  const boards = lamp.boards.map((b) => {
    const type = boardTypeOf(lamp, b)
    return { outline: type.outline, xMm: b.xMm, yMm: b.yMm, turnDeg: b.turnDeg, sites: sitesOf(type, b) }
  })
  const least = boards.reduce((small, b) => Math.min(small, boardLeastMm(b.outline)), faceWidestMm(lamp.face))
  const widestMm = faceWidestMm(lamp.face)
  const stretch = stretchOf(lamp.face)
  const wanted = Math.ceil((ACROSS_BOARD * widestMm) / least)
  const cells = Math.min(Math.round(MOST * stretch), Math.max(Math.round(FEWEST * stretch), wanted)) * refine
  const size = {
    face: lamp.face,
    thicknessM: cooling.plate.thicknessMm / 1000,
    conductivityWmK: metal.conductivityWmK,
    densityKgM3: metal.densityKgM3,
    heatJkgK: metal.heatJkgK,
  }
  const plate = makePlate(size, boards, widestMm / cells)
  return { plate, rise: makeFrontRise(size, plate, boards, least) }
}

/**
 * Writes the temperature of the plate's front under each board's emitters, °C, mean into `siteC` and hottest into
 * `hotC`: one value a board. `heatW`: of each board.
 */
export function readSiteTemperatures(
  { plate, rise }: PlateAndFront,
  plateC: Float64Array,
  heatW: Float64Array,
  siteC: Float64Array,
  hotC: Float64Array,
): void {
  const n = heatW.length
  for (const [i, sites] of plate.sites.entries()) {
    let [sum, most] = [0, Number.NEGATIVE_INFINITY]
    for (const { cells, shares } of sites) {
      let c = 0
      for (let k = 0; k < cells.length; k++) c += shares[k]! * plateC[cells[k]!]!
      sum += c
      most = Math.max(most, c)
    }
    let [mean, hot] = [0, 0]
    for (const [j, watts] of heatW.entries()) {
      mean += watts * (rise.meanKW[i * n + j] ?? 0)
      hot += watts * (rise.hotKW[i * n + j] ?? 0)
    }
    siteC[i] = sum / sites.length + mean
    hotC[i] = most + hot
  }
}

/** Temperature of the plate's front, °C at each cell; `heatW`: of each board. */
export function frontOf(
  { rise }: Pick<PlateAndFront, 'rise'>,
  plateC: Float64Array,
  heatW: Float64Array,
): Float64Array {
  const front = plateC.slice()
  for (const [j, field] of rise.faceKW.entries()) {
    const watts = heatW[j] ?? 0
    if (watts > 0) for (let i = 0; i < front.length; i++) front[i] = front[i]! + watts * field[i]!
  }
  return front
}
