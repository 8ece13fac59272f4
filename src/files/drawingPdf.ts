// A drawing as PDF at true scale, over as many pages as it takes, each with register crosses, a label and a check bar.
// Written by @cantoo/pdf-lib (MIT), which runs in the page and the terminal alike, loaded when a drawing is asked for; pdfkit writes to Node’s streams.
import type { PDFFont, PDFPage } from '@cantoo/pdf-lib'
import { arcOf, boxOf, stretchesOf } from '../drawing/path.ts'
import { CHECK_BAR_MM, OVERLAP_MM, type Paper, type Tile, type Tiling, tiles } from '../drawing/tiles.ts'
import type { Drawing, Item, Layer, Path } from '../drawing/types.ts'
import { printable } from '../lamp/printable.ts'
import { CAPITAL, LINES } from './drawingSvg.ts'

type Lib = typeof import('@cantoo/pdf-lib')

/** PDF’s points: 72 an inch of 25.4 mm (ISO 32000-1, 8.3.2.3). */
const POINTS_PER_MM = 72 / 25.4
/** An arc of at most this is one cubic curve: 15° is within 4e-9 of its radius (error about (angle/90°)⁶ · 2.7e-4; from memory). */
const ARC_STEP_RAD = Math.PI / 12
const CROSS_MM = 6

/** Bytes of a PDF file. Characters that its plain font lacks become plain letters or question marks. */
export async function drawingPdf(drawing: Drawing, paper: Paper): Promise<Uint8Array> {
  const lib = await import('@cantoo/pdf-lib')
  const tiling = tiles(drawing, paper)
  const file = await lib.PDFDocument.create({ updateMetadata: false })
  const font = await file.embedFont(lib.StandardFonts.Helvetica)
  file.setTitle(drawing.title)
  file.catalog.getOrCreateViewerPreferences().setPrintScaling(lib.PrintScaling.None)
  const boxed = drawing.items.map((item) => ({ item, box: boxOf([item]) }))
  for (const tile of tiling.tiles.filter((t) => !t.isEmpty)) {
    const page = file.addPage([tiling.paper.widthMm * POINTS_PER_MM, tiling.paper.heightMm * POINTS_PER_MM])
    const { window } = tile
    const inside = boxed.filter(
      ({ box }) =>
        box.fromX <= window.toX && box.toX >= window.fromX && box.fromY <= window.toY && box.toY >= window.fromY,
    )
    drawPage(
      { lib, page, font, letters: lettersOf(font) },
      tiling,
      tile,
      inside.map((b) => b.item),
      drawing.title,
    )
  }
  return file.save()
}

interface Pen {
  lib: Lib
  page: PDFPage
  font: PDFFont
  letters: ReadonlySet<number>
}

const lettersOf = (font: PDFFont): ReadonlySet<number> => new Set(font.getCharacterSet())

function drawPage(pen: Pen, tiling: Tiling, tile: Tile, items: readonly Item[], title: string): void {
  const { lib, page } = pen
  const { xMm, yMm } = tiling.windowAt
  const { fromX, fromY, toX, toY } = tile.window
  const k = POINTS_PER_MM
  page.pushOperators(lib.pushGraphicsState(), lib.concatTransformationMatrix(k, 0, 0, k, 0, 0))
  page.pushOperators(lib.pushGraphicsState())
  page.pushOperators(lib.rectangle(xMm, yMm, toX - fromX, toY - fromY), lib.clip(), lib.endPath())
  page.pushOperators(lib.concatTransformationMatrix(1, 0, 0, 1, xMm - fromX, yMm - fromY))
  for (const item of items) drawItem(pen, item)
  page.pushOperators(lib.popGraphicsState())
  drawEdges(pen, tiling, tile)
  drawFoot(pen, tiling, tile, title)
  page.pushOperators(lib.popGraphicsState())
}

function drawItem(pen: Pen, item: Item): void {
  const { lib, page } = pen
  if (item.kind === 'text') {
    const { r, g, b } = rgbOf(item.layer)
    write(pen, item.text, item.x, item.y, item.heightMm, {
      turnDeg: item.turnDeg,
      align: item.align,
      grey: lib.rgb(r, g, b),
    })
    return
  }
  setLine(pen, item.layer)
  if (item.kind === 'circle') page.pushOperators(...circleOperators(lib, item.x, item.y, item.radiusMm))
  else page.pushOperators(...pathOperators(lib, item))
  page.pushOperators(lib.stroke())
}

function setLine({ lib, page }: Pen, layer: Layer): void {
  const { widthMm, dashMm } = LINES[layer]
  const { r, g, b } = rgbOf(layer)
  page.pushOperators(
    lib.setLineWidth(widthMm),
    lib.setStrokingRgbColor(r, g, b),
    lib.setDashPattern(dashMm ? [...dashMm] : [], 0),
  )
}

function rgbOf(layer: Layer): { r: number; g: number; b: number } {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((i) => Number.parseInt(LINES[layer].colour.slice(i, i + 2), 16) / 255)
  return { r, g, b }
}

function pathOperators(lib: Lib, path: Path) {
  const [first] = path.vertices
  if (!first) return []
  const ways = stretchesOf(path).flatMap(([a, b]) => {
    const arc = arcOf(a, b)
    return arc ? arcOperators(lib, arc) : [lib.lineTo(b.x, b.y)]
  })
  return [lib.moveTo(first.x, first.y), ...ways, ...(path.closed ? [lib.closePath()] : [])]
}

