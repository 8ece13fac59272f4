// Lux over the wall, cell by cell, from a map of relative light, marks on the wall and one reading of a meter.
import type { Meter } from '../../lamp/readings.ts'
import { meterDoubt, readingDoubt } from '../meter.ts'
import { combined, rectangular } from '../uncertainty.ts'
import { type Homography, homographyFrom, isConvex, mapped, type Point } from './homography.ts'
import type { Merged } from './merge.ts'
import { MASK } from './pixels.ts'
import type { OnCurve, Response } from './response.ts'
import type { Shading } from './shading.ts'

export interface WallOrder {
  merged: Merged
  shading: Shading
  /** In turn from the upper left, each 0 to 1 from the left and from the top of the picture: corners of a rectangle on the wall. */
  marks: readonly Point[]
  widthMm: number
  heightMm: number
  /** From the lamp's front. */
  distanceM: number
  /** Cells along the longer side, made odd so that one lies in the middle. */
  cells: number
  /** The meter, flat on the wall at a place of the picture. */
  reading: { at: Point; lx: number }
  meter?: Meter | undefined
}

type CellState = 'fine' | 'saturated' | 'black' | 'outside'

export interface WallCell {
  /** From the middle of the rectangle: to the right seen from the wall towards the lamp, so to the left in the picture; up. */
  xMm: number
  yMm: number
  state: CellState
  lx: number
  /** Standard uncertainties as shares: by itself; of the shading, with sign, as all cells share it. */
  own: number
  shade: number
  /** All of it, the meter's scale included. */
  all: number
}

export interface WallMap {
  columns: number
  rows: number
  /** Rows from the top, columns from the left of the picture. */
  cells: WallCell[]
  /** What all cells share, for `lamp/readings.ts`. */
  picture: { readLx: number; readPct: number; curve: number; glareLx: number }
  /** How far a cell may lie from where it is said to, mm. */
  placeMm: number
  readAtMm: Point
}

export type WallResult = { ok: true; map: WallMap } | { ok: false; why: string }

/** Cells of a side at most: what a lamp's file keeps of a picture. */
const MOST_CELLS = 41

/** How even a painted wall reflects, and how far it is from matt, standard uncertainty as a share. Our choice. */
const WALL_DOUBT = 0.02
/** A mark is set to so many places of the picture, the rectangle's sides to so many mm. Our choice. */
const MARK_PLACES = 1.5
const TAPE_MM = 3
/** Half of a meter's diffuser, and how far it may have stood from the place that is clicked. Common practice, no source; our choice. */
const DIFFUSER_MM = 15
const METER_MM = 10
/** Light that a camera's lens spreads evenly over its picture, at most, as a share of the mean. Our choice. */
const GLARE = 0.01

/**
 * The wall as lux: a matt wall is as bright as it is lit, wherever it is seen from (Lambert's law), so that one reading sets the scale. Light between
 * the places of the picture by straight lines; a cell is the mean over the middle half of its width and height. Refused where the marks are no
 * rectangle seen from the front, or the meter's place is masked.
 */
