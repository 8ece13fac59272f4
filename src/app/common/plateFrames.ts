// The plate's temperature at a moment, interpolated between the frames of a run.

import type { ModeRun, PlateFrames } from '../../electrothermal/result.ts'
import { fractionalIndex } from '../../num/interpolate.ts'
import { THIN } from './format.ts'
import { RAMP, RAMP_SIZE } from './ramp.ts'
import { shownUnit, type UnitSystem } from './unitSystem.ts'

/** Temperatures at a moment, °C; NaN outside the plate. */
export function plateTemperatures(plate: PlateFrames, at: number): Float32Array {
  const [i, part] = fractionalIndex(plate.tS, at)
  const from = plate.frames[i]!
  const to = plate.frames[i + 1] ?? from
  return from.map((c, k) => c + part * (to[k]! - c))
}

/** Minimum and maximum of the whole run. */
export function runRange(plate: PlateFrames): [number, number] {
  let least = Number.POSITIVE_INFINITY
  let most = Number.NEGATIVE_INFINITY
  for (const frame of plate.frames) {
    for (const c of frame) {
      if (c < least) least = c
      if (c > most) most = c
    }
  }
  return most > least ? [least, most] : [least, least + 1]
}

/** Colour scale over the whole run, so that moments can be compared, or over the moment alone, so that its pattern shows. */
export type FrameScale = 'moment' | 'run'
/** Smallest range of the colour scale, so that noise does not look like a pattern. */
const MIN_RANGE_K = 2

/** Minimum and maximum at a moment. */
function momentRange(plate: PlateFrames, at: number): [number, number] {
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]
  for (const c of plateTemperatures(plate, at)) {
    if (c < least) least = c
    if (c > most) most = c
  }
  return [least, most]
}
export function colourRange(plate: PlateFrames, scale: FrameScale, at: number): [number, number] {
  if (scale === 'run') return runRange(plate)
  const [least, most] = momentRange(plate, at)
  return [least, Math.max(most, least + MIN_RANGE_K)]
}

/** RGBA of each cell, rows from high y downwards, as ImageData has them. */
export function plateImage(plate: PlateFrames, [least, most]: readonly [number, number], at: number) {
  const { columns, rows } = plate
  const now = plateTemperatures(plate, at)
  const pixels = new Uint8ClampedArray(4 * columns * rows)
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const c = now[row * columns + column]!
      if (Number.isNaN(c)) continue
      const to = 4 * ((rows - 1 - row) * columns + column)
      const shade = 3 * Math.round(Math.min(1, Math.max(0, (c - least) / (most - least))) * (RAMP_SIZE - 1))
      for (let k = 0; k < 3; k++) pixels[to + k] = RAMP[shade + k]!
      pixels[to + 3] = 255
    }
  }
  return pixels
}

/** Text: the range at the moment, and that of the colour scale where it is wider. */
export function rangeWords(plate: PlateFrames, scale: FrameScale, at: number, system: UnitSystem = 'metric'): string {
  const { toShown, word } = shownUnit('°C', system)
  const whole = (c: number) => `${Math.round(toShown(c))}`
  const [least, most] = momentRange(plate, at)
  const now = whole(least) === whole(most) ? `even, ${whole(most)}` : `${whole(least)} to ${whole(most)}`
  const all = runRange(plate)
  const also = scale === 'run' ? `; colours over the whole run, ${whole(all[0])} to ${whole(all[1])}${THIN}${word}` : ''
  return `Plate now ${now}${THIN}${word}${also}`
}

/** Index of the board with the hottest junction at a moment, and its temperature. */
export function hottestAt(run: Pick<ModeRun, 'curves' | 'boardJunctionC'>, at: number): { index: number; c: number } {
  const [i, part] = fractionalIndex(run.curves.tS, at)
  const from = run.boardJunctionC[i]!
  const to = run.boardJunctionC[i + 1] ?? from
  let hottest = { index: 0, c: Number.NEGATIVE_INFINITY }
  for (let b = 0; b < from.length; b++) {
    const c = from[b]! + part * (to[b]! - from[b]!)
    if (c > hottest.c) hottest = { index: b, c }
  }
  return hottest
}
