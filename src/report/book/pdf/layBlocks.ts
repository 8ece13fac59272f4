// Blocks onto pages.
import type { Block, Figure } from '../model.ts'
import type { Flow } from './flow.ts'
import { breakLines } from './lines.ts'
import type { Measure, Placed } from './place.ts'
import { type LaidTable, layTable } from './tables.ts'

const BODY = 9.5
const SMALL = 8
const HEADING = 12
const LEADING = 1.32
const INK = '#111111'
const QUIET = '#555555'
const RED = '#b3121d'
const GREY = '#bbbbbb'

interface TextStyle {
  size?: number
  bold?: boolean
  colour?: string
  indent?: number
}

/** Lines of a text, each reserved by itself; `beside` hears of each: a bar, a box. */
function layText(
  flow: Flow,
  measure: Measure,
  text: string,
  { size = BODY, bold = false, colour = INK, indent = 0 }: TextStyle = {},
  beside: (y: number, height: number, isFirst: boolean) => readonly Placed[] = () => [],
): void {
  const { left, right } = flow.sheet
  const height = size * LEADING
  for (const [i, line] of breakLines(text, right - left - indent, size, bold, measure).entries()) {
    flow.reserve(height)
    const y = flow.y()
    flow.put(...beside(y, height, i === 0), {
      kind: 'text',
      x: left + indent,
      y: y + 0.95 * size,
      size,
      text: line,
      bold,
      colour,
    })
    flow.skip(height)
  }
}

export function layBlocks(flow: Flow, blocks: readonly Block[], measure: Measure): void {
  for (const [i, block] of blocks.entries()) {
    if (block.kind === 'heading') flow.reserve(2.4 * HEADING + heightBelow(flow, blocks.slice(i + 1), measure))
    layBlock(flow, block, measure)
  }
}

/** What must stand on the same page as the heading above it: notes, and the beginning of what comes after them. */
function heightBelow(flow: Flow, blocks: readonly Block[], measure: Measure): number {
  let high = 0
  for (const block of blocks) {
    if (block.kind !== 'note' || high > KEPT_SHARE * pageHigh(flow)) return high + leastHeight(flow, block)
    high += noteHigh(flow, block, measure)
  }
  return high
}

const pageHigh = ({ sheet }: Flow): number => sheet.bottom - sheet.top

function leastHeight(flow: Flow, next: Block): number {
  if (next.kind === 'figure') return figureScale(flow, next.figure) * next.figure.height + 2 * SMALL * LEADING
  if (next.kind === 'note') return 3 * BODY * LEADING
  return next.kind === 'table' ? 5 * SMALL * LEADING : 3 * BODY * LEADING
}

function layBlock(flow: Flow, block: Block, measure: Measure): void {
  switch (block.kind) {
    case 'heading':
      if (flow.y() > flow.sheet.top) flow.skip(8)
      layText(flow, measure, block.text, { size: HEADING, bold: true })
      flow.skip(3)
      break
    case 'paragraph':
      for (const line of block.text.split('\n'))
        layText(flow, measure, line, block.quiet ? { size: SMALL, colour: QUIET } : {})
      flow.skip(4)
      break
    case 'list':
      for (const [i, item] of block.items.entries()) {
        const mark = block.numbered ? `${i + 1}.` : '•'
        layText(flow, measure, item, { indent: 14 }, (y, _, isFirst) =>
          isFirst ? [{ kind: 'text', x: flow.sheet.left + 2, y: y + 0.95 * BODY, size: BODY, text: mark }] : [],
        )
        flow.skip(2)
      }
      flow.skip(3)
      break
    case 'values':
      layValues(flow, block.rows, measure)
      break
    case 'note':
      layNote(flow, block, measure)
      break
    case 'checks':
      layChecks(flow, block, measure)
      break
    case 'table':
      if (block.caption) {
        flow.reserve(6 * SMALL * LEADING)
        layText(flow, measure, block.caption, { bold: true })
      }
      drawTable(flow, layTable(block, flow.sheet.right - flow.sheet.left, measure), block.sum === true, measure)
      break
    case 'figure':
      layFigure(flow, block.figure, block.caption, measure)
      break
    case 'image':
      layImage(flow, block, measure)
      break
  }
}

