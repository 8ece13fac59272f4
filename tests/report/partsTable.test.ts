// The parts list in words and as a table, read back by a parser of others; its page; the order of assembly in sentences.

import Papa from 'papaparse'
import { describe, expect, test } from 'vitest'
import { assemblyOrder } from '../../src/bill/assemblyOrder.ts'
import { partsList } from '../../src/bill/partsList.ts'
import { preparePower } from '../../src/job/power/run.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { benchCheck, DEMOS, gannetHead } from '../../src/library/demos.ts'
import { allInSystem } from '../../src/num/quantity.ts'
import { assemblyWords } from '../../src/report/assembly.ts'
import { safeCell } from '../../src/report/csvCells.ts'
import { partsHtml, partsPage } from '../../src/report/partsPage.ts'
import {
  massOf,
  massWords,
  noteSentences,
  partsCsv,
  partWords,
  sizeWords,
  sumSentences,
} from '../../src/report/partsTable.ts'

const named = (name: string): Lamp => {
  const lamp = gannetHead()
  return { ...lamp, boardTypes: lamp.boardTypes.map((t) => ({ ...t, name })) }
}
const readCsv = (text: string): Record<string, string>[] => {
  const { data, errors } = Papa.parse<Record<string, string>>(text, {
    header: true,
    newline: '\r\n',
    skipEmptyLines: true,
  })
  expect(errors).toEqual([])
  return data
}

describe('as a table', () => {
  test('read back: a row a part, its numbers as they are', () => {
    const lamp: Lamp = { ...gannetHead(), workshop: { currency: 'kr', prices: { 'board:seven': 12.5 } } }
    const list = partsList(lamp)
    const rows = readCsv(partsCsv(list))
    expect(rows.map((r) => r['key'])).toEqual(list.parts.map((p) => p.key))
    for (const [i, part] of list.parts.entries()) {
      const row = rows[i]!
      expect(Number(row['amount'])).toBeCloseTo(part.amount, 3)
      expect(row['mass_g'] === '').toBe(part.mass === null)
      if (part.mass) expect(Number(row['mass_g'])).toBeCloseTo(part.mass.g, 3)
      expect([row['x_mm'], row['y_mm'], row['z_mm']].every((x) => x === '')).toBe(part.placeMm === null)
      if (part.placeMm) expect(Number(row['z_mm'])).toBeCloseTo(part.placeMm[2], 3)
      expect(row['unit']).toBe(part.unit)
      expect(row['name']).toBe(part.name ?? '')
      expect(row['size']).toBe(sizeWords(part.size))
      expect(row['cost']).toBe(part.cost === null ? '' : '237.5')
      expect(row['currency']).toBe('kr')
    }
  })
  test.each([
    ['=HYPERLINK("http://a.example","x")', `'=HYPERLINK("http://a.example","x")`],
    ['+1', "'+1"],
    ['-1+2', "'-1+2"],
    ['@SUM(A1)', "'@SUM(A1)"],
    ['\t=1', "' =1"],
    ['\r=1', "' =1"],
    ['\tplain', "' plain"],
    ['\u200b=1', "' =1"],
    ['  =1', "'  =1"],
    ['＝1', "'＝1"],
    ['a, "b"\nc', 'a, "b" c'],
    ['1 = 1', '1 = 1'],
    ['Lamp-1', 'Lamp-1'],
  ])('a name %j becomes the cell %j', (name, cell) => {
    expect(safeCell(name)).toBe(cell)
    const rows = readCsv(partsCsv(partsList(named(name))))
    expect(rows.find((r) => r['key'] === 'board:seven')?.['name']).toBe(cell)
  })
  test('a currency that is a formula stays text', () => {
    const list = partsList({ ...gannetHead(), workshop: { currency: '=1' } })
    for (const row of readCsv(partsCsv(list))) expect(row['currency']).toBe("'=1")
  })
})

