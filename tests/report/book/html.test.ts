import { describe, expect, test } from 'vitest'
import { benchCheck, gannetHead } from '../../../src/library/demos.ts'
import { bookHtml } from '../../../src/report/book/html.ts'
import { escapeHtml } from '../../../src/report/dangerPage.ts'
import { PARTS_TITLE } from '../../../src/report/figures.ts'
import { figureRows } from '../../../src/report/sheetRows.ts'
import { fakeBook, fakeResults } from '../../kit/fakeBook.ts'

describe('the book as a page', () => {
  test('is a whole page that fetches nothing and runs nothing, on the workshop’s paper', async () => {
    const html = bookHtml(fakeBook(gannetHead()))
    expect(html).toMatch(/^<!doctype html>/)
    expect(html).not.toMatch(/<script|https?:|url\(|<link|<img/)
    expect(html).toContain('@page{size:210mm 297mm')
    expect(html).not.toMatch(/NaN|undefined|Infinity|\[object/)
    expect(bookHtml(fakeBook({ ...gannetHead(), workshop: { paper: 'Letter' } }))).toContain(
      '@page{size:215.9mm 279.4mm',
    )
  })
  test('figures, ± and units are the words of the beam sheet', async () => {
    const lamp = gannetHead()
    const html = bookHtml(fakeBook(lamp))
    const { sheet } = fakeResults(lamp)
    // A sheet without a ledger by parts has no table of it, and no sum of nothing.
    expect(sheet?.parts).toBeUndefined()
    expect(html).not.toContain(PARTS_TITLE)
    for (const [name = '', value = '', error = '', unit = ''] of sheet ? figureRows(sheet) : [])
      expect(html).toContain(
        `<tr><th scope="row">${escapeHtml(name)}</th><td class="r">${value}</td><td class="r">${error}</td><td>${unit}</td></tr>`,
      )
  })
  test('no text of the lamp is markup: names, notes, parts, boards, modes, drivers', async () => {
    const bad = '<script>alert(1)</script>"\'&'
    const lamp = gannetHead()
    const hostile = {
      ...lamp,
      name: bad,
      note: bad,
      target: { ...lamp.target, name: bad },
      emitterTypes: lamp.emitterTypes.map((e) => ({ ...e, name: bad, note: bad })),
      opticTypes: lamp.opticTypes.map((o) => ({ ...o, name: bad })),
      boardTypes: lamp.boardTypes.map((b) => ({ ...b, name: bad })),
      ...(lamp.power
        ? {
            power: {
              ...lamp.power,
              supply: { ...lamp.power.supply, name: bad },
              drivers: lamp.power.drivers.map((d) => ({ ...d, name: bad })),
              modes: lamp.power.modes.map((m) => ({ ...m, name: bad })),
            },
          }
        : {}),
      workshop: { drawnBy: bad, currency: '<b>' },
    }
    const results = fakeResults(hostile)
    const html = bookHtml(
      fakeBook(
        hostile,
        { missing: [bad] },
        { ...results, night: { png: new Uint8Array([1]), widthPx: 1, heightPx: 1, caption: bad } },
      ),
    )
    expect(html).not.toContain('<script')
    expect(html).not.toContain('<b>')
    expect(html.split(escapeHtml('<script>alert(1)</script>')).length).toBeGreaterThan(8)
  })
  test('a tick of the lamp’s file is a tick in the book', async () => {
    const lamp = { ...benchCheck(), powerUp: { done: ['lamp/insulation'] } }
    const book = fakeBook(lamp)
    const items = book.chapters
      .find((c) => c.id === 'power-up')
      ?.blocks.flatMap((b) => (b.kind === 'checks' ? b.items : []))
    expect(items?.filter((i) => i.done).map((i) => i.text)).toEqual([expect.stringMatching(/^insulation: /)])
  })
})