function layValues(flow: Flow, rows: readonly (readonly [string, string])[], measure: Measure): void {
  const { left, right } = flow.sheet
  const width = Math.min(
    0.45 * (right - left),
    rows.reduce((most, [name]) => Math.max(most, measure(name, BODY, false)), 0) + 12,
  )
  for (const [name, value] of rows) {
    const names = breakLines(name, width - 10, BODY, false, measure)
    const lines = breakLines(value, right - left - width, BODY, true, measure)
    const height = Math.max(names.length, lines.length) * BODY * LEADING + 2
    flow.reserve(height)
    const at = (i: number) => flow.y() + 0.95 * BODY + i * BODY * LEADING
    flow.put(
      ...names.map((text, i): Placed => ({ kind: 'text', x: left, y: at(i), size: BODY, text, colour: QUIET })),
      ...lines.map((text, i): Placed => ({ kind: 'text', x: left + width, y: at(i), size: BODY, text, bold: true })),
    )
    flow.skip(height)
  }
  flow.skip(5)
}

const SEVERITY = {
  severe: { colour: RED, width: 3 },
  warning: { colour: '#c78a00', width: 2 },
  note: { colour: '#888888', width: 1 },
} as const

/** A note up to this share of a page isn't broken over two. */
const KEPT_SHARE = 0.25
const NOTE_INDENT = 10

type Note = Extract<Block, { kind: 'note' }>

const noteSize = ({ severity }: Note): number => (severity === 'severe' ? BODY : SMALL + 0.5)

function noteHigh({ sheet }: Flow, note: Note, measure: Measure): number {
  const wide = sheet.right - sheet.left - NOTE_INDENT
  const size = noteSize(note)
  const lines = note.lines.map((line) => 1.5 + breakLines(line, wide, size, false, measure).length * size * LEADING)
  const title = breakLines(note.title, wide, BODY, true, measure).length * BODY * LEADING
  return title + lines.reduce((sum, high) => sum + high, 0) + 6
}

/** A bar at its left, on every page that it runs over. */
function layNote(flow: Flow, note: Note, measure: Measure): void {
  const { severity, title, lines } = note
  const { colour, width } = SEVERITY[severity]
  const x = flow.sheet.left + 2
  const bar = (y: number, height: number): Placed[] => [
    { kind: 'rule', fromX: x, fromY: y - 2, toX: x, toY: y + height + 0.5, width, colour },
  ]
  const high = noteHigh(flow, note, measure)
  flow.reserve(high <= KEPT_SHARE * pageHigh(flow) ? high : 3 * BODY * LEADING)
  layText(flow, measure, title, { bold: true, indent: NOTE_INDENT, colour: severity === 'severe' ? RED : INK }, bar)
  for (const line of lines) {
    flow.skip(1.5)
    layText(flow, measure, line, { size: noteSize(note), indent: NOTE_INDENT }, bar)
  }
  flow.skip(6)
}

function layChecks(flow: Flow, { items }: Extract<Block, { kind: 'checks' }>, measure: Measure): void {
  const { left } = flow.sheet
  const side = 7.5
  for (const { text, done, remarks = [] } of items) {
    flow.reserve(2 * BODY * LEADING)
    layText(flow, measure, text, { indent: 16 }, (y, _, isFirst) => {
      if (!isFirst) return []
      const top = y + 1.5
      const box: Placed = { kind: 'box', x: left + 1, y: top, width: side, height: side, stroke: INK, lineWidth: 0.8 }
      const cross = [top, top + side].map(
        (fromY): Placed => ({
          kind: 'rule',
          fromX: left + 1,
          fromY,
          toX: left + 1 + side,
          toY: 2 * top + side - fromY,
          width: 0.9,
          colour: INK,
        }),
      )
      return done ? [box, ...cross] : [box]
    })
    for (const remark of remarks) layText(flow, measure, remark, { indent: 16, bold: true, colour: RED, size: SMALL })
    flow.skip(2.5)
  }
  flow.skip(3)
}

