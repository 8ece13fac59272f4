// Small helpers for the book's vector pictures: scales, scale bars, dimension lines.
import { inSystem, sizeText } from '../../num/quantity.ts'
import { MM_PER_INCH, type UnitSystem } from '../../num/unitSystem.ts'
import type { Mark, Style } from './model.ts'

export interface FigureOptions {
  /** Without names, sizes and scale bar, for a small picture. */
  plain?: boolean
  /** At a scale of drawings, rather than as large as it can be. */
  toScale?: boolean
  /** What is drawn is at most so high, in the figure's own unit. */
  mostHigh?: number
  /** Of names and sizes; absent: metric. */
  system?: UnitSystem
}

export type Point = readonly [number, number]

export const INK = '#111111'
export const QUIET = '#666666'
export const FAINT = '#bbbbbb'

/** About the width of a character over its size, in a sans serif. */
const CHARACTER = 0.52

/** About how wide a text is, in the unit of its size. */
export const textWidth = (text: string, size: number): number => [...text].length * size * CHARACTER

export const line = (points: readonly Point[], style: Style): Mark => ({ kind: 'line', points, ...style })
export const shape = (points: readonly Point[], style: Style): Mark => ({
  kind: 'line',
  points,
  closed: true,
  ...style,
})

export interface TextStyle {
  size?: number
  anchor?: 'start' | 'middle' | 'end'
  bold?: boolean
  colour?: string
  turnDeg?: number
}

export const text = ([x, y]: Point, words: string, { size = 7, ...style }: TextStyle = {}): Mark => ({
  kind: 'text',
  x,
  y,
  size,
  text: words,
  ...style,
})

/** A ground under words that stand over lines. */
export function backed(words: Extract<Mark, { kind: 'text' }>, fill: string): Mark[] {
  const { x, y, size, turnDeg = 0, anchor = 'start' } = words
  const wide = textWidth(words.text, size) * (words.bold ? 1.1 : 1) + 0.2 * size
  const from = { start: 0, middle: -wide / 2, end: -wide }[anchor]
  const [cos, sin] = [Math.cos((turnDeg * Math.PI) / 180), Math.sin((turnDeg * Math.PI) / 180)]
  // Along the words, and up.
  const at = (u: number, v: number): Point => [x + u * cos - v * sin, y - u * sin - v * cos]
  const [low, high] = [-0.05 * size, 0.78 * size]
  const corners = [at(from, low), at(from + wide, low), at(from + wide, high), at(from, high)]
  return [shape(corners, { fill }), words]
}

/** 1, 2 or 5 times a power of ten, at most x. */
export function roundBelow(x: number): number {
  const decade = 10 ** Math.floor(Math.log10(x))
  const step = [5, 2, 1].find((s) => s * decade <= x) ?? 1
  return step * decade
}

/** A figure's unit, a point, in mm. */
const POINT_MM = 25.4 / 72

/** The largest scale of a drawing (1, 2 or 5 times a power of ten: ISO 5455, from memory) at which a millimetre takes at most so many units. */
export function drawingScale(mostPerMm: number): { perMm: number; scale: string } {
  const ratio = roundBelow(mostPerMm * POINT_MM * (1 + 1e-9))
  const scale = ratio >= 1 ? `${ratio} : 1` : `1 : ${Math.round(1 / ratio)}`
  return { perMm: ratio / POINT_MM, scale }
}

/** A bar of a round length, at most so wide; `perMm`: units a millimetre. */
export function scaleBar([x, y]: Point, perMm: number, mostWide: number, system: UnitSystem): Mark[] {
  const unitMm = system === 'inch' ? MM_PER_INCH : 1
  const mm = unitMm * roundBelow(mostWide / perMm / unitMm)
  const to = x + mm * perMm
  const ends: Point[] = [
    [x, y - 3],
    [x, y],
    [to, y],
    [to, y - 3],
  ]
  return [
    line(ends, { stroke: INK, width: 0.8 }),
    text([(x + to) / 2, y - 4], lengthText(mm, system), { anchor: 'middle' }),
  ]
}

/** In mm to a tenth, as sizes of parts are. */
export const lengthText = (mm: number, system: UnitSystem = 'metric'): string =>
  inSystem(sizeText(String(Number(mm.toFixed(1))), mm), system)

/** Arrowhead at a point, towards (dx, dy), a unit vector. */
const arrow = ([x, y]: Point, dx: number, dy: number): Mark =>
  shape(
    [
      [x, y],
      [x - 5 * dx - 1.6 * dy, y - 5 * dy + 1.6 * dx],
      [x - 5 * dx + 1.6 * dy, y - 5 * dy - 1.6 * dx],
    ],
    { fill: INK },
  )

/** A dimension line from left to right with its words over it, or to the right of it where there is no room. */
export function sizeAlong(fromX: number, toX: number, y: number, words: string): Mark[] {
  const [a, b] = fromX < toX ? [fromX, toX] : [toX, fromX]
  const isWide = b - a > textWidth(words, 7) + 6
  const isRoomy = b - a > 14
  const arrows = isRoomy
    ? [arrow([a, y], -1, 0), arrow([b, y], 1, 0)]
    : [
        arrow([a, y], 1, 0),
        arrow([b, y], -1, 0),
        line(
          [
            [a - 10, y],
            [a, y],
          ],
          { stroke: INK, width: 0.5 },
        ),
      ]
  const bar = line(
    [
      [a, y],
      [isRoomy ? b : b + 10, y],
    ],
    { stroke: INK, width: 0.5 },
  )
  const place: Point = isWide ? [(a + b) / 2, y - 2.5] : [b + (isRoomy ? 4 : 12), y + 2.5]
  return [bar, ...arrows, text(place, words, { anchor: isWide ? 'middle' : 'start' })]
}

/** A dimension line from top to bottom with its words turned beside it. */
export function sizeAcross(x: number, fromY: number, toY: number, words: string): Mark[] {
  const [a, b] = fromY < toY ? [fromY, toY] : [toY, fromY]
  return [
    line(
      [
        [x, a],
        [x, b],
      ],
      { stroke: INK, width: 0.5 },
    ),
    arrow([x, a], 0, -1),
    arrow([x, b], 0, 1),
    text([x - 2.5, (a + b) / 2], words, { anchor: 'middle', turnDeg: 90 }),
  ]
}
