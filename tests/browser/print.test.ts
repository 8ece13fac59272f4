// On paper: the answers on one page, then the drawings, the same from every view, and severe findings at the head of each page.
import { expect, test } from 'vitest'
import { pdfPages } from '../kit/pdfPixels.ts'
import { chromiumPages } from './harness.ts'

const open = chromiumPages()

test('answers on the first page, drawings to scale behind it, from each view the same', async () => {
  const page = await open({ address: '?engine=cpu' })
  // Letters that are printed as one sign stand apart in the text of a PDF: only words without their gaps compare.
  const texts = async () =>
    (await pdfPages(new Uint8Array(await page.pdf({ format: 'A4' })), 1)).map((p) => p.text.replace(/\s/g, ''))
  await page.locator('body').press('1')
  await page.locator('body').press('w')
  await page.locator('.power-panel').getByText('Turbo').first().waitFor()
  const fromPanel = await texts()
  await page.keyboard.press('Escape')
  await page.locator('body').press('2')
  await page.getByRole('tabpanel', { name: 'Section' }).waitFor()
  expect(await texts()).toEqual(fromPanel)

  const [answers, ...drawings] = fromPanel
  for (const text of fromPanel) expect(text).toContain('severefindings:Upto')
  for (const words of ['Flux out', 'Where the light goes', 'Turbo:', 'Never look into the beam', 'laboratory'])
    expect(answers).toContain(words.replace(/\s/g, ''))
  expect(drawings.join('')).toContain('Section,1:10')
  expect(drawings.join('')).toContain('Planoftheface,fromthefront,1:2')
  // Nothing of it is on the page afterwards.
  expect(await page.locator('.printed').count()).toBe(0)
})
