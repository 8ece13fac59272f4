// The PDF as an independent reader has it: pdf.js.
import { PDFDocument } from '@cantoo/pdf-lib'
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs'
import type { TextItem } from 'pdfjs-dist/types/src/display/api.js'
import { beforeAll, describe, expect, test } from 'vitest'
import { bySeverity } from '../../../src/checks/finding.ts'
import { lampFromPdf } from '../../../src/files/lampInPdf.ts'
import { designHash } from '../../../src/lamp/designHash.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { benchCheck, gannetHead } from '../../../src/library/demos.ts'
import { answerLine } from '../../../src/report/answerLine.ts'
import { bookHtml } from '../../../src/report/book/html.ts'
import { type Book, CHAPTER_IDS, CHAPTER_TITLES, type ChapterId } from '../../../src/report/book/model.ts'
import { bookPdf } from '../../../src/report/book/pdf/write.ts'
import { escapeHtml } from '../../../src/report/dangerPage.ts'
import { figureRows, ledgerRows } from '../../../src/report/sheetRows.ts'
import { amount } from '../../kit/amount.ts'
import { bookFonts, fakeBook, fakeResults } from '../../kit/fakeBook.ts'
import { once } from '../../kit/once.ts'
import { pixel } from '../../kit/pixel.ts'

interface ReadPage {
  widthPt: number
  heightPt: number
  items: TextItem[]
}

async function readPdf(bytes: Uint8Array) {
  const doc = await getDocument({ data: bytes.slice(), verbosity: 0 }).promise
  const pages: ReadPage[] = []
  for (let i = 1; i <= doc.numPages; i++) {
    const page = await doc.getPage(i)
    const { width: widthPt, height: heightPt } = page.getViewport({ scale: 1 })
    const { items } = await page.getTextContent()
    pages.push({ widthPt, heightPt, items: items.filter((item): item is TextItem => 'str' in item) })
  }
  const outline = await doc.getOutline()
  const attachments = await doc.getAttachments()
  await doc.loadingTask.destroy()
  return { pages, outline, attachments }
}

/** With plain spaces and none at line ends, so that what wraps is found. */
const plain = (text: string): string => text.replace(/[\s\u00a0]+/g, '')
const textOf = ({ items }: ReadPage): string => plain(items.map((i) => i.str).join(' '))
const allText = (pages: readonly ReadPage[]): string => pages.map(textOf).join('')

const firstPage = (book: Book): Book => ({ ...book, chapters: [] })
const pdfOf = async (lamp: Lamp, change: (b: Book) => Book = (b) => b) => bookPdf(change(fakeBook(lamp)), bookFonts())

