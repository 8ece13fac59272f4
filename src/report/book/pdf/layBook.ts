// The book onto pages: cautions and contents first, then the chapters, a foot on every page.
import { PAPER_MM } from '../../../library/typicalWorkshop.ts'
import type { Book, ChapterId, Figure } from '../model.ts'
import { type Flow, makeFlow, sheetOf } from './flow.ts'
import { layBlocks } from './layBlocks.ts'
import { breakLines, shortened } from './lines.ts'
import type { Laid, Measure, Placed } from './place.ts'

const TITLE = 22
const ANSWER = 12.5
const CHAPTER = 17
const ENTRY = 10
const FOOT = 7.5
const QUIET = '#555555'
const RED = '#b3121d'

/** What need not begin on a page of its own, where so much of the page is left. */
const FLOWS: readonly ChapterId[] = ['parts-buy', 'assumptions', 'sources', 'origin', 'assembly']
const LEFT_SHARE = 0.4

export function layBook(book: Book, measure: Measure): Laid {
  const flow = makeFlow(sheetOf(PAPER_MM[book.paper]))
  const { sheet } = flow
  layTitle(flow, book, measure)
  const entries = layContents(flow, book)
  const chapterPages = book.chapters.map((chapter, i) => {
    const left = (sheet.bottom - flow.y()) / (sheet.bottom - sheet.top)
    if (i === 0 || !FLOWS.includes(chapter.id) || left < LEFT_SHARE) flow.newPage()
    else flow.skip(16)
    const page = flow.pages.length - 1
    layLarge(flow, chapter.title, CHAPTER, measure)
    flow.put(rule(flow))
    flow.skip(9)
    layBlocks(flow, chapter.blocks, measure)
    return page
  })
  for (const [i, { page, right, y }] of entries.entries()) {
    const text = String((chapterPages[i] ?? 0) + 1)
    const x = right - measure(text, ENTRY, false)
    flow.pages[page]?.items.push({ kind: 'text', x, y, size: ENTRY, text })
  }
  for (const [i, { items }] of flow.pages.entries()) items.push(...footItems(flow, book, i, measure))
  return { widthPt: sheet.widthPt, heightPt: sheet.heightPt, pages: flow.pages, chapterPages }
}

const rule = ({ sheet, y }: Flow): Placed => ({
  kind: 'rule',
  ...{ fromX: sheet.left, toX: sheet.right, fromY: y(), toY: y() },
  ...{ width: 1, colour: '#111111' },
})

function layLarge(flow: Flow, text: string, size: number, measure: Measure, colour?: string): void {
  const { left, right } = flow.sheet
  for (const line of breakLines(text, right - left, size, true, measure)) {
    flow.put({ kind: 'text', x: left, y: flow.y() + size, size, text: line, bold: true, ...(colour && { colour }) })
    flow.skip(size * 1.25)
  }
}

function layTitle(flow: Flow, { title, answer, facts, cautions }: Book, measure: Measure): void {
  const { left, right } = flow.sheet
  flow.put({ kind: 'figure', x: left, y: flow.y(), scale: 1, figure: stripes(right - left) })
  flow.skip(16)
  layLarge(flow, title, TITLE, measure)
  flow.skip(2)
  layLarge(flow, answer.text, ANSWER, measure, answer.severe ? RED : undefined)
  flow.skip(4)
  // On one line: what was found needs the page.
  const origin = facts.map(([name, value]) => `${name} ${value}`).join(' · ')
  layBlocks(flow, [{ kind: 'paragraph', text: origin, quiet: true }, ...cautions], measure)
}

/** A band in the colours of a warning. */
function stripes(width: number): Figure {
  const [height, wide] = [9, 12]
  const bands = Array.from({ length: Math.ceil(width / wide) + 1 }, (_, i) => {
    const x = i * wide - height
    const cut = (v: number) => Math.max(0, Math.min(width, v))
    const points: [number, number][] = [
      [cut(x), height],
      [cut(x + height), 0],
      [cut(x + height + wide), 0],
      [cut(x + wide), height],
    ]
    return { kind: 'line', closed: true, points, fill: i % 2 === 0 ? '#111111' : '#f5c400' } as const
  })
  return { width, height, marks: bands, words: '' }
}

interface Entry {
  page: number
  /** Right end of the page number, and its baseline. */
  right: number
  y: number
}

const CONTENTS_COLUMNS = 3

/** The chapters in columns, on one page; where each one's page number belongs. */
function layContents(flow: Flow, { chapters }: Book): Entry[] {
  const { left, right } = flow.sheet
  const [step, gap] = [ENTRY * 1.5, 24]
  const width = (right - left - gap * (CONTENTS_COLUMNS - 1)) / CONTENTS_COLUMNS
  const rows = Math.ceil(chapters.length / CONTENTS_COLUMNS)
  flow.reserve(6 + rows * step)
  flow.skip(6)
  const top = flow.y()
  flow.skip(rows * step)
  return chapters.map(({ title }, chapter) => {
    const x = left + Math.floor(chapter / rows) * (width + gap)
    const at = top + (chapter % rows) * step
    flow.put(
      { kind: 'text', x, y: at + ENTRY, size: ENTRY, text: title },
      { kind: 'link', x, y: at, width, height: step, chapter },
    )
    return { page: flow.pages.length - 1, right: x + width, y: at + ENTRY }
  })
}

/** Lamp, date and hash at the foot, the number of severe findings at the head: a page may be torn out. */
function footItems({ sheet, pages }: Flow, { foot, warning }: Book, index: number, measure: Measure): Placed[] {
  const number = `${index + 1} of ${pages.length}`
  const y = sheet.heightPt - 28
  const wide = measure(number, FOOT, false)
  const text = shortened(foot, sheet.right - sheet.left - wide - 12, FOOT, false, measure)
  const head = shortened(warning, sheet.right - sheet.left, FOOT, true, measure)
  return [
    { kind: 'text', x: sheet.left, y, size: FOOT, text, colour: QUIET },
    { kind: 'text', x: sheet.right - wide, y, size: FOOT, text: number, colour: QUIET },
    ...(warning === ''
      ? []
      : [{ kind: 'text', x: sheet.left, y: 30, size: FOOT, text: head, bold: true, colour: RED } as const]),
  ]
}
