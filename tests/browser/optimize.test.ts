// A search on the page: bounds, search, a reload in its middle, the best of a bench whose focus is known, undo.
import { expect, test, vi } from 'vitest'
import { benchCheck } from '../../src/library/demos.ts'
import { axe, lampOn, openLamp, rest } from './hands.ts'
import { chromiumPages } from './harness.ts'

vi.setConfig({ testTimeout: 400_000 })
const open = chromiumPages()

test('the lens is searched into its focus; “Use this” moves it there, undo brings it back', async () => {
  const page = await open({ untraced: true })
  await openLamp(page, { ...benchCheck(), lens: { ...benchCheck().lens!, zMm: 190 } })
  await rest(page)
  await page.getByRole('button', { name: 'Optimize…' }).click()
  const panel = page.getByRole('region', { name: 'Optimize' })
  const type = async (name: string, text: string) => {
    await panel.getByRole('spinbutton', { name, exact: true }).fill(text)
    await panel.getByRole('spinbutton', { name, exact: true }).press('Enter')
  }
  await type('from', '180')
  await type('to', '220')
  await type('Lamps to try', '24')
  await panel.getByRole('button', { name: 'Search', exact: true }).click()
  // Left while it runs, it goes on by itself. On a quick machine the count is passed before it is seen.
  await panel
    .getByText(/^\d+ (of 24 )?lamps tried|^Checks the best/)
    .first()
    .waitFor({ timeout: 120_000 })
  await page.reload()
  await panel.getByText(/ more than the lamp as it stands\./).waitFor({ timeout: 300_000 })
  expect(await axe(page)).toEqual([])
  await panel.getByRole('button', { name: 'Use this' }).click()
  expect(Math.abs((await lampOn(page)).lens!.zMm - 200)).toBeLessThan(1)
  await panel
    .getByText(/^Used: Lens: stands at z/)
    .first()
    .waitFor()
  await page.getByRole('button', { name: /^Undo: Lens: stands at z/ }).click()
  expect((await lampOn(page)).lens?.zMm).toBe(190)
  await panel.getByRole('heading', { name: 'Optimize' }).focus()
  await page.keyboard.press('Escape')
  await panel.waitFor({ state: 'detached' })
})