describe.each([['gannet-head', gannetHead] as const, ...amount([], [['bench-check', benchCheck] as const])])(
  'the book of %s',
  (_, demo) => {
    const lamp = demo()
    let bytes: Uint8Array
    let read: Awaited<ReturnType<typeof readPdf>>
    beforeAll(async () => {
      bytes = await pdfOf(lamp)
      read = await readPdf(bytes)
    })
    test('figures, ± and units are the words of the beam sheet', () => {
      const { sheet } = fakeResults(lamp)
      const text = allText(read.pages)
      const rows = sheet ? [...figureRows(sheet), ...ledgerRows(sheet.ledger)] : []
      expect(rows.length).toBeGreaterThan(20)
      for (const row of rows) expect(text).toContain(plain(row.join('')))
    })
    test('no text beyond the margins, on any page, and none between body and foot', () => {
      for (const [i, { widthPt, heightPt, items }] of read.pages.entries())
        for (const { str, transform, width } of items) {
          if (str.trim() === '') continue
          const [a, b, , , x, y] = transform as [number, number, number, number, number, number]
          const turned = Math.abs(b) > Math.abs(a)
          const where = `page ${i + 1}: ${str}`
          expect(x, where).toBeGreaterThan(turned ? 40 : 42)
          expect(turned ? x : x + width, where).toBeLessThan(widthPt - 42 + 0.1)
          expect(y, where).toBeGreaterThan(26)
          expect(y, where).toBeLessThan(heightPt - 26)
          if (y < 26 + 30) expect(y, where).toBeCloseTo(28, 1)
        }
    })
    test('every character is there: none became a question mark', () => {
      expect(allText(read.pages)).not.toContain('?')
    })
    test('cautions stand on the first page, severe findings above them, and on every page their number', () => {
      const [first] = read.pages
      const severe = [
        ...new Set(
          (fakeResults(lamp).danger?.findings ?? []).filter((f) => f.severity === 'severe').map((f) => f.title),
        ),
      ]
      for (const title of severe) expect(textOf(first!)).toContain(plain(title))
      expect(textOf(first!)).toContain(plain('Never look into the beam'))
      for (const page of read.pages) expect(textOf(page)).toMatch(/severefindings?\..*Seepage1\./)
    })
    test('the line that stands on top of the page stands under the title, of the same readings', () => {
      const { sheet, danger, power } = fakeResults(lamp)
      const findings = bySeverity([...(danger?.findings ?? []), ...(sheet?.findings ?? []), ...(power?.findings ?? [])])
      const modes = power?.report.modes ?? null
      const { text } = answerLine({ lamp, sheet, stale: false, findings, modes, danger })
      expect(text).toMatch(/^Severe/)
      const first = textOf(read.pages[0]!)
      expect(first.indexOf(plain(text))).toBeGreaterThan(first.indexOf(plain(lamp.name)))
      expect(first.indexOf(plain(text))).toBeLessThan(first.indexOf('Date'))
      expect(bookHtml(fakeBook(lamp))).toContain(`<p class="answer severe">${escapeHtml(text)}</p>`)
    })
    test('the pages are numbered, the contents name the page of each chapter, and so do the bookmarks', async () => {
      const n = read.pages.length
      for (const [i, page] of read.pages.entries()) expect(textOf(page)).toContain(`${i + 1}of${n}`)
      const { chapters } = fakeBook(lamp)
      expect(read.outline?.map((o: { title: string }) => o.title)).toEqual(chapters.map((c) => c.title))
      const [first] = read.pages
      for (const { title } of chapters) {
        const entry = first?.items.find((i) => plain(i.str) === plain(title))
        const beside = first?.items.find(
          (i) => /^\d+$/.test(i.str) && i.transform[5] === entry?.transform[5] && i.transform[4] > entry?.transform[4],
        )
        const page = read.pages[Number(beside?.str) - 1]
        expect(
          page?.items.map((i) => plain(i.str)),
          title,
        ).toContain(plain(title))
      }
    })
    test('the attached lamp is the same document, with the same hash', async () => {
      const back = await lampFromPdf(bytes)
      expect(back).toEqual({ ok: true, lamp })
      if (back.ok) expect(designHash(back.lamp)).toBe(designHash(lamp))
      const attached = Object.values(read.attachments ?? {}) as { filename: string; content: Uint8Array }[]
      expect(attached.map((a) => a.filename)).toEqual(['lamp.json'])
      expect(JSON.parse(new TextDecoder().decode(attached[0]!.content))).toEqual(lamp)
      const [own] = (await PDFDocument.load(bytes)).getAttachments()
      expect(own).toMatchObject({ mimeType: 'application/json', afRelationship: 'Source' })
    })
  },
)

