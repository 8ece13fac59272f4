import { describe, expect, test } from 'vitest'
import { gannetHead, stileLamp } from '../../src/library/demos.ts'
import { dangerSheetHtml, escapeHtml } from '../../src/report/dangerPage.ts'
import { fakeDanger } from '../kit/fakeDanger.ts'

const html = (of: ReturnType<typeof gannetHead>, kWm2 = 20) => dangerSheetHtml(fakeDanger(of, kWm2), of)

describe('the printed danger sheet', () => {
  const lamp = gannetHead()
  const page = dangerSheetHtml(fakeDanger(lamp), lamp)
  test('is a whole page that fetches nothing and runs nothing', () => {
    expect(page).toMatch(/^<!doctype html>/)
    expect(page).not.toMatch(/<script|https?:|url\(|<link|<img/)
    expect(page).toContain('@page{size:A4')
  })
  test('says what it must: distances, times, cover, before power, inputs, codes first, screening', () => {
    for (const words of [
      'Keep clear of the beam',
      'Bare skin',
      'Nothing in the way',
      'Before power',
      'opaque, non-flammable cover',
      'Local codes and licensed practice come first',
      'laboratory',
      'Inputs: 19 boards',
      'Eyes: no limit is reached beyond<b>240\u00a0m',
      'By screening: risk group',
      'Field glasses',
      'flash blindness to',
      'upper ends',
    ])
      expect(page).toContain(words)
    expect(page).not.toMatch(/NaN|undefined|Infinity|\[object|null/)
    expect(page.match(/role="img"/g)!.length).toBe(9)
  })
  test('a severe finding is on it, never silently left out', () => {
    const { findings } = fakeDanger(lamp)
    const severe = findings.filter((f) => f.severity === 'severe')
    expect(severe.length).toBeGreaterThan(0)
    expect(page).toContain(`<strong>${severe.length} severe findings</strong>`)
    // As the head of a table it stands on every page that is printed.
    expect(page).toContain(`<p class="every">Gannet Head: ${severe.length} severe findings.</p>`)
    expect(page).toMatch(/\.every\{display:table-header-group/)
    for (const f of severe) expect(page).toContain(escapeHtml(f.title))
  })
  test('severe findings: eyes first, then the sun; what they say isn’t said again in the sun’s section', () => {
    const items = [...page.matchAll(/<li>(.*?)<\/li>/g)].map((m) => m[1]!)
    expect(items[0]).toMatch(/^Eyes: keep/)
    expect(items[1]).toMatch(/^The sun 5° off the axis throws/)
    expect(page).not.toContain('Where it is focused')
    const calm = { ...fakeDanger(lamp), findings: [] }
    const calmPage = dangerSheetHtml(calm, lamp)
    expect(calmPage).toMatch(/<th>Behind the lens alone, 1\.1 m<\/th><td><b>2030\u00a0kW\/m²<\/b>/)
    expect(calmPage).toMatch(/<th>In the lamp: board B1<\/th><td><b>90\d\u00a0kW\/m²<\/b><\/td><td>0°/)
  })
  test('of the table in front what reaches farthest stands first, and nothing nearer than a centimetre', () => {
    const near = { ...fakeDanger(lamp) }
    near.clear = near.clear.map((c) => ({ ...c, clearDistanceMm: c.id === 'paper' ? 1.2 : c.clearDistanceMm }))
    const rows = [...dangerSheetHtml(near, lamp).matchAll(/<td><b>([\d.]+)\u00a0m<\/b><\/td><td>(?!<)/g)]
    const metres = rows.map((m) => Number(m[1]))
    expect(metres.length).toBeGreaterThan(5)
    expect(metres).toEqual([...metres].sort((a, b) => b - a))
    expect(metres.at(-1)).toBe(0.01)
  })
  test('of many things in the way the soonest harmed stand on it, and how many more there are', () => {
    const things = Array.from({ length: 5 }, (_, i) => ({
      ...{ name: `Far ${i}`, material: 'timber' as const, distanceMm: 8000, absorbs: 1 },
    }))
    const many = { ...lamp, danger: { things } }
    const sheet = dangerSheetHtml(fakeDanger(many), many)
    expect(sheet).toContain('3 more on the sheet on screen.')
    expect(sheet).toContain('A plastic bag over the lens')
    expect(page).not.toContain('more on the sheet')
  })
  test('a threshold changed by hand is marked', () => {
    const own = { ...lamp, danger: { thresholdsKWm2: { paper: 15 } } }
    const changed = dangerSheetHtml(fakeDanger(own), own)
    expect(changed).toContain('Thresholds changed by hand: paper 15 in place of 3.94 kW/m²')
    expect(changed).toContain('<em>changed</em>')
    expect(page).not.toContain('changed by hand')
  })
  test('a name from a file is text, not markup', () => {
    const named = { ...lamp, name: '<b onload="x">&' }
    expect(dangerSheetHtml(fakeDanger(named), named)).toContain('&lt;b onload=&quot;x&quot;&gt;&amp;')
  })
  test('a weak lamp without lens and tunnel has its page as well', () => {
    const weak = stileLamp()
    const sheet = dangerSheetHtml(fakeDanger(weak, 0.2), weak)
    expect(sheet).toContain('not\u00a0reached')
    expect(sheet).toContain('Inputs: 1 board,')
    expect(sheet).not.toMatch(/NaN|undefined|Infinity|\[object|null/)
  })
  test('what isn’t reached says how near it is, in the boxes on top and in the table', () => {
    // Paper is judged over a small disc, where the fake sheet has 1.3 times as much.
    const near = html(lamp, 2.9)
    expect(near).toContain('What burns, of its limit<b>97 %</b>')
    expect(near).toMatch(/<th>Paper<\/th><td>not\u00a0reached<\/td><td>97 % of its limit<\/td>/)
  })
  test('alike materials share a row: the one that reaches farthest, with the mark of any', () => {
    const page = html(lamp)
    for (const name of ['Cloth', 'Plastic, sleeves, bags', 'Lit wall that can burn', 'Timber'])
      expect(page).toContain(`<th>${name}</th>`)
    expect(page).not.toContain('<th>Synthetic cloth')
    expect(page).not.toContain('<th>Black plastic')
    expect(html({ ...lamp, danger: { thresholdsKWm2: { polyethylene: 5 } } })).toContain(
      'sleeves, bags <em>changed</em>',
    )
  })
  test('of a thing: its harm, the lamp standard’s 90 °C, the lens under it', () => {
    expect(html(lamp)).toMatch(/over the lamp standard’s 90 °C in under 1\u00a0s/)
    expect(html(lamp)).toMatch(/the lens under it to \d+\u00a0°C/)
  })
})

test('what has not been computed is said at its head and on every page, with and without findings', () => {
  const lamp = gannetHead()
  const missing = ['Heat and power: not computed. The worker <stopped>.']
  for (const findings of [fakeDanger(lamp).findings, []]) {
    const page = dangerSheetHtml({ ...fakeDanger(lamp), findings }, lamp, missing)
    const [, every] = page.match(/<p class="every">(.*?)<\/p>/)!
    expect(every).toContain('Heat and power: not computed. The worker &lt;stopped&gt;.')
    expect(page).toContain('<strong>Not complete</strong><ul><li>Heat and power: not computed.')
  }
})
