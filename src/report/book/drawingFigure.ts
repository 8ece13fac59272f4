// A cutting sheet as a small picture: without its frame and title block, and to no scale.

import { arcOf, boxOf, stretchesOf } from '../../drawing/path.ts'
import { refusalText } from '../../drawing/refusals.ts'
import { drawSheet, listSheets } from '../../drawing/sheets.ts'
import type { Drawing, Item, Layer } from '../../drawing/types.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { UnitSystem } from '../../num/unitSystem.ts'
import { heading, list, paragraph } from './blocks.ts'
import { lengthText, type Point } from './figureMarks.ts'
import type { Block, Figure, Mark, Style } from './model.ts'

const WIDTH = 480
const MOST_HIGH = 235
const MARGIN = 4
/** Smaller, a size can't be read; larger, it hides a small part. */
const LEAST_TEXT = 5.5
const MOST_TEXT = 8
const ARC_STEP_RAD = Math.PI / 24

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
    marks: shown.map((i) => markOf(i, at, perMm)),
    words: title,
  }
}

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

function markOf(item: Item, at: (x: number, y: number) => Point, perMm: number): Mark {
  const style = STYLES[item.layer]
  const colour = style.stroke ?? '#111111'
  if (item.kind === 'text') {
    const [x, y] = at(item.x, item.y)
    const anchor = item.align === 'left' ? 'start' : item.align === 'right' ? 'end' : 'middle'
    // A capital is about 0.7 of a font's size high.
    return {
      kind: 'text',
      x,
      y,
      size: Math.min(MOST_TEXT, Math.max(LEAST_TEXT, (item.heightMm * perMm) / 0.7)),
      text: item.text,
      anchor,
      turnDeg: item.turnDeg,
      colour,
    }
  }
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
