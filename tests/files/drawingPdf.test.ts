// PDF at true scale: pages drawn to pixels by another program, bars and tiles measured there.
import { describe, expect, test } from 'vitest'
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
  test('every page has the paper’s size and a check bar of 100 mm, measured in pixels', async () => {
    const pages = await pdfPages(await drawingPdf(drawn(gannetHead(), 'ring-lens'), paper))
    expect(pages.length).toBeGreaterThan(4)
    for (const page of pages) {
      expect([page.widthMm, page.heightMm].map(Math.round).sort()).toEqual([widthMm, heightMm].map(Math.round).sort())
      const [from, to] = span(page, 9)
      expectWithin(to - from, 100, { abs: 0.3, because: 'a pixel is 0.125 mm, the line’s ends another' })
      expect(page.text).toMatch(/100 mm long: measure it/)
      expect(page.text).toMatch(/row \d of \d, column \d of \d/)
    }
  })

  test('tiles put together are the whole: every millimetre of the rings is on a page, at its place', async () => {
    const drawing = plain(drawn(gannetHead(), 'ring-lens', { withKerf: false }))
    const tiling = tiles(drawing, paper)
    const pages = await pdfPages(await drawingPdf(drawing, paper))
    const shown = tiling.tiles.filter((t) => !t.isEmpty)
    expect(pages).toHaveLength(shown.length)
    const { partBox } = drawing
    const [cx, cy] = [(partBox.fromX + partBox.toX) / 2, (partBox.fromY + partBox.toY) / 2]
    const isDark = (x: number, y: number): boolean =>
      shown.some(({ window }, i) => {
        const inside = x > window.fromX && x < window.toX && y > window.fromY && y < window.toY
        return (
          inside &&
          (pages[i]?.darkAt(x - window.fromX + tiling.windowAt.xMm, y - window.fromY + tiling.windowAt.yMm) ?? 0) > 60
        )
      })
    // Edge 592 mm across, opening 552 mm (a lip of 4 mm): drawn lines are 0.35 mm wide.
    for (const radius of [296, 276])
      for (let k = 0; k < 1500; k++) {
        const at = (2 * Math.PI * k) / 1500
        const on = [-0.1, 0, 0.1].some((d) =>
          isDark(cx + (radius + d) * Math.cos(at), cy + (radius + d) * Math.sin(at)),
        )
        expect(on, `${radius} mm at ${(at * 180) / Math.PI}°`).toBe(true)
        expect(
          isDark(cx + (radius - 1.5) * Math.cos(at), cy + (radius - 1.5) * Math.sin(at)) &&
            !isNearFrameOrCross(tiling, cx + (radius - 1.5) * Math.cos(at), cy + (radius - 1.5) * Math.sin(at)),
        ).toBe(false)
      }
  })

  test('neighbours share 10 mm, with a register cross at the same place of the drawing', async () => {
    const drawing = drawn(gannetHead(), 'ring-lens')
    const tiling = tiles(drawing, paper)
    const pages = await pdfPages(await drawingPdf(drawing, paper))
    const shown = tiling.tiles.filter((t) => !t.isEmpty)
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
function isNearFrameOrCross({ tiles: all }: ReturnType<typeof tiles>, x: number, y: number): boolean {
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
