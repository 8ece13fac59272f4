// PDF at true scale: pages drawn to pixels by another program, bars and tiles measured there.
import { beforeAll, describe, expect, test } from 'vitest'
import { type Paper, tiles } from '../../src/drawing/tiles.ts'
import type { Drawing } from '../../src/drawing/types.ts'
import { drawingPdf } from '../../src/files/drawingPdf.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { drawn } from '../kit/drawn.ts'
import { expectWithin } from '../kit/expect.ts'
import { lampWith } from '../kit/lampWith.ts'
import { workshopLamp } from '../kit/ownSheets.ts'
import { type PagePixels, pdfPages } from '../kit/pdfPixels.ts'

const PAPERS: [Paper, number, number][] = [
  ['A4', 210, 297],
  ['Letter', 215.9, 279.4],
]

/** First and last dark place on a row, mm. */
function span({ widthMm, perMm, darkAt }: PagePixels, yMm: number): [number, number] {
  const dark = Array.from({ length: Math.floor(widthMm * perMm) }, (_, i) => (i + 0.5) / perMm).filter(
    (x) => darkAt(x, yMm) > 100,
  )
  return [dark[0] ?? Number.NaN, dark.at(-1) ?? Number.NaN]
}

const plain = (drawing: Drawing): Drawing => ({
  ...drawing,
  items: drawing.items.filter((i) => i.layer === 'outline' || i.layer === 'hole'),
})

describe.each(PAPERS)('on %s', (paper, widthMm, heightMm) => {
  const drawing = drawn(gannetHead(), 'ring-lens', { withKerf: false })
  const tiling = tiles(drawing, paper)
  const shown = tiling.tiles.filter((t) => !t.isEmpty)
  let pages: PagePixels[] = []
  beforeAll(async () => {
    pages = await pdfPages(await drawingPdf(drawing, paper), 6)
  })

  test('every page has the paper’s size and a check bar of 100 mm, measured in pixels', () => {
    expect(pages.length).toBeGreaterThan(4)
    for (const page of pages) {
      expect([page.widthMm, page.heightMm].map(Math.round).sort()).toEqual([widthMm, heightMm].map(Math.round).sort())
      const [from, to] = span(page, 9)
      expectWithin(to - from, 100, { abs: 0.3, because: 'two pixels of a sixth of a millimetre' })
      expect(page.text).toMatch(/100 mm long: measure it/)
      expect(page.text).toMatch(/row \d of \d, column \d of \d/)
    }
  })

  test('tiles put together are the whole: all of both edges of the ring is on a page, at its place, and nothing beside them', async () => {
    const bare = plain(drawing)
    const own = tiles(bare, paper)
    const sheets = await pdfPages(await drawingPdf(bare, paper), 6)
    const laid = own.tiles.filter((t) => !t.isEmpty)
    expect(sheets).toHaveLength(laid.length)
    const { partBox } = bare
    const [cx, cy] = [(partBox.fromX + partBox.toX) / 2, (partBox.fromY + partBox.toY) / 2]
    const isDark = (x: number, y: number): boolean =>
      laid.some(({ window: w }, i) => {
        const inside = x > w.fromX && x < w.toX && y > w.fromY && y < w.toY
        return inside && (sheets[i]?.darkAt(x - w.fromX + own.windowAt.xMm, y - w.fromY + own.windowAt.yMm) ?? 0) > 60
      })
    // Edge 592 mm across, opening 552 mm (a lip of 4 mm): drawn lines are 0.35 mm wide.
    for (const radius of [296, 276])
      for (let k = 0; k < 500; k++) {
        const at = (2 * Math.PI * k) / 500
        const place = (r: number): [number, number] => [cx + r * Math.cos(at), cy + r * Math.sin(at)]
        const on = [-0.1, 0, 0.1].some((d) => isDark(...place(radius + d)))
        expect(on, `${radius} mm at ${(at * 180) / Math.PI}°`).toBe(true)
        const beside = place(radius - 1.5)
        if (!isNearPageMarks(own, ...beside)) expect(isDark(...beside)).toBe(false)
      }
  })

  test('neighbours share 10 mm, with a register cross at the same place of the drawing', () => {
    let pairs = 0
    for (const [i, a] of shown.entries()) {
      const j = shown.findIndex((b) => b.row === a.row && b.column === a.column + 1)
      const b = shown[j]
      if (!b) continue
      pairs++
      expectWithin(a.window.toX - b.window.fromX, 10, { abs: 1e-9, because: 'rounding' })
      const [x, y] = [b.window.fromX + 5, b.window.fromY + 5]
      for (const [page, tile] of [
        [pages[i], a],
        [pages[j], b],
      ] as const)
        for (const d of [-2.5, -1.5, 1.5, 2.5])
          expect(page?.darkAt(x - tile.window.fromX + 10 + d, y - tile.window.fromY + 24) ?? 0).toBeGreaterThan(60)
    }
    expect(pairs).toBeGreaterThan(2)
  })
})

/** Window edges and crosses, which no drawing holds. */
function isNearPageMarks({ tiles: all }: ReturnType<typeof tiles>, x: number, y: number): boolean {
  return all.some(
    ({ window: w }) =>
      [w.fromX, w.fromX + 5, w.toX, w.toX - 5].some((v) => Math.abs(v - x) < 4) ||
      [w.fromY, w.fromY + 5, w.toY, w.toY - 5].some((v) => Math.abs(v - y) < 4),
  )
}

test('a small sheet is one page, its sizes on it', async () => {
  const pages = await pdfPages(await drawingPdf(drawn(workshopLamp(), 'board-seven'), 'A4'))
  expect(pages).toHaveLength(1)
  expect(pages[0]?.text).toContain('one page')
  expect(pages[0]?.text).toContain('19.6')
})

test('letters that the font lacks don’t stop it', async () => {
  const lamp = lampWith({ name: 'Łódź ∑ 灯', workshop: { drawnBy: 'Ωmega' } })
  const [page] = await pdfPages(await drawingPdf(drawn(lamp, 'board-seven'), 'A4'))
  expect(page?.text).toContain('?')
})

test('the same drawing gives the same bytes', async () => {
  const drawing = drawn(gannetHead(), 'face')
  expect(await drawingPdf(drawing, 'A4')).toEqual(await drawingPdf(drawing, 'A4'))
})
