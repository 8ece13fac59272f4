// What a reload leaves as it was: the last edit, even in the same instant, and the way back.
import { expect, test } from 'vitest'
import { packLamp } from '../../src/files/lampLink.ts'
import { stileLamp } from '../../src/library/demos.ts'
import { lampName } from './hands.ts'
import { chromiumPages } from './harness.ts'

const open = chromiumPages()

test('a reload right after an edit keeps it, and undo and redo go on from there', async () => {
  const page = await open({ idle: true })
  await page.getByText('Saved automatically in this browser').waitFor()
  await lampName(page).fill('First')
  await lampName(page).press('Enter')
  await lampName(page).fill('Second')
  // In one go: nothing has had time to be stored.
  await page.evaluate(() => {
    const name = document.querySelector<HTMLInputElement>('.shell-name input')!
    name.blur()
    location.reload()
  })
  await page.waitForEvent('load')
  await expect.poll(() => lampName(page).inputValue()).toBe('Second')
  await page.locator('body').press('Control+z')
  await expect.poll(() => lampName(page).inputValue()).toBe('First')
  await page.locator('body').press('Control+z')
  await expect.poll(() => lampName(page).inputValue()).toBe('Gannet Head')
  await page.reload()
  await page.getByRole('button', { name: /^Redo: / }).waitFor()
  await page.locator('body').press('Control+Shift+z')
  await expect.poll(() => lampName(page).inputValue()).toBe('First')
  await page.getByRole('button', { name: 'Earlier' }).click()
  await page.getByRole('dialog').getByText('Name of the lamp: “First” → “Second”').waitFor()
})

test('back and forward go through views and panels, a reload shows the same; a link brings its lamp beside the open one', async () => {
  const page = await open({ idle: true, address: '?engine=cpu' })
  await page.locator('body').press('1')
  await page.getByRole('tabpanel', { name: 'Plan' }).waitFor()
  await page.locator('body').press('m')
  const panel = page.getByRole('heading', { name: 'Drawings and files' })
  await panel.waitFor()
  expect(page.url()).toMatch(/\/\?engine=cpu#view=plan&panel=workshop$/)
  await page.goBack()
  await panel.waitFor({ state: 'detached' })
  await page.goBack()
  await page.getByRole('tabpanel', { name: 'Section' }).waitFor()
  await page.goForward()
  await page.goForward()
  await panel.waitFor()
  await page.reload()
  await panel.waitFor()
  expect(await page.getByRole('tab', { name: 'Plan' }).getAttribute('aria-selected')).toBe('true')

  const address = page.url().replace(/#.*/, '')
  await page.goto(`${address}#lamp=${await packLamp(stileLamp())}`)
  await expect.poll(() => lampName(page).inputValue()).toBe('Stile lamp')
  await page.getByText('“Stile lamp” came with the link').waitFor()
  expect(page.url()).not.toContain('lamp=')
  await page.getByRole('button', { name: 'Lamps stored in this browser: 2' }).waitFor()
  await page.goto(`${address}#lamp=1.cut`)
  await page.getByRole('alertdialog', { name: 'The lamp in the link was not opened' }).getByText('cut off').waitFor()
})
