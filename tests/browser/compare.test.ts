// The open lamp beside a stored one: what changed in words, which figures differ; taken out again.
import { expect, test, vi } from 'vitest'
import { benchCheck } from '../../src/library/demos.ts'
import { axe, openLamp } from './hands.ts'
import { chromiumPages } from './harness.ts'

vi.setConfig({ testTimeout: 400_000 })
const open = chromiumPages()

test('less current than a stored lamp: the words name it, the flux differs, the angles don’t', async () => {
  const page = await open({ untraced: true })
  const lamp = benchCheck()
  await openLamp(page, lamp)
  await openLamp(page, { ...lamp, name: 'Dimmer', boards: lamp.boards.map((b) => ({ ...b, currentA: 1.6 })) })
  await page.getByRole('button', { name: 'Compare…' }).click()
  const panel = page.getByRole('region', { name: 'Compare' })
  await panel.getByText('Add up to three lamps beside A').waitFor()
  await panel.getByRole('button', { name: 'Add a stored lamp' }).click()
  await page.getByRole('menuitem', { name: 'Bench check' }).click()
  await panel.getByText('Board B1: current 1.6 → 2 A').waitFor()
  const row = (name: string) => panel.getByRole('row').filter({ has: page.getByRole('rowheader', { name }) })
  await row('Flux emitted')
    .getByText(/^\+.*, differs/)
    .waitFor({ timeout: 300_000 })
  await row('Beam angle')
    .getByText(/within ±|the same/)
    .waitFor()
  await row('Emitters').getByRole('cell').nth(1).waitFor()
  expect(await panel.locator('path.compare-line').count()).toBe(4)
  await page.locator('[data-overlay-container]').waitFor({ state: 'detached' })
  expect(await axe(page)).toEqual([])
  await panel.getByRole('button', { name: 'Take Bench check out of the comparison' }).click()
  expect(await row('Flux emitted').count()).toBe(0)
})
