// Laid pages to the bytes of a PDF (ISO 32000-1), with the lamp's document attached as its source (the key AFRelationship is of ISO 32000-2).
import type { PDFDocument, PDFFont, PDFImage, PDFOperator, PDFPage, PDFRef } from '@cantoo/pdf-lib'
import { ATTACHED_NAME } from '../../../files/lampInPdf.ts'
import type { Book, Figure, Mark, Style } from '../model.ts'
import { showable } from './glyphs.ts'
import { layBook } from './layBook.ts'
import type { Laid, Measure, Placed } from './place.ts'

type Library = typeof import('@cantoo/pdf-lib')

/** TrueType fonts that are embedded in part: as many of their glyphs as the book shows. */
export interface BookFonts {
  regular: Uint8Array
  bold: Uint8Array
}

export async function bookPdf(book: Book, fonts: BookFonts): Promise<Uint8Array> {
  const [lib, fontkit] = await Promise.all([import('@cantoo/pdf-lib'), import('@cantoo/fontkit')])
  const doc = await lib.PDFDocument.create()
  doc.registerFontkit(fontkit)
  // Ligatures would hide letters from a search; without kerning a text is as wide as its letters.
  const how = { subset: true, features: { liga: false, kern: false } }
  const faces = { regular: await doc.embedFont(fonts.regular, how), bold: await doc.embedFont(fonts.bold, how) }
  const pens = { regular: penOf(faces.regular, 'Regular'), bold: penOf(faces.bold, 'Bold') }
  const measure: Measure = (text, size, bold) => (bold ? pens.bold : pens.regular).width(text) * size
  const laid = layBook(book, measure)
  describe(doc, book)
  const images = await embedImages(doc, laid)
  const pages = laid.pages.map(() => doc.addPage([laid.widthPt, laid.heightPt]))
  for (const [i, page] of pages.entries()) {
    for (const { key, font } of Object.values(pens)) page.node.setFontDictionary(lib.PDFName.of(key), font.ref)
    const canvas: Canvas = { lib, page, heightPt: laid.heightPt, pens, images }
    for (const item of laid.pages[i]?.items ?? [])
      draw(canvas, item, (chapter) => pages[laid.chapterPages[chapter] ?? 0])
  }
  const bookmarks = book.chapters.map((c, i) => ({ title: c.title, page: pages[laid.chapterPages[i] ?? 0] }))
  addBookmarks(lib, doc, bookmarks)
  await doc.attach(new TextEncoder().encode(book.lampText), ATTACHED_NAME, {
    mimeType: 'application/json',
    description: 'The lamp, as Lampwright opens it',
    creationDate: dateOf(book),
    modificationDate: dateOf(book),
    afRelationship: lib.AFRelationship.Source,
  })
  return doc.save()
}

interface Pen {
  font: PDFFont
  /** Its name on every page. `drawText` of the library gives it another for each line. */
  key: string
  shown(text: string): string
  /** At size 1. */
  width(text: string): number
}

function penOf(font: PDFFont, key: string): Pen {
  const characters = new Set(font.getCharacterSet())
  const texts = new Map<string, string>()
  const widths = new Map<string, number>()
  const shown = (text: string) => {
    const known = texts.get(text) ?? showable(text, (c) => characters.has(c))
    texts.set(text, known)
    return known
  }
  const ofCharacter = (c: string) => {
    const known = widths.get(c) ?? font.widthOfTextAtSize(c, 1000) / 1000
    widths.set(c, known)
    return known
  }
  return { font, key, shown, width: (text) => [...shown(text)].reduce((sum, c) => sum + ofCharacter(c), 0) }
}

const dateOf = ({ date }: Book): Date => new Date(`${date}T00:00:00Z`)

function describe(doc: PDFDocument, book: Book): void {
  doc.setTitle(book.title, { showInWindowTitleBar: true })
  doc.setSubject('The book of a lamp: beam, dangers, heat, wiring')
  doc.setCreator(`Lampwright ${book.version}`)
  doc.setProducer(`Lampwright ${book.version}`)
  doc.setCreationDate(dateOf(book))
  doc.setModificationDate(dateOf(book))
  doc.setLanguage('en-GB')
}

