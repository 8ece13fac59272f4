// An emitter's light over angle out of a photometric file: taken in one step, or refused in words.
import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { withLines } from '../kit/lm63File.ts'
import { axe, lampOn } from './hands.ts'
import { chromiumPages } from './harness.ts'

const open = chromiumPages()

async function give(page: Page, text: string): Promise<void> {
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'Profile from a file', exact: true }).click(),
  ])
  await chooser.setFiles({ name: 'spot.ies', mimeType: 'text/plain', buffer: Buffer.from(text) })
}

test('a faulty file leaves the lamp alone and says where its fault is', async () => {
  const page = await open({ idle: true, shared: 'demo' })
  const before = await lampOn(page)
  await give(page, withLines({ 7: '1 -1 1 10 1 2 2 0 0 0' }))
  const message = page.getByRole('alertdialog')
  await message.waitFor()
  expect(await message.textContent()).toContain('line 7, photometric type: 2 does not fit (type B')
  await page.keyboard.press('Escape')
  await message.waitFor({ state: 'detached' })
  expect(await lampOn(page)).toEqual(before)
})

test('taken with its lumens, by keyboard, in one step that can be undone', async () => {
  const page = await open({ idle: true, shared: 'demo' })
  const before = await lampOn(page)
  await give(page, withLines({}))
  const dialog = page.getByRole('dialog', { name: 'Light of “spot.ies”' })
  await dialog.waitFor()
  expect(await dialog.textContent()).toContain('Viewing angle 65.7°, full: half of the peak at 32.9° from the axis.')
  expect(await axe(page)).toEqual([])
  await dialog.getByRole('switch', { name: /^Use its lumens too: 1269\.3/ }).focus()
  await page.keyboard.press('Space')
  await page.keyboard.press('Tab')
  await page.keyboard.press('Tab')
  await page.keyboard.press('Enter')
  await dialog.waitFor({ state: 'detached' })
  const emitter = (await lampOn(page)).emitterTypes[0]!
  expect(emitter.profile).toMatchObject({ kind: 'table', thetaDeg: [0, 10, 20, 30, 40, 50, 60, 70, 80, 90] })
  expect(emitter.fluxLm).toBe(1269.3)
  await page.getByRole('button', { name: /^Rows of the table/ }).click()
  await page.getByRole('button', { name: 'Add a row to Light over angle' }).waitFor()
  expect(await axe(page)).toEqual([])
  await page.locator('body').press('Control+z')
  expect(await lampOn(page)).toEqual(before)
})
