// A mode over time: hottest junction and plate in °C, light as a share of that at switch-on.

import type { ModeRun } from '../../electrothermal/result.ts'
import { fahrenheit, type UnitSystem } from '../../num/unitSystem.ts'
import { timeWords } from '../power.ts'
import { FAINT, INK, line, type Point, roundBelow, text } from './figureMarks.ts'
import type { Figure, Mark, Style } from './model.ts'

const WIDTH = 480
const HEIGHT = 130
const LEFT = 34
const RIGHT = 86
const TOP = 8
const BOTTOM = 22

/** Null where the mode ended before it ran. */
export function curvesFigure({ curves: inCelsius }: ModeRun, system: UnitSystem = 'metric'): Figure | null {
  const c = curvesIn(inCelsius, system)
  const unit = system === 'inch' ? '°F' : '°C'
  const endS = c.tS.at(-1) ?? 0
  const mostLm = c.lm.reduce((a, x) => Math.max(a, x), 0)
  if (!(endS > 0) || !(mostLm > 0)) return null
  const mostC = 1.05 * c.junctionMaxC.reduce((a, x) => Math.max(a, x), 1)
  const leastC = Math.min(0, ...[c.junctionMaxC[0] ?? 0, c.plateMaxC[0] ?? 0])
  // Much happens in the first seconds: the square root gives them room.
  const x = (s: number) => LEFT + Math.sqrt(s / endS) * (WIDTH - LEFT - RIGHT)
  const y = (share: number) => HEIGHT - BOTTOM - share * (HEIGHT - TOP - BOTTOM)
  const celsius = (value: number) => y((value - leastC) / (mostC - leastC))
  const curve = (values: Float64Array, place: (v: number) => number, style: Style): Mark =>
    line(
      thinned(c.tS).map((i): Point => [x(c.tS[i] ?? 0), place(values[i] ?? 0)]),
      style,
    )
  const ends: [Float64Array, (v: number) => number, string, Style][] = [
    [c.junctionMaxC, celsius, 'junction', { stroke: '#b3121d', width: 1.1 }],
    [c.plateMaxC, celsius, 'plate', { stroke: '#8a5a00', width: 1.1, dash: [5, 2] }],
    [c.lm, (v) => y(v / mostLm / 1.05), 'light', { stroke: '#1f5a80', width: 1.1, dash: [1.5, 1.5] }],
  ]
  const step = roundBelow((mostC - leastC) / 3)
  const levels = Array.from(
    { length: 1 + Math.floor((mostC - leastC) / step) },
    (_, i) => (Math.ceil(leastC / step) + i) * step,
  )
  const marks: Mark[] = [
    ...levels.flatMap((v) => [
      line(
        [
          [LEFT, celsius(v)],
          [WIDTH - RIGHT, celsius(v)],
        ],
        { stroke: FAINT, width: 0.3 },
      ),
      text([LEFT - 4, celsius(v) + 2.5], `${Math.round(v)} ${unit}`, { anchor: 'end' }),
    ]),
    ...[0, 1 / 16, 1 / 4, 9 / 16, 1].map((share) =>
      text([x(share * endS), HEIGHT - BOTTOM + 11], share === 0 ? '0' : timeWords(share * endS), { anchor: 'middle' }),
    ),
    line(
      [
        [LEFT, TOP],
        [LEFT, y(0)],
        [WIDTH - RIGHT, y(0)],
      ],
      { stroke: INK, width: 0.7 },
    ),
    ...ends.map(([values, place, , style]) => curve(values, place, style)),
    ...apart(ends.map(([values, place]) => place(values.at(-1) ?? 0))).map((at, i) =>
      text([WIDTH - RIGHT + 5, at + 2.5], labelOf(i, ends[i]?.[2] ?? '', c, mostLm, unit), {
        colour: ends[i]?.[3].stroke ?? INK,
      }),
    ),
  ]
  return { width: WIDTH, height: HEIGHT, marks, words: 'Temperatures and light of the mode over time.' }
}

type Shown = Pick<ModeRun['curves'], 'tS' | 'lm' | 'junctionMaxC' | 'plateMaxC'>

/** Temperatures in the unit that is shown. */
const curvesIn = ({ tS, lm, junctionMaxC, plateMaxC }: Shown, system: UnitSystem): Shown =>
  system === 'metric'
    ? { tS, lm, junctionMaxC, plateMaxC }
    : { tS, lm, junctionMaxC: junctionMaxC.map(fahrenheit), plateMaxC: plateMaxC.map(fahrenheit) }

const labelOf = (i: number, name: string, c: Shown, mostLm: number, unit: string): string =>
  i === 2
    ? `${name} ${Math.round((100 * (c.lm.at(-1) ?? 0)) / mostLm)} %`
    : `${name} ${Math.round((i === 0 ? c.junctionMaxC : c.plateMaxC).at(-1) ?? 0)} ${unit}`

/** Labels of curves that end close together are moved apart, in their order. */
function apart(places: readonly number[]): number[] {
  const order = [...places.keys()].sort((a, b) => (places[a] ?? 0) - (places[b] ?? 0))
  const out = [...places]
  let last = Number.NEGATIVE_INFINITY
  for (const i of order) {
    const at = Math.max(out[i] ?? 0, last + 8)
    out[i] = at
    last = at
  }
  return out
}

const MOST_POINTS = 300

/** Every so manieth moment, first and last among them. */
function thinned({ length }: ArrayLike<number>): number[] {
  const step = Math.max(1, Math.ceil(length / MOST_POINTS))
  const all = Array.from({ length: Math.ceil(length / step) }, (_, i) => i * step)
  return all.at(-1) === length - 1 ? all : [...all, length - 1]
}