async function embedImages(doc: PDFDocument, { pages }: Laid): Promise<Map<Uint8Array, PDFImage>> {
  const images = new Map<Uint8Array, PDFImage>()
  for (const item of pages.flatMap((p) => p.items))
    if (item.kind === 'image' && !images.has(item.png)) images.set(item.png, await doc.embedPng(item.png))
  return images
}

interface Canvas {
  lib: Library
  page: PDFPage
  heightPt: number
  pens: { regular: Pen; bold: Pen }
  images: ReadonlyMap<Uint8Array, PDFImage>
}

function draw(canvas: Canvas, item: Placed, pageOf: (chapter: number) => PDFPage | undefined): void {
  const { lib, page, heightPt, images } = canvas
  switch (item.kind) {
    case 'text':
      drawText(canvas, item)
      break
    case 'rule':
      page.drawLine({
        start: { x: item.fromX, y: heightPt - item.fromY },
        end: { x: item.toX, y: heightPt - item.toY },
        thickness: item.width,
        color: colourOf(lib, item.colour),
      })
      break
    case 'box':
      page.drawRectangle({
        ...{ x: item.x, y: heightPt - item.y - item.height, width: item.width, height: item.height },
        ...{ borderColor: colourOf(lib, item.stroke), borderWidth: item.lineWidth },
      })
      break
    case 'figure':
      drawFigure(canvas, item)
      break
    case 'image': {
      const image = images.get(item.png)
      if (image)
        page.drawImage(image, { x: item.x, y: heightPt - item.y - item.height, width: item.width, height: item.height })
      break
    }
    case 'link': {
      const to = pageOf(item.chapter)
      if (to) addLink(page, { ...item, y: heightPt - item.y - item.height }, to)
    }
  }
}

interface DrawnText {
  x: number
  y: number
  size: number
  text: string
  bold?: boolean
  colour?: string
  turnDeg?: number
}

function drawText(
  { lib, page, heightPt, pens }: Canvas,
  { x, y, size, text, bold, colour, turnDeg = 0 }: DrawnText,
): void {
  const pen = bold ? pens.bold : pens.regular
  const shown = pen.shown(text)
  if (shown === '') return
  const turn = (turnDeg * Math.PI) / 180
  const [c, s] = [Math.cos(turn), Math.sin(turn)]
  page.pushOperators(
    lib.beginText(),
    fillColour(lib, colour ?? '#111111'),
    lib.setFontAndSize(pen.key, size),
    lib.setTextMatrix(c, s, -s, c, x, heightPt - y),
    lib.showText(pen.font.encodeText(shown)),
    lib.endText(),
  )
}

/** Lines and areas in the figure's own frame, which is turned over; text upright. */
function drawFigure(
  canvas: Canvas,
  { x, y, scale, figure }: { x: number; y: number; scale: number; figure: Figure },
): void {
  const { lib, page, heightPt, pens } = canvas
  page.pushOperators(
    lib.pushGraphicsState(),
    lib.concatTransformationMatrix(scale, 0, 0, -scale, x, heightPt - y),
    lib.setLineJoin(lib.LineJoinStyle.Round),
    ...figure.marks.flatMap((m) => (m.kind === 'text' ? [] : shapeOperators(lib, m))),
    lib.popGraphicsState(),
  )
  for (const m of figure.marks) {
    if (m.kind !== 'text') continue
    const wide = (m.bold ? pens.bold : pens.regular).width(m.text) * m.size * scale
    const back = m.anchor === 'middle' ? wide / 2 : m.anchor === 'end' ? wide : 0
    const turn = ((m.turnDeg ?? 0) * Math.PI) / 180
    const [textX, textY] = [x + scale * m.x - back * Math.cos(turn), y + scale * m.y + back * Math.sin(turn)]
    drawText(canvas, { ...m, x: textX, y: textY, size: scale * m.size })
  }
}

