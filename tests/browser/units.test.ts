// The builder's units: chosen once, kept in the browser, in no lamp.
import { expect, test } from 'vitest'
import type { Lamp } from '../../src/lamp/schema.ts'
import { benchCheck } from '../../src/library/demos.ts'
import { axe, lampOn, openLamp } from './hands.ts'
import { chromiumPages } from './harness.ts'

const open = chromiumPages()

test('inches, feet and °F: fields, sizes and the ruler follow, the lamp stays metric, and the choice outlasts a reload', async () => {
  const page = await open({ idle: true })
  await page.getByRole('button', { name: /^Units: mm/ }).click()
  const target = page.getByRole('region', { name: 'Target', exact: true })
  const distance = target.getByRole('spinbutton', { name: 'Distance' })
  // 800 m.
  expect(await distance.inputValue()).toBe('2624.6719')
  await distance.click()
  await page.keyboard.type('1000')
  await page.keyboard.press('Enter')
  const lens = page.getByRole('region', { name: 'Lens', exact: true })
  await lens.getByRole('spinbutton', { name: 'Stands at z' }).click()
  await page.keyboard.type('41')
  await page.keyboard.press('Enter')
  const { target: made, lens: cut } = await lampOn(page)
  expect(made.distanceM).toBe(304.8)
  expect(cut?.zMm).toBe(1041.4)
  expect(await page.getByRole('slider', { name: 'Lens, distance from the face' }).getAttribute('aria-valuetext')).toBe(
    '41 in',
  )
  // Nothing is traced here: the drawings stand for what is written elsewhere (tests/report/bothUnits.test.ts).
  await page.keyboard.press('m')
  await page
    .getByText(/^\d.* × \d.* in$/)
    .first()
    .waitFor()
  await page.keyboard.press('Escape')
  await page.reload()
  await page.getByRole('button', { name: /^Units: in/ }).waitFor()
  // The lamp comes back from the browser's storage a moment after the page.
  await expect.poll(() => distance.inputValue()).toBe('1000')
  await page.getByRole('button', { name: /^Units: in/ }).click()
  await expect.poll(() => distance.inputValue()).toBe('304.8')
})

test('a browser that writes commas: fields and the whole page show them, a typed comma is read, the lamp stays as it is', async () => {
  const page = await open({ idle: true, locale: 'de-DE' })
  const lens = page.getByRole('region', { name: 'Lens', exact: true })
  const stands = lens.getByRole('spinbutton', { name: 'Stands at z' })
  await stands.click()
  await page.keyboard.type('1041,125')
  await page.keyboard.press('Enter')
  expect(await stands.inputValue()).toBe('1041,125')
  expect((await lampOn(page)).lens?.zMm).toBe(1041.125)
  expect(await page.getByRole('slider', { name: 'Lens, distance from the face' }).getAttribute('aria-valuetext')).toBe(
    '1041,1 mm',
  )
  await stands.click()
  await page.keyboard.type('12.500')
  await page.keyboard.press('Enter')
  await page.getByText('“12.500” can be read two ways; write it without the point, or with a comma.').waitFor()
  // A name keeps its digits as typed, beside a distance that does not.
  const target = page.getByRole('region', { name: 'Target', exact: true })
  const shown = target.getByRole('button', { name: /^Target/ })
  if ((await shown.getAttribute('aria-expanded')) === 'false') await shown.click()
  await target.getByRole('textbox', { name: 'What it is' }).fill('Wall 1.5')
  await target.getByRole('spinbutton', { name: 'Distance' }).fill('30,5')
  await page.keyboard.press('Enter')
  await expect.poll(() => shown.textContent()).toBe('TargetWall 1.5, 30,5 m')
  // The handbook’s pictures are files with points.
  await page.evaluate(() => {
    location.hash = 'panel=handbook&pane=08-heat-and-minutes'
  })
  await page
    .locator('.handbook-page svg text', { hasText: /^\d,\d min$/ })
    .first()
    .waitFor()
  expect(await axe(page)).toEqual([])
})

/** Every name and board ends in a number with a point, as a builder would tell sizes apart. */
function numbered<T>(value: T, key = ''): T {
  const visit = (v: unknown, k: string): unknown => {
    if (typeof v === 'string')
      return ['name', 'id of a board'].includes(k) || (k === 'why' && v !== '') ? `${v} 1.5 mm` : v
    if (Array.isArray(v)) return v.map((one) => visit(one, k))
    if (v === null || typeof v !== 'object') return v
    return Object.fromEntries(
      Object.entries(v).map(([name, one]) => [
        name,
        visit(one, k === 'boards' && name === 'id' ? 'id of a board' : name),
      ]),
    )
  }
  return visit(value, key) as T
}

test('names with a point in them keep it in every panel of a browser that writes commas', async () => {
  const page = await open({ locale: 'de-DE' })
  const lamp: Lamp = numbered(benchCheck())
  await openLamp(page, lamp)
  const shown: string[] = []
  for (const panel of ['', 'compare&pane=parts', 'tolerances', 'dangers&pane=found', 'power', 'power&pane=wiring']) {
    await page.evaluate((hash) => {
      location.hash = hash
    }, panel && `panel=${panel}`)
    if (panel.startsWith('power')) await page.locator('.power-lines, .power-wiring').waitFor()
    await expect.poll(() => page.locator('.ui-panel').count()).toBe(panel === '' ? 0 : 1)
    shown.push(...(await page.evaluate(textsAndLabels)))
  }
  expect(shown.filter((text) => text.includes('1.5 mm')).length).toBeGreaterThan(30)
  expect(shown.filter((text) => /[\p{L}\d)] 1,5 mm/u.test(text))).toEqual([])
})

/** Everything that is read on the page or read out, each once. */
function textsAndLabels(): string[] {
  const labels = ['title', 'aria-label', 'aria-valuetext', 'placeholder']
  const found = [...document.querySelectorAll('body *')].flatMap((e) => [
    ...[...e.childNodes].filter((n) => n.nodeType === Node.TEXT_NODE).map((n) => n.nodeValue ?? ''),
    ...labels.map((name) => e.getAttribute(name) ?? ''),
  ])
  return [...new Set(found)]
}
