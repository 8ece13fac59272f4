// A plain diagram for the handbook: lines on one pair of axes.
import { FAINT, INK, line, type Point, QUIET, roundBelow, text } from '../src/report/book/figureMarks.ts'
import type { Figure, Mark, Style } from '../src/report/book/model.ts'

const [WIDTH, HEIGHT] = [480, 150]
const [LEFT, RIGHT, TOP, BOTTOM] = [52, 10, 8, 30]

interface Line {
  x: ArrayLike<number>
  y: ArrayLike<number>
  style: Style
}

interface Axes {
  /** Under the axis, and over it on the left. */
  x: string
  y: string
  fromX: number
  toX: number
  fromY?: number
  words: string
}

/** A dot for each of `dots`. */
export function linesFigure(lines: readonly Line[], axes: Axes, dots: readonly Point[] = []): Figure {
  const { fromX, toX, fromY = 0 } = axes
  const toY = fromY + 1.08 * (Math.max(...lines.flatMap((l) => Array.from(l.y))) - fromY)
  const at = (x: number, y: number): Point => [
    LEFT + ((x - fromX) / (toX - fromX)) * (WIDTH - LEFT - RIGHT),
    HEIGHT - BOTTOM - (Math.max(0, y - fromY) / (toY - fromY)) * (HEIGHT - TOP - BOTTOM),
  ]
  const inside = ({ x, y }: Line) =>
    Array.from(x, (v, i) => [v, y[i] ?? 0] as const).filter(([v]) => v >= fromX && v <= toX)
  const marks: Mark[] = [
    ...ticks(fromY, toY, 3).flatMap((v) => [
      line([at(fromX, v), at(toX, v)], { stroke: FAINT, width: 0.3 }),
      text([LEFT - 4, at(fromX, v)[1] + 2.5], number(v), { anchor: 'end' }),
    ]),
    ...ticks(fromX, toX, 5).map((v) => text([at(v, fromY)[0], HEIGHT - BOTTOM + 11], number(v), { anchor: 'middle' })),
    line([at(fromX, toY), at(fromX, fromY), at(toX, fromY)], { stroke: INK, width: 0.7 }),
    text([LEFT + 3, TOP + 4], axes.y, { colour: QUIET }),
    text([(LEFT + WIDTH - RIGHT) / 2, HEIGHT - 4], axes.x, { anchor: 'middle', colour: QUIET }),
    ...lines.map((l) =>
      line(
        inside(l).map(([x, y]) => at(x, y)),
        l.style,
      ),
    ),
    ...dots.map(([x, y]) => dot(at(x, y))),
  ]
  return { width: WIDTH, height: HEIGHT, marks, words: axes.words }
}

function ticks(from: number, to: number, about: number): number[] {
  const step = roundBelow((to - from) / about)
  const first = Math.ceil(from / step - 1e-9)
  return Array.from({ length: Math.floor(to / step + 1e-9) - first + 1 }, (_, i) => (first + i) * step)
}

const dot = ([x, y]: Point): Mark =>
  line(
    Array.from(
      { length: 13 },
      (_, i): Point => [x + 2.6 * Math.cos((i * Math.PI) / 6), y + 2.6 * Math.sin((i * Math.PI) / 6)],
    ),
    { stroke: INK, width: 1.2 },
  )

const number = (x: number): string => Number(x.toPrecision(6)).toLocaleString('en-GB')