const circleOperators = (lib: Lib, x: number, y: number, radiusMm: number) => [
  lib.moveTo(x + radiusMm, y),
  ...arcOperators(lib, { x, y, radiusMm, fromRad: 0, sweepRad: 2 * Math.PI }),
  lib.closePath(),
]

/** Cubic curves whose handles are 4/3 tan(angle / 4) of the radius long (common practice; from memory). */
function arcOperators(lib: Lib, arc: { x: number; y: number; radiusMm: number; fromRad: number; sweepRad: number }) {
  const n = Math.max(1, Math.ceil(Math.abs(arc.sweepRad) / ARC_STEP_RAD))
  const step = arc.sweepRad / n
  const handle = (4 / 3) * Math.tan(step / 4)
  const at = (rad: number, along: number): [number, number] => [
    arc.x + arc.radiusMm * (Math.cos(rad) - along * Math.sin(rad)),
    arc.y + arc.radiusMm * (Math.sin(rad) + along * Math.cos(rad)),
  ]
  return Array.from({ length: n }, (_, i) => {
    const [from, to] = [arc.fromRad + i * step, arc.fromRad + (i + 1) * step]
    return lib.appendBezierCurve(...at(from, handle), ...at(to, -handle), ...at(to, 0))
  })
}

type Ink = ReturnType<Lib['rgb']>

function write(
  { page, font, letters, lib }: Pen,
  text: string,
  x: number,
  y: number,
  heightMm: number,
  { turnDeg = 0, align = 'left', grey }: { turnDeg?: number; align?: 'left' | 'middle' | 'right'; grey?: Ink } = {},
): void {
  const shown = encodable(printable(text), letters)
  const size = heightMm / CAPITAL
  const back = align === 'left' ? 0 : (font.widthOfTextAtSize(shown, size) * (align === 'middle' ? 1 : 2)) / 2
  const turn = (turnDeg * Math.PI) / 180
  page.drawText(shown, {
    ...{ x: x - back * Math.cos(turn), y: y - back * Math.sin(turn), size, font, rotate: lib.degrees(turnDeg) },
    color: grey ?? lib.rgb(0, 0, 0),
  })
}

const encodable = (text: string, letters: ReadonlySet<number>): string =>
  [...text]
    .flatMap((c) => (letters.has(c.codePointAt(0) ?? 0) ? [c] : [...c.normalize('NFD')].slice(0, 1)))
    .map((c) => (letters.has(c.codePointAt(0) ?? 0) ? c : '?'))
    .join('')

/** The window’s edge, to trim along, and crosses in the middle of what neighbours share: lay one page’s on the other’s. */
function drawEdges(pen: Pen, { windowAt, rows, columns }: Tiling, { row, column, window }: Tile): void {
  const { lib, page } = pen
  const [wide, high] = [window.toX - window.fromX, window.toY - window.fromY]
  page.pushOperators(lib.setLineWidth(0.1), lib.setStrokingRgbColor(0.6, 0.6, 0.6), lib.setDashPattern([1, 1], 0))
  page.pushOperators(lib.rectangle(windowAt.xMm, windowAt.yMm, wide, high), lib.stroke())
  page.pushOperators(lib.setLineWidth(0.2), lib.setStrokingRgbColor(0, 0, 0), lib.setDashPattern([], 0))
  const half = OVERLAP_MM / 2
  const hasNext = { left: column > 1, right: column < columns, up: row > 1, down: row < rows }
  for (const [isLeft, isLow] of [
    [true, true],
    [true, false],
    [false, true],
    [false, false],
  ] as const) {
    const beside = isLeft ? hasNext.left : hasNext.right
    const over = isLow ? hasNext.down : hasNext.up
    if (!beside && !over) continue
    const x = windowAt.xMm + (isLeft ? half : wide - half)
    const y = windowAt.yMm + (isLow ? half : high - half)
    page.pushOperators(
      ...[lib.moveTo(x - CROSS_MM / 2, y), lib.lineTo(x + CROSS_MM / 2, y)],
      ...[lib.moveTo(x, y - CROSS_MM / 2), lib.lineTo(x, y + CROSS_MM / 2), lib.stroke()],
    )
  }
}

function drawFoot(
  pen: Pen,
  { windowAt, rows, columns, tiles: all }: Tiling,
  { row, column }: Tile,
  title: string,
): void {
  const { lib, page } = pen
  const x = windowAt.xMm
  const pages = all.filter((t) => !t.isEmpty).length
  const where =
    pages === 1
      ? 'one page'
      : `row ${row} of ${rows}, column ${column} of ${columns}; ${pages} pages${pages < all.length ? `, ${all.length - pages} without lines left out` : ''}`
  write(pen, `${title.length > 60 ? `${title.slice(0, 59)}…` : title}: ${where}`, x, 18.5, 2.5)
  write(
    pen,
    `Print at 100 %, not fitted to the page. This bar is ${CHECK_BAR_MM} mm long: measure it first.`,
    x,
    14.5,
    2,
  )
  const y = 9
  const ticks = Array.from({ length: 11 }, (_, i) => (i * CHECK_BAR_MM) / 10)
  page.pushOperators(
    ...[lib.setLineWidth(0.3), lib.setStrokingRgbColor(0, 0, 0), lib.setDashPattern([], 0)],
    ...[lib.moveTo(x, y), lib.lineTo(x + CHECK_BAR_MM, y)],
    ...ticks.flatMap((t) => [lib.moveTo(x + t, y), lib.lineTo(x + t, y + (t % 50 === 0 ? 4 : 2))]),
    lib.stroke(),
  )
}
