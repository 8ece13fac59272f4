// Sizes written in: dimension lines with their extension lines, and arrows to edges.

import type { Point } from '../layout/shape.ts'
import { inEither, sizeNumber } from '../num/quantity.ts'
import { label, linePath, polygonPath, readableDeg, textWidthMm } from './path.ts'
import type { Item, Size } from './types.ts'

/** Of figures on a part up to 300 mm long; on a larger one a hundredth of it, so that they can be read where it is seen whole; no more than fits under a dimension line. */
const TEXT_MM = 3
const MOST_TEXT_MM = 6

const sizeTextMm = (partMm: number): number => Math.min(MOST_TEXT_MM, Math.max(TEXT_MM, partMm / 100))

/** From one dimension line to the next. */
export const lineStepMm = (partMm: number): number => 8 + 3 * (sizeTextMm(partMm) - TEXT_MM)

/** Of an arrow’s head, over the figures’ height. */
const ARROW = 2.5 / 3
/** Between the edge and its extension line, and of that beyond the dimension line. */
const GAP_MM = 1

/** At most two decimals: a hundredth of a millimetre is finer than a workshop cuts. */
export const decimal = (x: number, decimals = 2): string => {
  const text = x
    .toFixed(decimals)
    .replace(/(\.\d*?)0+$/, '$1')
    .replace(/\.$/, '')
  return text === '-0' ? '0' : text
}

/** A length without its unit, in both systems of units: to a hundredth of a millimetre, or a thousandth of an inch. */
export const mm = (x: number, decimals = 2): string => sizeNumber(decimal(x, decimals), x, decimals + 1)

/** The unit of `mm`. */
export const MM = inEither('mm', 'in')

export const deg = (x: number): string => `${decimal(x)}°`

/** `partMm`: the longer side of the part. */
export function sizeItems(sizes: readonly Size[], partMm: number): Item[] {
  const textMm = sizeTextMm(partMm)
  return sizes.flatMap((size) => (size.kind === 'length' ? lengthItems(size, textMm) : arrowItems(size, textMm)))
}

function lengthItems({ from, to, offsetMm, text }: Extract<Size, { kind: 'length' }>, textMm: number): Item[] {
  const long = Math.hypot(to[0] - from[0], to[1] - from[1])
  if (long === 0) return []
  const along: Point = [(to[0] - from[0]) / long, (to[1] - from[1]) / long]
  const left: Point = [-along[1], along[0]]
  const side = Math.sign(offsetMm) || 1
  const at = (p: Point, u: number, v: number): Point => [
    p[0] + u * along[0] + v * left[0],
    p[1] + u * along[1] + v * left[1],
  ]
  const [a, b] = [at(from, 0, offsetMm), at(to, 0, offsetMm)]
  const extension = (p: Point): Item[] =>
    Math.abs(offsetMm) > 2 * GAP_MM
      ? [linePath('dimension', at(p, 0, side * GAP_MM), at(p, 0, offsetMm + side * GAP_MM))]
      : []
  const turnDeg = readableDeg((Math.atan2(along[1], along[0]) * 180) / Math.PI)
  // Above the line as it is read, whichever way it runs.
  const up =
    Math.cos((turnDeg * Math.PI) / 180) * along[0] + Math.sin((turnDeg * Math.PI) / 180) * along[1] > 0 ? 1 : -1
  const arrowMm = ARROW * textMm
  const width = textWidthMm(text, textMm)
  const inside = long >= width + 2
  const arrowsInside = long >= 4 * arrowMm
  const middle = inside ? at(a, long / 2, up) : at(a, long + arrowMm + 3 + width / 2, up)
  const reach = arrowsInside ? 0 : arrowMm + 2
  const beyond = inside ? reach : arrowMm + 4 + width
  return [
    ...extension(from),
    ...extension(to),
    linePath('dimension', at(a, -reach, 0), at(b, beyond, 0)),
    ...arrowHead(a, arrowsInside ? along : [-along[0], -along[1]], arrowMm),
    ...arrowHead(b, arrowsInside ? [-along[0], -along[1]] : along, arrowMm),
    label('dimension', middle, text, { heightMm: textMm, turnDeg, align: 'middle' }),
  ]
}

/** Two short lines from the tip back along a direction. */
function arrowHead(tip: Point, [dx, dy]: Point, longMm: number): Item[] {
  const wing = (v: number): Point => [
    tip[0] + longMm * dx - v * longMm * 0.2 * dy,
    tip[1] + longMm * dy + v * longMm * 0.2 * dx,
  ]
  return [polygonPath('dimension', [wing(1), tip, wing(-1)], false)]
}

function arrowItems({ at, from, text }: Extract<Size, { kind: 'arrow' }>, textMm: number): Item[] {
  const long = Math.hypot(from[0] - at[0], from[1] - at[1])
  if (long === 0) return []
  const back: Point = [(from[0] - at[0]) / long, (from[1] - at[1]) / long]
  const right = from[0] >= at[0] ? 1 : -1
  const shelf: Point = [from[0] + right * (textWidthMm(text, textMm) + 1), from[1]]
  return [
    polygonPath('dimension', [at, from, shelf], false),
    ...arrowHead(at, back, ARROW * textMm),
    label('dimension', [(from[0] + shelf[0]) / 2, from[1] + 1], text, { heightMm: textMm, align: 'middle' }),
  ]
}
