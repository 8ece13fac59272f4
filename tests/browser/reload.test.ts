// What a reload leaves as it was: the last edit, even in the same instant, and the way back.
import { expect, test } from 'vitest'
import { lampName } from './hands.ts'
import { chromiumPages } from './harness.ts'

const open = chromiumPages()

test('a reload right after an edit keeps it, and undo and redo go on from there', async () => {
  const page = await open({ idle: true })
  await page.getByText('Kept in this browser by itself').waitFor()
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
  await page.locator('body').press('Control+Shift+z')
  await expect.poll(() => lampName(page).inputValue()).toBe('First')
  await page.getByRole('button', { name: 'Earlier' }).click()
  await page.getByRole('dialog').getByText('Name of the lamp: “First” → “Second”').waitFor()
})