export function mapWall(order: WallOrder): WallResult {
  const { merged, widthMm, heightMm, marks } = order
  if (!isConvex(marks))
    return { ok: false, why: 'The four marks make no rectangle: set them in turn from the upper left, clockwise.' }
  const corners: Point[] = [
    [widthMm / 2, heightMm / 2],
    [-widthMm / 2, heightMm / 2],
    [-widthMm / 2, -heightMm / 2],
    [widthMm / 2, -heightMm / 2],
  ]
  const seen = marks.map(([x, y]): Point => [x * merged.columns, y * merged.rows])
  const toPicture = homographyFrom(corners, seen)
  const toWall = homographyFrom(seen, corners)
  if (!toPicture || !toWall) return { ok: false, why: 'Three of the marks lie in a line: they must be four corners.' }
  const view = makeView(order, toPicture)
  const readAtMm = mapped(toWall, [order.reading.at[0] * merged.columns, order.reading.at[1] * merged.rows])
  const read = patch(view, readAtMm, DIFFUSER_MM)
  if (read.state !== 'fine')
    return {
      ok: false,
      why: `The place of the lux reading is ${WHY[read.state]} in every picture: ${CURE[read.state]}`,
    }
  const [columns, rows] = sidesOf(order)
  const [stepX, stepY] = [widthMm / columns, heightMm / rows]
  const perLight = order.reading.lx / read.light
  const readShare = readDoubt(order, view, readAtMm, read)
  const glareLx = rectangular(GLARE * meanLight(merged) * perLight)
  const at = (c: number, r: number): Point => [widthMm / 2 - (c + 0.5) * stepX, heightMm / 2 - (r + 0.5) * stepY]
  const found = Array.from({ length: columns * rows }, (_, i) => {
    const place = at(i % columns, Math.floor(i / columns))
    return { place, seen: patch(view, place, stepX / 4, stepY / 4) }
  })
  const { response } = merged
  const curve = curveDoubt(
    response.doubtBetween,
    found.flatMap((f) => (f.seen.state === 'fine' ? [f.seen] : [])),
    read,
  )
  const meter = meterDoubt(order.meter).scale
  const own = (noise: number) => combined([noise, WALL_DOUBT, response.scatter ?? 0])
  const cells = found.map(({ place: [xMm, yMm], seen: s }): WallCell => {
    const lx = s.state === 'fine' ? s.light * perLight : 0
    const shade = s.shade - read.shade
    const shared = [
      meter,
      readShare,
      shade,
      curve * Math.log(Math.max(lx, 1e-9) / order.reading.lx),
      glareLx / Math.max(lx, 1e-9) - glareLx / order.reading.lx,
    ]
    const alone = own(s.noise)
    return { xMm, yMm, state: s.state, lx, own: alone, shade, all: combined([alone, ...shared]) }
  })
  return {
    ok: true,
    map: {
      columns,
      rows,
      cells,
      picture: { readLx: order.reading.lx, readPct: 100 * readShare, curve, glareLx },
      placeMm: combined([TAPE_MM, MARK_PLACES * placeMm(order)]),
      readAtMm,
    },
  }
}

const WHY = { saturated: 'burnt out', black: 'black', outside: 'outside the picture' } as const
const CURE = {
  saturated: 'add a shorter exposure, or read where it is less bright.',
  black: 'add a longer exposure, or read where it is brighter.',
  outside: 'click where the meter was.',
} as const

/** Millimetres of the wall in one place of the picture, about. */
const placeMm = ({ marks, merged, widthMm }: WallOrder): number => {
  const [a, b] = [marks[0] ?? [0, 0], marks[1] ?? [1, 0]]
  return widthMm / Math.hypot((a[0] - b[0]) * merged.columns, (a[1] - b[1]) * merged.rows)
}

function sidesOf({ cells, widthMm, heightMm }: WallOrder): [number, number] {
  const odd = (n: number) => Math.max(3, Math.min(MOST_CELLS, 2 * Math.floor(n / 2) + 1))
  const longer = Math.max(widthMm, heightMm)
  return [odd((cells * widthMm) / longer), odd((cells * heightMm) / longer)]
}

/** Light anywhere on the wall, shading taken out; and what it says nothing of. */
interface View {
  at(place: Point): Seen
  /** Places of the picture in a rectangle of the wall, mm. */
  placesIn(widthMm: number, heightMm: number): number
}

interface Seen {
  state: CellState
  light: number
  on: OnCurve
  shade: number
  /** Of one place of the picture against its neighbours, in light. */
  step: number
}

const STATES = ['fine', 'saturated', 'black'] as const
const NOTHING = { light: 0, on: { luminance: 0, exposure: 0 }, shade: 0, step: 0 }