describe('in words', () => {
  test('every part of every example has words, without gaps', () => {
    for (const make of Object.values(DEMOS))
      for (const part of partsList(make()).parts) {
        expect(partWords(part)).not.toMatch(/undefined|NaN|null/)
        expect(sizeWords(part.size)).not.toMatch(/undefined|NaN|null/)
      }
  })
  test('sizes are the document’s', () => {
    const list = partsList(gannetHead())
    const size = (key: string) => sizeWords(list.parts.find((p) => p.key === key)!.size)
    expect(size('face')).toBe('200 × 200 × 12 mm, round')
    expect(size('wire:main:awg8:75C:red')).toBe('AWG 8, insulation 75 °C; 1.5 m laid')
    expect(size('lens')).toBe('⌀ 560 × 3 mm, at 1050 mm')
    expect(size('cell')).toBe('3 Ah, 10 in series × 6 in parallel')
    expect(size('fuse:3A:58V:blade')).toBe('3 A, 58 V, blade, taken as typical')
    expect(size('tunnel:1')).toContain('200 to 560 mm (round), 14 to 1040 mm; 12 700 cm² of 0.5 mm')
    expect(partWords(list.parts.find((p) => p.key === 'cell')!)).toBe('Cell, li-ion “10 in series, 6 in parallel”')
  })
  test('grams, then kilograms; unknown is said', () => {
    expect([massWords(999), massWords(999.6), massWords(0.25)]).toEqual(['999 g', '1 kg', '0.25 g'])
    expect(massOf({ mass: null })).toBe('not known')
    expect(massOf({ mass: { g: 12, basis: 'weighed', source: '' } })).toBe('12 g, weighed')
  })
  test('sums name what they leave out', () => {
    const lamp: Lamp = { ...gannetHead(), workshop: { prices: { 'board:seven': 12.5, gone: 1 } } }
    const list = partsList(lamp)
    const [head, centre, apart, cost, unused] = sumSentences(list)
    expect(head).toContain(`${massWords(list.mass.knownG)} as far as it is known`)
    expect(head).toContain('collimator “Collimator 12°, 10 mm”')
    expect(centre).toContain('mm in front of the face, on the axis')
    expect(apart).toContain('driver (buck)')
    expect(cost).toBe(`1 of ${list.parts.length} rows priced: 237.50 €.`)
    expect(unused).toContain('gone')
    expect(sumSentences(partsList(gannetHead()))[3]).toBe(`0 of ${list.parts.length} rows priced.`)
    expect(sumSentences(partsList(benchCheck()))[1]).toContain('behind the face')
  })
  test('notes: what is typical, what has no row, how much wire is added', () => {
    const notes = noteSentences(partsList(gannetHead())).join(' ')
    expect(notes).toContain('thickness of the tunnel’s sheet')
    expect(notes).toContain('10 % more')
    expect(notes).toContain('mode switch')
    const stated: Lamp = { ...gannetHead(), workshop: { tunnelThicknessMm: 1 } }
    expect(noteSentences(partsList(stated)).join(' ')).not.toContain('thickness of the tunnel’s sheet')
  })
})

describe('as a page', () => {
  const evil = '<img src=x onerror=alert(1)>'
  test('names are escaped everywhere, and nothing is loaded', () => {
    const lamp = { ...named(evil), name: evil }
    const list = partsList(lamp)
    const words = assemblyWords(lamp, assemblyOrder(lamp, list), list, [])
    const html = partsHtml(list, words)
    expect(html).not.toContain('<img')
    expect(html).toContain('&lt;img src=x onerror=alert(1)&gt;')
    expect(html).not.toMatch(/<script|<link|url\(|https?:/)
    expect(html.startsWith('<!doctype html>')).toBe(true)
  })
  test('a row for each part; the order only where it is asked for', () => {
    const list = partsList(gannetHead())
    const { inner } = partsPage(list)
    expect(inner.match(/<th scope="row">/g)).toHaveLength(list.parts.length)
    expect(inner).not.toContain('Order of assembly')
    const words = assemblyWords(gannetHead(), assemblyOrder(gannetHead(), list), list, [])
    expect(partsPage(list, words).inner).toContain('Order of assembly')
  })
})

describe('the order of assembly in sentences', () => {
  const worded = (lamp: Lamp) => {
    const list = partsList(lamp)
    const powerUp = allInSystem(preparePower(lamp).report([]).powerUp, 'metric')
    return { powerUp, words: assemblyWords(lamp, assemblyOrder(lamp, list), list, powerUp) }
  }
  test('alike items of the power-up list stand once for all their channels, none is lost', () => {
    const { powerUp, words } = worded(gannetHead())
    const checks = words.flatMap((s) => s.checks.map((c) => c.text))
    for (const what of new Set(powerUp.map((i) => i.what)))
      expect(
        checks.some((c) => c.includes(what)),
        what,
      ).toBe(true)
    expect(checks).toContain('B1 … B19, each of 19: Its fuse is 3 A for 58 V.')
    expect(checks.filter((c) => c.endsWith('Its fuse is 3 A for 58 V.'))).toHaveLength(1)
  })
  test('ticks show: all of them as done, some with their number', () => {
    const lamp = gannetHead()
    const ticked = (done: string[]) =>
      worded({ ...lamp, powerUp: { done } })
        .words.flatMap((s) => s.checks)
        .filter((c) => c.text.includes('Its fuse is'))
    expect(ticked(['B1/fuse', 'B2/fuse'])[0]).toMatchObject({ done: false })
    expect(ticked(['B1/fuse', 'B2/fuse'])[0]!.text).toContain('(2 of 19 done)')
    expect(ticked(lamp.boards.map((b) => `${b.id}/fuse`))).toMatchObject([{ done: true }])
  })
  test('every caution has words; the lens is called a burning glass', () => {
    for (const make of Object.values(DEMOS)) {
      const lamp = make()
      const list = partsList(lamp)
      for (const step of assemblyWords(lamp, assemblyOrder(lamp, list), list, [])) {
        for (const text of [step.title, step.text, ...step.parts, ...step.cautions, ...step.checks.map((c) => c.text)])
          expect(text).not.toMatch(/^$|undefined|NaN/)
      }
    }
    const { words } = worded(gannetHead())
    expect(words.find((s) => s.title.startsWith('Lens'))?.cautions.join(' ')).toContain('burning glass')
    const last = words.at(-1)!
    expect(last.checks[0]!.text).toContain('cover is off')
    expect(last.cautions.join(' ')).toContain('Never look into the beam')
  })
})
