// Workers that die, can't be started, or keep silent: the page says what is missing on the sheet, at Save and in print, and starts them again.
import { expect, test } from 'vitest'
import { iceRink, stileLamp } from '../../src/library/demos.ts'
import { sunless } from '../kit/sunless.ts'
import { axe, openLamp, savedFile } from './hands.ts'
import { chromiumPages } from './harness.ts'
import { end, refuse, rename, takeWorkers, urls } from './workers.ts'

const open = chromiumPages()

test('the tracer and heat and power: dead, refused, silent; said on the sheet, at Save, on paper and with the wiring; back again', async () => {
  const page = await open({ before: (p) => p.addInitScript(takeWorkers, true) })
  const sheet = page.getByRole('complementary', { name: 'Beam sheet' })
  const worst = sheet.getByRole('list', { name: 'The worst findings' })
  const heatGone = 'Heat and power: not computed. The worker of heat and power could not start: no memory.'
  const beamGone = 'Beam: not computed. The tracer could not start: no memory.'
  await openLamp(page, sunless(stileLamp()))
  await sheet.getByText('Plate and sink get to').first().waitFor()
  const [tracer, heat] = await urls(page)
  await page.locator('body').press('p')

  // Heat and power is gone for good, and an edit asks for it.
  await refuse(page, [heat!])
  await end(page, heat!, 'boom')
  await rename(page, 'Renamed')
  await worst.getByText(heatGone).waitFor()
  const again = sheet.getByRole('button', { name: 'Try again' })
  await again.waitFor()
  expect(await sheet.getByText(/^Perhaps still: /).count()).toBeGreaterThan(0)
  const counted = Number((await sheet.locator('.sheet-count').textContent())!.match(/(\d+) severe/)![1])
  expect(await sheet.locator('.sheet-findings > li[data-severity="severe"]').count()).toBe(counted)
  await savedFile(page)
  await page.getByRole('status').getByText(heatGone).waitFor()
  await page.locator('body').press('w')
  const panel = page.getByRole('region', { name: 'Heat and power' })
  await panel.getByRole('radio', { name: 'Wiring' }).click()
  await panel.getByText(heatGone).waitFor()
  expect(await axe(page)).toEqual([])

  // The tracer too: with a sheet, then without one.
  await refuse(page, [tracer!, heat!])
  await page.locator('body').press('p')
  await end(page, tracer!, 'boom')
  await worst.getByText(beamGone).waitFor()
  await page.emulateMedia({ media: 'print' })
  const onPaper = page.locator('.shell-printed-severe')
  expect(await onPaper.textContent()).toContain(`${beamGone} ${heatGone}`)
  await page.evaluate(() => {
    document.documentElement.dataset['print'] = 'power'
  })
  expect(await panel.getByText(heatGone).isVisible()).toBe(true)
  expect(await panel.getByRole('button', { name: 'Try again' }).isVisible()).toBe(false)
  await page.evaluate(() => delete document.documentElement.dataset['print'])
  await page.emulateMedia({ media: 'screen' })
  await panel.getByRole('button', { name: 'Close heat and power' }).click()
  await openLamp(page, sunless(iceRink()))
  await sheet.getByText(beamGone).first().waitFor()
  expect(await sheet.locator('.sheet-tiles').count()).toBe(0)
  await sheet.getByRole('button', { name: /^Dangers: 2 severe/ }).waitFor()
  expect(await axe(page)).toEqual([])

  // Both come back when they may, each by its own button; silence is a death too, and then nobody has to press anything.
  await refuse(page, [])
  for (const gone of [beamGone, heatGone]) {
    const finding = sheet.locator('.sheet-findings > li', { hasText: gone })
    await finding.getByRole('button', { name: 'Try again' }).click()
    await finding.waitFor({ state: 'detached' })
  }
  expect(await sheet.getByText('not computed').count()).toBe(0)
  await page.evaluate(() => {
    window.workers.pingMs = 100
  })
  await end(page, heat!, null)
  await rename(page, 'Silent')
  const silent = 'Heat and power: not computed. The worker of heat and power has not answered for 30 s.'
  await worst.getByText(silent).waitFor()
  await page.evaluate(() => {
    window.workers.pingMs = 2_000
  })
  await worst.getByText(silent).waitFor({ state: 'detached' })
})

test('the danger sheet and a range: their workers die, the panels say so, and go on', async () => {
  const page = await open({ before: (p) => p.addInitScript(takeWorkers, true) })
  const sheet = page.getByRole('complementary', { name: 'Beam sheet' })
  await page.locator('body').press('d')
  await expect.poll(() => urls(page)).toHaveLength(3)
  const danger = (await urls(page))[2]!
  await refuse(page, [danger])
  await end(page, danger, 'boom')
  const gone = 'Dangers in full: not computed. The worker of the danger sheet could not start: no memory.'
  const panel = page.getByRole('region', { name: 'Dangers in full' })
  await panel.getByText(gone).waitFor()
  await panel.getByText('Nothing has been searched.').waitFor()
  await sheet.getByRole('list', { name: 'The worst findings' }).getByText(gone).waitFor()
  await refuse(page, [])
  await panel.getByRole('button', { name: 'Try again' }).click()
  await panel.getByText(/^(Tracing the beam|Searching)/).waitFor()
  await page.keyboard.press('Escape')

  const before = (await urls(page)).length
  await page.locator('body').press('t')
  const range = page.getByRole('region', { name: 'Try a range' })
  await range.getByText(/\d of \d+ lamps traced/).waitFor()
  const sweeper = (await urls(page))[before]!
  const all = (await urls(page)).length
  await end(page, sweeper, 'boom')
  await range.getByText(/A worker of the sweep stopped: boom\. It is being started again\./).waitFor()
  await expect.poll(async () => (await urls(page)).length).toBe(all + 1)
})
