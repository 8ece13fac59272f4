// The plate's temperature at a moment, interpolated between the frames of a run.
import type { ModeRun, PlateFilm } from '../../electrothermal/result.ts'
import { THIN } from './format.ts'
import { RAMP, RAMP_SIZE } from './ramp.ts'

/** Position of a moment in a rising list: index and fraction of the step to the next entry. */
export function fractionalIndex(tS: ArrayLike<number>, at: number): [number, number] {
  let i = 0
  while (i + 1 < tS.length && tS[i + 1]! <= at) i++
  if (i + 1 >= tS.length) return [tS.length - 1, 0]
  return [i, Math.max(0, (at - tS[i]!) / (tS[i + 1]! - tS[i]!))]
}

/** Temperatures at a moment, °C; NaN outside the plate. */
export function plateTemperatures(film: PlateFilm, at: number): Float32Array {
  const [i, part] = fractionalIndex(film.tS, at)
  const from = film.frames[i]!
  const to = film.frames[i + 1] ?? from
  return from.map((c, k) => c + part * (to[k]! - c))
}

/** Minimum and maximum of the whole run. */
export function runRange(film: PlateFilm): [number, number] {
  let least = Number.POSITIVE_INFINITY
  let most = Number.NEGATIVE_INFINITY
  for (const frame of film.frames) {
    for (const c of frame) {
      if (c < least) least = c
      if (c > most) most = c
    }
  }
  return most > least ? [least, most] : [least, least + 1]
}

/** Colour scale over the whole run, so that moments can be compared, or over the moment alone, so that its pattern shows. */
export type FilmScale = 'moment' | 'run'
/** Smallest range of the colour scale, so that noise does not look like a pattern. */
const MIN_RANGE_K = 2

/** Minimum and maximum at a moment. */
function momentRange(film: PlateFilm, at: number): [number, number] {
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]
  for (const c of plateTemperatures(film, at)) {
    if (c < least) least = c
    if (c > most) most = c
  }
  return [least, most]
}
export function colourRange(film: PlateFilm, scale: FilmScale, at: number): [number, number] {
  if (scale === 'run') return runRange(film)
  const [least, most] = momentRange(film, at)
  return [least, Math.max(most, least + MIN_RANGE_K)]
}

/** RGBA of each cell, rows from high y downwards, as ImageData has them. */
export function plateImage(film: PlateFilm, [least, most]: readonly [number, number], at: number) {
  const { columns, rows } = film
  const now = plateTemperatures(film, at)
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
export function rangeWords(film: PlateFilm, scale: FilmScale, at: number): string {
  const whole = (c: number) => `${Math.round(c)}`
  const [least, most] = momentRange(film, at)
  const now = whole(least) === whole(most) ? `even, ${whole(most)}` : `${whole(least)} to ${whole(most)}`
  const all = runRange(film)
  const also = scale === 'run' ? `; colours over the whole run, ${whole(all[0])} to ${whole(all[1])}${THIN}°C` : ''
  return `Plate now ${now}${THIN}°C${also}`
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