function makeView(order: WallOrder, toPicture: Homography): View {
  const { merged, shading } = order
  const { columns, rows, light, mask, luminance, exposure } = merged
  const mm = placeMm(order)
  return {
    placesIn: (widthMm, heightMm) => Math.max(1, (widthMm * heightMm) / (mm * mm)),
    at(place) {
      const [x, y] = mapped(toPicture, place)
      const [c, r] = [Math.floor(x - 0.5), Math.floor(y - 0.5)]
      if (!(c >= 1 && r >= 0 && c < columns - 2 && r < rows - 1)) return { state: 'outside', ...NOTHING }
      const [s, t] = [x - 0.5 - c, y - 0.5 - r]
      const i = r * columns + c
      const four = [i, i + 1, i + columns, i + columns + 1]
      const worst = four.reduce((most, k) => (most === MASK.saturated ? most : (mask[k] ?? 0) || most), 0)
      if (worst !== MASK.fine) return { state: STATES[worst] ?? 'black', ...NOTHING }
      const [a = 0, b = 0, d = 0, e = 0] = four.map((k) => light[k] ?? 0)
      const [u, v] = [x / columns, y / rows]
      const bare = 1 / shading.at(u, v)
      const left = mask[i - 1] === MASK.fine ? (light[i - 1] ?? 0) : 2 * a - b
      return {
        state: 'fine',
        light: bare * ((1 - t) * ((1 - s) * a + s * b) + t * ((1 - s) * d + s * e)),
        on: { luminance: luminance[i] ?? 0, exposure: exposure[i] ?? 0 },
        shade: shading.doubtAt(u, v),
        // A second difference leaves out the slope: √6 times one place's own scatter.
        step: (bare * (left - 2 * a + b)) / Math.sqrt(6),
      }
    },
  }
}

interface PatchSeen extends Omit<Seen, 'step'> {
  /** Standard uncertainty of the mean by the pixels' scatter, as a share. */
  noise: number
}

/** Samples along a side of a patch. */
const SAMPLES = 4

/** Mean over a rectangle of the wall, half sides in mm; of one masked place it is masked as a whole. */
function patch(view: View, [xMm, yMm]: Point, halfX: number, halfY = halfX): PatchSeen {
  let [light, shade, squares] = [0, 0, 0]
  for (let k = 0; k < SAMPLES * SAMPLES; k++) {
    const dx = ((2 * (k % SAMPLES) + 1) / SAMPLES - 1) * halfX
    const dy = ((2 * Math.floor(k / SAMPLES) + 1) / SAMPLES - 1) * halfY
    const seen = view.at([xMm + dx, yMm + dy])
    if (seen.state !== 'fine') return { ...NOTHING, state: seen.state, noise: 0 }
    light += seen.light
    shade += seen.shade
    squares += seen.step ** 2
  }
  const n = SAMPLES * SAMPLES
  const scatter = (Math.sqrt(squares / n) * n) / Math.max(light, 1e-30)
  return {
    state: 'fine',
    light: light / n,
    on: view.at([xMm, yMm]).on,
    shade: shade / n,
    noise: scatter / Math.sqrt(view.placesIn(2 * halfX, 2 * halfY)),
  }
}

/** Of the scale beside the meter's own: its last digit and direction, pixels and wall at its place, where exactly it stood. */
function readDoubt({ reading, meter, distanceM }: WallOrder, view: View, at: Point, read: PatchSeen): number {
  const thetaRad = Math.atan2(Math.hypot(...at), 1000 * distanceM)
  const beside = (dx: number, dy: number) => {
    const seen = view.at([at[0] + dx, at[1] + dy])
    return seen.state === 'fine' ? seen.light / read.light - 1 : 0
  }
  const slope = [
    Math.max(Math.abs(beside(METER_MM, 0)), Math.abs(beside(-METER_MM, 0))),
    Math.max(Math.abs(beside(0, METER_MM)), Math.abs(beside(0, -METER_MM))),
  ]
  return combined([
    readingDoubt(reading.lx, meter, thetaRad) / reading.lx,
    read.noise,
    WALL_DOUBT,
    ...slope.map(rectangular),
  ])
}

/** The exponent's standard uncertainty that covers the curve's doubt of every cell against the reading's place. */
function curveDoubt(between: Response['doubtBetween'], cells: readonly PatchSeen[], read: PatchSeen): number {
  let most = 0
  for (const { on, light } of cells) {
    const apart = Math.abs(Math.log(light / read.light))
    // Alike in light, alike on the curve: a ratio of two small numbers says nothing.
    if (apart > 0.3) most = Math.max(most, between(on, read.on) / apart)
  }
  return most
}

function meanLight({ light, mask }: Merged): number {
  let [sum, n] = [0, 0]
  for (let i = 0; i < light.length; i++) {
    if (mask[i] !== MASK.fine) continue
    sum += light[i] ?? 0
    n++
  }
  return n > 0 ? sum / n : 0
}
