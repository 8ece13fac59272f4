// The temperature of the plate at a moment, from the frames that a run keeps.
import type { ModeRun, PlateFilm } from '../../electrothermal/result.ts'
import { THIN } from './format.ts'
import { RAMP, RAMP_SIZE } from './ramp.ts'

/** Where a moment lies between the entries of a rising list: index and part of the way to the next. */
export function placeOf(tS: ArrayLike<number>, at: number): [number, number] {
  let i = 0
  while (i + 1 < tS.length && tS[i + 1]! <= at) i++
  if (i + 1 >= tS.length) return [tS.length - 1, 0]
  return [i, Math.max(0, (at - tS[i]!) / (tS[i + 1]! - tS[i]!))]
}
/** The plate at a moment; NaN off it. */

export function filmAt(film: PlateFilm, at: number): Float32Array {
  const [i, part] = placeOf(film.tS, at)
  const from = film.frames[i]!
  const to = film.frames[i + 1] ?? from
  return from.map((c, k) => c + part * (to[k]! - c))
}
/** Coldest and hottest of the whole film: one scale of colours for every moment. */

export function filmSpan(film: PlateFilm): [number, number] {
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
/** The film's colours span the whole run, so that moments compare; or the moment's own plate, so that its pattern shows. */

export type FilmScale = 'moment' | 'run'
/** Less than this from cold to hot, and colours would make much of nothing. */
export const LEAST_SPAN_K = 2
/** Coldest and hottest of the plate at a moment. */

export function plateSpan(film: PlateFilm, at: number): [number, number] {
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]
  for (const c of filmAt(film, at)) {
    if (c < least) least = c
    if (c > most) most = c
  }
  return [least, most]
}
export function spanOf(film: PlateFilm, scale: FilmScale, at: number): [number, number] {
  if (scale === 'run') return filmSpan(film)
  const [least, most] = plateSpan(film, at)
  return [least, Math.max(most, least + LEAST_SPAN_K)]
}
/** sRGB and opacity of each cell, row by row from high y: what a picture holds. */

export function filmPixels(film: PlateFilm, [least, most]: readonly [number, number], at: number) {
  const { columns, rows } = film
  const now = filmAt(film, at)
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
/** In words: the plate at the moment, and what the colours span where that is more. */

export function spanWords(film: PlateFilm, scale: FilmScale, at: number): string {
  const whole = (c: number) => `${Math.round(c)}`
  const [least, most] = plateSpan(film, at)
  const now = whole(least) === whole(most) ? `even, ${whole(most)}` : `${whole(least)} to ${whole(most)}`
  const all = filmSpan(film)
  const also = scale === 'run' ? `; colours over the whole run, ${whole(all[0])} to ${whole(all[1])}${THIN}°C` : ''
  return `Plate now ${now}${THIN}°C${also}`
}
/** Place in the lamp's list of the board with the hottest junction at a moment, and its temperature. */

export function hottestAt(run: Pick<ModeRun, 'curves' | 'boardJunctionC'>, at: number): { index: number; c: number } {
  const [i, part] = placeOf(run.curves.tS, at)
  const from = run.boardJunctionC[i]!
  const to = run.boardJunctionC[i + 1] ?? from
  let hottest = { index: 0, c: Number.NEGATIVE_INFINITY }
  for (let b = 0; b < from.length; b++) {
    const c = from[b]! + part * (to[b]! - from[b]!)
    if (c > hottest.c) hottest = { index: b, c }
  }
  return hottest
}