describe('what is drawn of it', () => {
  const results = once(() => fakeResults(benchCheck()))
  const whole = once(() => fakeBook(benchCheck(), {}, results()))
  const without = (id: ChapterId) => fakeBook(benchCheck(), { without: [id] }, results())
  test.each(CHAPTER_IDS.filter((id) => id !== 'night'))('without %s the rest stays', (id) => {
    const left = without(id)
    expect(whole().chapters.map((c) => c.id)).toContain(id)
    expect(left.chapters).toEqual(whole().chapters.filter((c) => c.id !== id))
    const sentence = `Left out of this book on request: ${CHAPTER_TITLES[id].toLowerCase()}.`
    expect(left.cautions.flatMap((b) => (b.kind === 'note' ? b.lines : []))).toContain(sentence)
  })
  test('what is left out is said on the first page, and its severe findings stay there', async () => {
    const { pages, outline } = await readPdf(await bookPdf(without('danger'), bookFonts()))
    expect(textOf(pages[0]!)).toContain(plain('Left out of this book on request: danger.'))
    expect(textOf(pages[0]!)).toContain(plain('The lens alone in the sun'))
    expect(outline?.map((o: { title: string }) => o.title)).not.toContain('Danger')
  })
  test('a long table goes on over pages with its head, a huge row over several, and nothing is lost', async () => {
    const rows = [...Array.from({ length: 150 }, (_, i) => [`row ${i}`, 'x']), ['huge', 'word '.repeat(3000)]]
    const bytes = await pdfOf(benchCheck(), (b) => ({
      ...b,
      chapters: [{ id: 'beam', title: 'Beam', blocks: [{ kind: 'table', head: ['Headed', 'so'], rows }] }],
    }))
    const { pages } = await readPdf(bytes)
    const text = allText(pages)
    expect(pages.length).toBeGreaterThan(6)
    for (const page of pages.slice(1)) expect(textOf(page)).toContain('Headed')
    for (let i = 0; i < 150; i++) expect(text).toContain(`row${i}`)
    expect(text.match(/word/g)).toHaveLength(3000)
  })
  test('letters of other scripts are shown, or stand as “?”; a name that turns text about can’t', async () => {
    const lamp = { ...benchCheck(), name: 'Łódź Ωμέγα Фонарь ⌀ 5 灯 \u202eabc' }
    const bytes = await pdfOf(lamp, firstPage)
    const { pages } = await readPdf(bytes)
    expect(textOf(pages[0]!)).toContain(plain('Łódź Ωμέγα Фонарь Ø 5 ? abc'))
    expect(await lampFromPdf(bytes)).toEqual({ ok: true, lamp })
  })
  test('Letter where the workshop has it', async () => {
    const { pages } = await readPdf(await pdfOf({ ...benchCheck(), workshop: { paper: 'Letter' } }, firstPage))
    expect(pages[0]!.widthPt).toBeCloseTo(612, 3)
    expect(pages[0]!.heightPt).toBeCloseTo(792, 3)
  })
  test('a picture of the night that is handed in is a chapter, with the picture in it', async () => {
    const lamp = benchCheck()
    const night = { png: pixel(), widthPx: 1600, heightPx: 900, caption: 'A wall at 25 m' }
    const book = fakeBook(lamp, {}, { ...fakeResults(lamp), night })
    expect(book.chapters.map((c) => c.id).slice(0, 3)).toEqual(['pictures', 'night', 'beam'])
    const bytes = await bookPdf(book, bookFonts())
    const { pages } = await readPdf(bytes)
    const at = pages.findIndex(
      (p) => p.items.some((i) => i.str === 'At night') && textOf(p).includes(plain(night.caption)),
    )
    expect(at).toBeGreaterThan(0)
    const objects = (await PDFDocument.load(bytes)).context.enumerateIndirectObjects()
    expect(objects.some(([, o]) => String(o).includes('/Subtype /Image'))).toBe(true)
  })
  test('without a picture of the night a sentence under the other pictures says why, unless it was left out on request', () => {
    const lamp = benchCheck()
    const results = { ...fakeResults(lamp), night: { why: 'No device draws it.' } }
    const pictures = (without: 'night'[]) => {
      const { chapters } = fakeBook(lamp, { without }, results)
      expect(chapters.some((c) => c.id === 'night')).toBe(false)
      return chapters.find((c) => c.id === 'pictures')?.blocks.at(-1)
    }
    expect(pictures([])).toEqual({ kind: 'paragraph', text: 'No device draws it.', quiet: true })
    expect(pictures(['night'])?.kind).toBe('figure')
  })
  test('a lamp without boards has a book', async () => {
    const lamp = { ...benchCheck(), boards: [] }
    const book = fakeBook(lamp, {}, { ...fakeResults(lamp), sheet: null })
    const { pages } = await readPdf(await bookPdf(book, bookFonts()))
    expect(textOf(pages[0]!)).toContain(plain('The beam was not traced'))
  })
})
