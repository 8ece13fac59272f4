// A cutting sheet as a small picture: without its frame and title block, and to no scale.

import { arcOf, boxOf, stretchesOf } from '../../drawing/path.ts'
import { refusalText } from '../../drawing/refusals.ts'
import { drawSheet, listSheets } from '../../drawing/sheets.ts'
import type { Drawing, Item, Layer } from '../../drawing/types.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { UnitSystem } from '../../num/unitSystem.ts'
import { heading, list, paragraph } from './blocks.ts'
import { backed, lengthText, type Point } from './figureMarks.ts'
import type { Block, Figure, Mark, Style } from './model.ts'

const WIDTH = 480
const MOST_HIGH = 235
const MARGIN = 4
/** Smaller, a size can't be read; larger, it hides a small part. */
const LEAST_TEXT = 5.5
const MOST_TEXT = 8
const ARC_STEP_RAD = Math.PI / 90
/** Words longer than this stand on the part only where they keep their size: made larger, they would run out of it. */
const SHORT_LETTERS = 6

/** Every sheet that the lamp has; of those that can't be drawn the reason. */
export function drawingBlocks(lamp: Lamp, context: { date: string; hash: string; system?: UnitSystem }): Block[] {
  const { system = 'metric' } = context
  const listed = listSheets(lamp, system)
  const refused = listed.flatMap((s) => (s.ok ? [] : [`${s.title}: ${refusalText(s, 'title')}`]))
  const drawn = listed.flatMap((s): Block[] => {
    if (!s.ok) return []
    const sheet = drawSheet(lamp, s.name, { ...context, withKerf: false })
    if (!sheet.ok) return [heading(s.title), paragraph(refusalText(sheet, 'title'))]
    const caption = `${lengthText(s.widthMm, system)} × ${lengthText(s.heightMm, system)}, finished sizes. At true size: lampwright draw FILE --sheet ${s.name}`
    return [heading(s.title), { kind: 'figure', figure: drawingFigure(sheet.drawing), caption }]
  })
  return drawn.length === 0 && refused.length === 0
    ? []
    : [
        paragraph(
          'For an overview, to no scale: cut nothing by these. The sheets at true size come from the command under each.',
        ),
        ...drawn,
        ...(refused.length > 0 ? [heading('Not drawn'), list(refused)] : []),
      ]
}

export function drawingFigure({ title, items }: Pick<Drawing, 'title' | 'items'>): Figure {
  const shown = items.filter((i) => i.layer !== 'frame' && i.layer !== 'text')
  const { fromX, toX, fromY, toY } = boxOf(shown)
  const perMm = Math.min((WIDTH - 2 * MARGIN) / (toX - fromX), MOST_HIGH / (toY - fromY))
  const left = (WIDTH - (toX - fromX) * perMm) / 2
  const at = (x: number, y: number): Point => [left + (x - fromX) * perMm, MARGIN + (toY - y) * perMm]
  return {
    width: WIDTH,
    height: 2 * MARGIN + (toY - fromY) * perMm,
    marks: [
      ...shown.flatMap((i) => (i.kind === 'text' ? [] : [markOf(i, at, perMm)])),
      ...shown.flatMap((i) => (i.kind === 'text' && isReadable(i, perMm) ? wordMarks(i, at, perMm) : [])),
    ],
    words: title,
  }
}

/** A capital is about 0.7 of a font's size high. */
const sizeOf = (heightMm: number, perMm: number): number => (heightMm * perMm) / 0.7

type Words = Extract<Item, { kind: 'text' }>

const isReadable = ({ layer, text, heightMm }: Words, perMm: number): boolean =>
  layer === 'dimension' || text.length <= SHORT_LETTERS || sizeOf(heightMm, perMm) >= LEAST_TEXT

const STYLES: Record<Layer, Style> = {
  outline: { stroke: '#111111', width: 1 },
  hole: { stroke: '#111111', width: 0.7 },
  slot: { stroke: '#111111', width: 0.7 },
  bend: { stroke: '#1f5a80', width: 0.5, dash: [4, 2] },
  glue: { stroke: '#8a5a00', width: 0.5, dash: [1.5, 1.5] },
  mark: { stroke: '#37604f', width: 0.5 },
  dimension: { stroke: '#666666', width: 0.35 },
  text: {},
  frame: {},
}

/** Made larger than they are, they reach over lines: on a ground of their own. */
function wordMarks(item: Words, at: (x: number, y: number) => Point, perMm: number): Mark[] {
  const [x, y] = at(item.x, item.y)
  const own = sizeOf(item.heightMm, perMm)
  const words = {
    ...({ kind: 'text', x, y, text: item.text, turnDeg: item.turnDeg } as const),
    size: Math.min(MOST_TEXT, Math.max(LEAST_TEXT, own)),
    anchor: ANCHORS[item.align],
    colour: STYLES[item.layer].stroke ?? '#111111',
  }
  return own < LEAST_TEXT ? backed(words, '#ffffff') : [words]
}

const ANCHORS = { left: 'start', middle: 'middle', right: 'end' } as const

function markOf(item: Exclude<Item, Words>, at: (x: number, y: number) => Point, perMm: number): Mark {
  const style = STYLES[item.layer]
  if (item.kind === 'circle') {
    const [x, y] = at(item.x, item.y)
    return { kind: 'circle', x, y, r: item.radiusMm * perMm, ...style }
  }
  const [first] = item.vertices
  const points = stretchesOf(item).flatMap(([a, b]) => {
    const arc = arcOf(a, b)
    if (!arc) return [at(b.x, b.y)]
    const n = Math.max(1, Math.ceil(Math.abs(arc.sweepRad) / ARC_STEP_RAD))
    return Array.from({ length: n }, (_, i) => {
      const angle = arc.fromRad + (arc.sweepRad * (i + 1)) / n
      return at(arc.x + arc.radiusMm * Math.cos(angle), arc.y + arc.radiusMm * Math.sin(angle))
    })
  })
  return { kind: 'line', points: first ? [at(first.x, first.y), ...points] : [], closed: item.closed, ...style }
}
