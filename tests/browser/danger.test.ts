// The dangers as a builder meets them: said at the save and on paper, pane by pane, a threshold changed and put back, the page to hang up and its print, outlines.
import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { benchCheck, DEMOS } from '../../src/library/demos.ts'
import { dangerSheetHtml } from '../../src/report/dangerPage.ts'
import { fakeDanger } from '../kit/fakeDanger.ts'
import { axe, downloaded, lampName, lampOn, openLamp, rest } from './hands.ts'
import { chromiumPages } from './harness.ts'
import { end, refuse, rename, takeWorkers, urls } from './workers.ts'

const open = chromiumPages()

const PANES = ['Findings', 'In front', 'What gets hot', 'Sun', 'Eyes', 'Safety notice'] as const

/** Pages of a document that is printed at its own size of paper. */
async function pagesOnPaper(from: Page, html: string): Promise<number> {
  const paper = await from.context().newPage()
  await paper.setContent(html)
  const pdf = await paper.pdf({ preferCSSPageSize: true })
  await paper.close()
  // PDF 32000-1, table 30: the dictionary of each page has the type Page.
  return [...pdf.toString('latin1').matchAll(/\/Type\s*\/Page\b/g)].length
}

/** The bench lamp, whose dangers are searched soonest. */
async function openBench(): Promise<Page> {
  const page = await open({
    untraced: true,
    shared: 'bench',
    // A print dialogue has nobody to answer it here: the frame that is printed tells what it would print.
    before: async (p) => {
      await p.addInitScript(takeWorkers, false)
      await p.addInitScript(() => {
        window.print = () => {
          const { title, body } = document
          const top = window.top as unknown as { printed?: string[]; paper?: string | null }
          top.printed = [...(top.printed ?? []), `${title}: ${document.querySelectorAll('.severe li').length} severe`]
          top.paper = body.textContent
          window.dispatchEvent(new Event('afterprint'))
        }
      })
    },
  })
  if ((await lampName(page).inputValue()) !== benchCheck().name) await openLamp(page, benchCheck())
  return page
}

test('a lamp with severe findings is saved with a notice that asks nothing and goes with the next edit; each printed page says so', async () => {
  const page = await openBench()
  await rest(page)
  await lampOn(page)
  const notice = page.locator('.shell-saved-body', { hasText: /Saved with (one severe finding|\d severe findings)\./ })
  await notice.waitFor()
  expect(await axe(page)).toEqual([])
  await page.getByRole('textbox', { name: 'Name of the lamp' }).fill('Another')
  await page.keyboard.press('Enter')
  await notice.waitFor({ state: 'detached' })

  await page.keyboard.press('Control+z')
  await lampName(page).blur()
  const line = page.locator('.shell-printed-severe')
  expect(await line.isVisible()).toBe(false)
  await page.emulateMedia({ media: 'print' })
  expect(await line.isVisible()).toBe(true)
  // A head of a table stands on every page that is printed.
  expect(await line.evaluate((el) => getComputedStyle(el).display)).toBe('table-header-group')
  expect(await line.textContent()).toMatch(/^(One severe finding|\d severe findings): .+/)
  await page.emulateMedia({ media: 'screen' })
})

test('every pane has its figures and no axe violation; a changed threshold is marked and goes back; the sheet prints and is saved', async () => {
  const page = await openBench()
  await page.locator('body').press('d')
  const panel = page.getByRole('region', { name: 'Dangers in full' })
  await panel.getByText('Upper ends of ± at 95 %', { exact: true }).waitFor({ timeout: 300_000 })
  await panel
    .getByText(/^Eyes(: |, looking in)/)
    .first()
    .waitFor()
  for (const name of PANES) {
    await panel.getByRole('radio', { name }).click()
    await panel.locator('[data-pane]').waitFor()
    expect(await axe(page), name).toEqual([])
  }

  const sheet = panel.getByRole('region', { name: 'Danger sheet of Bench check' })
  await sheet.getByRole('heading', { name: 'Before power' }).waitFor()
  const severe = await sheet.locator('.severe li').count()
  expect(severe).toBeGreaterThan(0)
  await panel.getByText(new RegExp(`^(One|${severe}) severe findings? stands? on the page`)).waitFor()
  await panel.getByRole('button', { name: 'Print' }).click()
  const printed = () => page.evaluate(() => (window as unknown as { printed?: string[] }).printed ?? [])
  await expect.poll(printed).toEqual([`Bench check: danger sheet: ${severe} severe`])
  await expect.poll(() => page.locator('.danger-print').count()).toBe(0)
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    panel.getByRole('button', { name: 'Save the page' }).click(),
  ])
  const saved = (await downloaded(download)).toString('utf8')
  expect(saved).toMatch(/^<!doctype html>[\s\S]*Local codes and licensed practice come first/)
  expect(await pagesOnPaper(page, saved)).toBe(1)

  // Without heat and power what is printed says so: in the head of each page, and as the first of its notes.
  const heat = (await urls(page))[1]!
  await refuse(page, [heat])
  await end(page, heat, 'boom')
  await rename(page, 'Renamed')
  await page.getByRole('button', { name: /^Undo: / }).click()
  await sheet.getByText('Not complete').waitFor()
  await panel.getByRole('button', { name: 'Print' }).click()
  await expect.poll(async () => (await printed()).length).toBe(2)
  const paper = await page.evaluate(() => (window as unknown as { paper: string }).paper)
  expect(paper).toMatch(
    /^\s*Bench check: .* Heat and power: not computed\. The worker of heat and power [\s\S]*Not completeHeat and power: not computed\./,
  )
  await refuse(page, [])

  await panel.getByRole('radio', { name: 'In front' }).click()
  const threshold = panel.getByRole('spinbutton', { name: 'Paper: harm from, kW/m²' })
  await threshold.fill('3')
  await threshold.press('Enter')
  await panel.getByText(/changed from/).waitFor()
  expect((await lampOn(page)).danger).toEqual({ thresholdsKWm2: { paper: 3 } })
  await panel.getByRole('button', { name: 'Paper: back to the published threshold' }).click()
  await panel.getByText(/changed from/).waitFor({ state: 'detached' })
  expect((await lampOn(page)).danger).toBe(undefined)

  await panel.getByText('Draw these outlines in the Section and the Solid').click()
  await panel.getByRole('radio', { name: 'Findings' }).press('Escape')
  await panel.waitFor({ state: 'detached' })
  await page
    .getByText(/keep clear/i)
    .first()
    .waitFor()
}, 400_000)

test.each(Object.entries(DEMOS))('the safety notice stays one sheet of A4 with many findings: %s', async (_, lamp) => {
  const page = await openBench()
  const d = fakeDanger(lamp(), 40)
  expect(d.findings.filter((f) => f.severity === 'severe').length).toBeGreaterThan(1)
  expect(await pagesOnPaper(page, dangerSheetHtml(d, lamp()))).toBe(1)
})
