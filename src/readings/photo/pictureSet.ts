// A picture's map as a set of readings, as any other.
import type { GridSet, Meter } from '../../lamp/readings.ts'
import type { WallCell, WallMap } from './wallMap.ts'

export interface PictureSetOptions {
  id: string
  distanceM: number
  /** Middle of the rectangle: it stands on the lamp's axis. Brightest: the zero is moved there. */
  zero: 'middle' | 'brightest'
  strayLx?: number | undefined
  meter?: Meter | undefined
  when?: string | undefined
  note?: string | undefined
}

/**
 * The cells that say something, as a grid set: lux to four digits, places to a tenth of a millimetre, what is open in each beside what all share. Masked
 * cells are left out.
 */
export function pictureSet(map: WallMap, options: PictureSetOptions): GridSet {
  const [x0, y0] = options.zero === 'brightest' ? brightestPlace(map) : [0, 0]
  const { strayLx, meter, when, note } = options
  const { saturated } = maskedCells(map)
  return {
    id: options.id,
    kind: 'grid',
    ...(when && { when }),
    ...(note && { note }),
    ...(strayLx !== undefined && strayLx > 0 && { strayLx }),
    ...(meter && { meter }),
    distanceM: options.distanceM,
    faces: 'wall',
    aimed: options.zero === 'brightest' ? 'brightest' : 'axis',
    placeDoubtMm: digits(map.placeMm, 2),
    rows: map.cells
      .filter((cell) => cell.state === 'fine')
      .map((cell) => ({
        xMm: tenth(cell.xMm - x0),
        yMm: tenth(cell.yMm - y0),
        lx: digits(cell.lx, 4),
        doubtPct: digits(100 * cell.own, 2),
        shadePct: digits(100 * cell.shade, 2),
      })),
    picture: {
      readLx: map.picture.readLx,
      readPct: digits(map.picture.readPct, 3),
      curve: digits(map.picture.curve, 3),
      glareLx: digits(map.picture.glareLx, 3),
      ...(saturated > 0 && { burntOut: saturated }),
    },
  }
}

/**
 * Where a map is brightest, mm: the middle of all cells with four fifths of the most light or more, weighted by it (our choice). [0, 0] where no cell says
 * anything.
 */
export function brightestPlace({ cells }: Pick<WallMap, 'cells'>): [number, number] {
  const level = 0.8 * Math.max(0, ...cells.map((cell) => cell.lx))
  let [x, y, sum] = [0, 0, 0]
  for (const { lx, xMm, yMm } of cells) {
    if (lx <= 0 || lx < level) continue
    x += lx * xMm
    y += lx * yMm
    sum += lx
  }
  return sum > 0 ? [x / sum, y / sum] : [0, 0]
}

/** How many cells say nothing, and why. */
export function maskedCells({ cells }: Pick<WallMap, 'cells'>): Record<Exclude<WallCell['state'], 'fine'>, number> {
  const count = { saturated: 0, black: 0, outside: 0 }
  for (const { state } of cells) if (state !== 'fine') count[state]++
  return count
}

const digits = (value: number, n: number): number => Number(value.toPrecision(n))
const tenth = (mm: number): number => Math.round(10 * mm) / 10 || 0
