// Lamps in and out: save, open, a file that doesn't fit, a crash.
import { expect, test } from 'vitest'
import { readLampText, writeLampText } from '../../src/lamp/read.ts'
import { gannetHead, stileLamp } from '../../src/library/demos.ts'
import { lampName, openFile, savedFile } from './hands.ts'
import { chromiumPages } from './harness.ts'

const open = chromiumPages()

test('a file that doesn’t fit: field, value and what was expected; the open lamp is untouched', async () => {
  const page = await open({ idle: true, shared: 'demo' })
  await lampName(page).fill('Mine')
  await lampName(page).press('Enter')
  const lamp = stileLamp()
  await openFile(page, 'bad.lamp.json', JSON.stringify({ ...lamp, face: { ...lamp.face, sizeMm: 1e6, margin: 1 } }))
  const message = page.getByRole('alertdialog')
  await message.waitFor()
  const texts = await message.textContent()
  expect(texts).toContain('bad.lamp.json')
  expect(texts).toContain('face.sizeMm: 1000000 does not fit; expected at most 2000.')
  expect(texts).toContain('face.margin: no such entry (did you mean marginMm?).')
  await page.keyboard.press('Escape')
  await message.waitFor({ state: 'detached' })
  expect(await lampName(page).inputValue()).toBe('Mine')
  expect(readLampText((await savedFile(page)).text)).toEqual({ ok: true, lamp: { ...gannetHead(), name: 'Mine' } })
  // and its history is still there
  await page.locator('body').press('Control+z')
  await expect.poll(() => lampName(page).inputValue()).toBe('Gannet Head')
})

test('what is saved is the lamp on screen, and opens again as it was', async () => {
  const page = await open({ idle: true, shared: 'demo' })
  await lampName(page).fill('Quay light')
  await lampName(page).press('Enter')
  const file = await savedFile(page)
  expect(file.name).toBe('quay-light.lamp.json')
  expect(readLampText(file.text)).toEqual({ ok: true, lamp: { ...gannetHead(), name: 'Quay light' } })

  const other = await open({ idle: true, shared: 'other' })
  await openFile(other, file.name, file.text)
  await expect.poll(() => lampName(other).inputValue()).toBe('Quay light')
  expect((await savedFile(other)).text).toBe(file.text)
})

test('a file dropped on the page opens', async () => {
  const page = await open({ idle: true, shared: 'other' })
  const data = await page.evaluateHandle((text) => {
    const transfer = new DataTransfer()
    transfer.items.add(new File([text], 'stile.lamp.json', { type: 'application/json' }))
    return transfer
  }, writeLampText(stileLamp()))
  for (const type of ['dragenter', 'dragover', 'drop']) await page.dispatchEvent('body', type, { dataTransfer: data })
  await expect.poll(() => lampName(page).inputValue()).toBe('Stile lamp')
})

test('after a crash the lamp is as it was a moment before', async () => {
  const page = await open({ idle: true })
  await lampName(page).fill('Nearly lost')
  await lampName(page).press('Enter')
  // The page stays as it is, unwarned: what another one reads is what a crash would leave.
  const again = await page.context().newPage()
  const found = async () => {
    await again.goto(page.url())
    await again.getByText('Saved automatically in this browser').waitFor()
    return lampName(again).inputValue()
  }
  await expect.poll(found, { interval: 500 }).toBe('Nearly lost')
})
