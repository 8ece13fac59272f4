// Geometry of a mode's curves over time, the plate's film at a moment, and the account of its energy: pure.
import { type ScaleContinuousNumeric, scaleLinear, scaleLog } from 'd3-scale'
import { line } from 'd3-shape'
import type { EnergyAccount, ModeRun, PlateFilm } from '../../job/powerResult.ts'
import { THIN, toDigits } from './format.ts'
import { RAMP, RAMP_SIZE } from './ramp.ts'

export interface TimeScale {
  log: boolean
  /** Pixels of a moment; what lies before the scale's beginning stands at it. */
  x(tS: number): number
  at(px: number): number
  ticks: { tS: number; words: string }[]
}

/** Seconds at which a logarithmic scale begins. */
const LOG_FROM_S = 1
/** Longer than this, and even steps of time would hide how it begins. */
const LOG_OVER_S = 1800

export const fitsLog = (endS: number): boolean => endS > LOG_OVER_S

const MARKS = [1, 10, 60, 600, 3600, 36_000, 360_000]

export function timeScale(endS: number, fromPx: number, toPx: number, log = fitsLog(endS)): TimeScale {
  const end = Math.max(endS, log ? 10 * LOG_FROM_S : 0.01)
  const scale: ScaleContinuousNumeric<number, number> = (
    log ? scaleLog([LOG_FROM_S, end], [fromPx, toPx]) : scaleLinear([0, end], [fromPx, toPx])
  ).clamp(true)
  const step = stepOf(end)
  const count = Math.floor(end / step + 1e-9)
  const marks = log ? MARKS.filter((t) => t <= end) : Array.from({ length: count + 1 }, (_, i) => i * step)
  return {
    log,
    x: (t) => scale(log ? Math.max(t, LOG_FROM_S) : t),
    at: (px) => scale.invert(px),
    ticks: marks.map((tS) => ({ tS, words: momentWords(tS) })),
  }
}

const STEPS = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 30, 60, 120, 300, 600, 1200, 1800, 3600, 7200, 18_000, 36_000, 86_400]
const stepOf = (endS: number): number => STEPS.find((s) => endS / s <= 6) ?? endS / 5

/** 0 s, 9.5 s, 4.7 min, 3.2 h */
export function momentWords(seconds: number, digits = 3): string {
  if (seconds < 60) return `${toDigits(seconds, digits)}${THIN}s`
  if (seconds < 3600) return `${toDigits(seconds / 60, digits)}${THIN}min`
  return `${toDigits(seconds / 3600, digits)}${THIN}h`
}

export interface CurvePlot {
  paths: string[]
  y(value: number): number
  yTicks: number[]
}

/** Several curves with one scale; `zero`: the scale begins at nothing. */
export function plotCurves(
  tS: ArrayLike<number>,
  curves: readonly ArrayLike<number>[],
  time: TimeScale,
  [topPx, footPx]: readonly [number, number],
  zero: boolean,
): CurvePlot {
  let least = zero ? 0 : Number.POSITIVE_INFINITY
  let most = Number.NEGATIVE_INFINITY
  for (const curve of curves) {
    for (let i = 0; i < curve.length; i++) {
      least = Math.min(least, curve[i]!)
      most = Math.max(most, curve[i]!)
    }
  }
  if (!(most > least)) most = least + 1
  const y = scaleLinear([least, most], [footPx, topPx]).nice(3)
  const draw = line<number>(
    (i) => time.x(tS[i]!),
    () => y(0),
  )
  const places = Array.from(tS, (_, i) => i)
  return {
    paths: curves.map((curve) => draw.y((i) => y(curve[i]!))(places) ?? ''),
    y: (value) => y(value),
    yTicks: y.ticks(3),
  }
}

/** Where a moment lies between the entries of a rising list: index and part of the way to the next. */
export function placeOf(tS: ArrayLike<number>, at: number): [number, number] {
  let i = 0
  while (i + 1 < tS.length && tS[i + 1]! <= at) i++
  if (i + 1 >= tS.length) return [tS.length - 1, 0]
  return [i, Math.max(0, (at - tS[i]!) / (tS[i + 1]! - tS[i]!))]
}

export function onCurve(tS: ArrayLike<number>, y: ArrayLike<number>, at: number): number {
  const [i, part] = placeOf(tS, at)
  return y[i]! + part * ((y[i + 1] ?? y[i]!) - y[i]!)
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
const LEAST_SPAN_K = 2

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

const LINES: readonly [keyof EnergyAccount, string][] = [
  ['lightJ', 'Leaves as light'],
  ['toAirJ', 'To the air'],
  ['storedJ', 'Stored in plate and sink'],
  ['wallJ', 'Into the tunnel’s wall'],
  ['driverJ', 'Lost in drivers'],
  ['wiresJ', 'Lost in wires'],
  ['cellsJ', 'Lost in the supply'],
]

export interface EnergyLine {
  name: string
  joule: number
  /** Of what went in. */
  share: number
}

/** What went in until a moment, and where it is; lines of nothing are left out. */
export function energyAt({ curves, energy }: Pick<ModeRun, 'curves' | 'energy'>, at: number) {
  const of = (key: keyof EnergyAccount) => onCurve(curves.tS, energy[key], at)
  const inJ = of('inJ')
  const lines: EnergyLine[] = LINES.map(([key, name]) => ({
    name,
    joule: of(key),
    share: inJ > 0 ? of(key) / inJ : 0,
  })).filter((l) => l.joule > 0)
  return { inJ, lines }
}

/** In Wh where the whole is much: parts of one account stand in one unit. */
export const energyWords = (joule: number, wholeJ = joule): string =>
  wholeJ < 3600 ? `${toDigits(joule, 3)}${THIN}J` : `${toDigits(joule / 3600, 3)}${THIN}Wh`