function drawTable(flow: Flow, table: LaidTable, hasSum: boolean, measure: Measure): void {
  const { left } = flow.sheet
  const last = table.columns.at(-1)
  const right = left + (last ? last.x + last.width : 0)
  const line = table.size * LEADING
  const heightOf = (cells: readonly string[][]) => Math.max(1, ...cells.map((c) => c.length)) * line + 3
  const rule = (width: number, colour: string) =>
    flow.put({ kind: 'rule', fromX: left, fromY: flow.y(), toX: right, toY: flow.y(), width, colour })
  const draw = (cells: readonly string[][], bold: boolean) => {
    for (const [i, lines] of cells.entries()) {
      const column = table.columns[i]
      if (!column) continue
      for (const [k, text] of lines.entries()) {
        if (text === '') continue
        const x = left + column.x + (column.right ? column.width - measure(text, table.size, bold) : 0)
        flow.put({ kind: 'text', x, y: flow.y() + 1.5 + 0.95 * table.size + k * line, size: table.size, text, bold })
      }
    }
    flow.skip(heightOf(cells))
  }
  const drawHead = () => {
    if (!table.head) return
    draw(table.head, true)
    rule(0.8, INK)
  }
  const headHigh = table.head ? heightOf(table.head) : 0
  const most = Math.max(1, Math.floor((flow.sheet.bottom - flow.sheet.top - headHigh - 3) / line))
  const pieces = table.rows.flatMap((cells) => sliced(cells, most))
  flow.reserve(headHigh + (pieces[0] ? heightOf(pieces[0]) : 0))
  drawHead()
  for (const [k, cells] of pieces.entries()) {
    if (flow.reserve(heightOf(cells))) drawHead()
    else if (k > 0) rule(hasSum && k === pieces.length - 1 ? 0.8 : 0.25, hasSum && k === pieces.length - 1 ? INK : GREY)
    draw(cells, hasSum && k === pieces.length - 1)
  }
  flow.skip(8)
}

/** A row that is higher than a page, in pieces. */
function sliced(cells: readonly string[][], most: number): string[][][] {
  const high = Math.max(1, ...cells.map((c) => c.length))
  return Array.from({ length: Math.ceil(high / most) }, (_, i) => cells.map((c) => c.slice(i * most, (i + 1) * most)))
}

/** As wide as the page, unless it would be higher than it. */
function figureScale({ sheet }: Flow, { width, height }: Figure): number {
  return Math.min((sheet.right - sheet.left) / width, (sheet.bottom - sheet.top - 4 * SMALL * LEADING) / height)
}

function layFigure(flow: Flow, figure: Figure, caption: string, measure: Measure): void {
  const scale = figureScale(flow, figure)
  flow.reserve(scale * figure.height + 2 * SMALL * LEADING)
  const { left, right } = flow.sheet
  flow.put({ kind: 'figure', x: left + (right - left - scale * figure.width) / 2, y: flow.y(), scale, figure })
  flow.skip(scale * figure.height + 3)
  layText(flow, measure, caption, { size: SMALL, colour: QUIET })
  flow.skip(8)
}

function layImage(
  flow: Flow,
  { png, widthPx, heightPx, caption }: Extract<Block, { kind: 'image' }>,
  measure: Measure,
): void {
  const { left, right, top, bottom } = flow.sheet
  const scale = Math.min((right - left) / widthPx, (bottom - top - 4 * SMALL * LEADING) / heightPx)
  const [width, height] = [scale * widthPx, scale * heightPx]
  flow.reserve(height + 2 * SMALL * LEADING)
  flow.put({ kind: 'image', x: left + (right - left - width) / 2, y: flow.y(), width, height, png })
  flow.skip(height + 3)
  layText(flow, measure, caption, { size: SMALL, colour: QUIET })
  flow.skip(8)
}