/** Handle of a cubic curve that stands for a quarter of a circle: 4/3·(√2 − 1), within 3 in ten thousand of the radius (textbook). */
const QUARTER = (4 / 3) * (Math.SQRT2 - 1)

function shapeOperators(lib: Library, mark: Exclude<Mark, { kind: 'text' }>): PDFOperator[] {
  const { stroke, fill, width = 1, dash } = mark
  if (!stroke && !fill) return []
  return [
    ...(stroke ? [strokeColour(lib, stroke), lib.setLineWidth(width), lib.setDashPattern([...(dash ?? [])], 0)] : []),
    ...(fill ? [fillColour(lib, fill)] : []),
    ...(mark.kind === 'circle' ? circleOperators(lib, mark) : lineOperators(lib, mark)),
    paintOperator(lib, mark),
  ]
}

const paintOperator = (lib: Library, { stroke, fill }: Style): PDFOperator =>
  stroke && fill ? lib.fillAndStroke() : fill ? lib.fill() : lib.stroke()

const lineOperators = (lib: Library, { points, closed }: Extract<Mark, { kind: 'line' }>): PDFOperator[] => [
  ...points.map(([x, y], i) => (i === 0 ? lib.moveTo(x, y) : lib.lineTo(x, y))),
  ...(closed ? [lib.closePath()] : []),
]

function circleOperators(lib: Library, { x, y, r }: Extract<Mark, { kind: 'circle' }>): PDFOperator[] {
  const k = QUARTER * r
  return [
    lib.moveTo(x + r, y),
    lib.appendBezierCurve(x + r, y + k, x + k, y + r, x, y + r),
    lib.appendBezierCurve(x - k, y + r, x - r, y + k, x - r, y),
    lib.appendBezierCurve(x - r, y - k, x - k, y - r, x, y - r),
    lib.appendBezierCurve(x + k, y - r, x + r, y - k, x + r, y),
    lib.closePath(),
  ]
}

/** "#rrggbb" as three numbers from 0 to 1. */
function rgbOf(hex: string): [number, number, number] {
  const of = (at: number) => Number.parseInt(hex.slice(at, at + 2), 16) / 255
  return [of(1), of(3), of(5)]
}
const colourOf = (lib: Library, hex: string) => lib.rgb(...rgbOf(hex))
const strokeColour = (lib: Library, hex: string) => lib.setStrokingRgbColor(...rgbOf(hex))
const fillColour = (lib: Library, hex: string) => lib.setFillingRgbColor(...rgbOf(hex))

interface Area {
  x: number
  y: number
  width: number
  height: number
}

function addLink({ doc, node }: PDFPage, { x, y, width, height }: Area, to: PDFPage): void {
  const link = doc.context.obj({
    ...{ Type: 'Annot', Subtype: 'Link', Rect: [x, y, x + width, y + height], Border: [0, 0, 0] },
    Dest: [to.ref, 'Fit'],
  })
  node.addAnnot(doc.context.register(link))
}

/** The outline of a document: ISO 32000-1, 12.3.3; one level. */
function addBookmarks(
  lib: Library,
  doc: PDFDocument,
  entries: readonly { title: string; page: PDFPage | undefined }[],
): void {
  const { context } = doc
  const there = entries.flatMap(({ title, page }) => (page ? [{ title, page, ref: context.nextRef() }] : []))
  const [first, last] = [there[0], there.at(-1)]
  if (!first || !last) return
  const root = context.nextRef()
  for (const [i, { title, page, ref }] of there.entries()) {
    const near: Record<string, PDFRef> = {}
    const [before, after] = [there[i - 1], there[i + 1]]
    if (before) near['Prev'] = before.ref
    if (after) near['Next'] = after.ref
    context.assign(
      ref,
      context.obj({ Title: lib.PDFHexString.fromText(title), Parent: root, Dest: [page.ref, 'Fit'], ...near }),
    )
  }
  context.assign(root, context.obj({ Type: 'Outlines', First: first.ref, Last: last.ref, Count: there.length }))
  doc.catalog.set(lib.PDFName.of('Outlines'), root)
}
