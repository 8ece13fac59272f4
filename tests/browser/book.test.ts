// The book on the page: made from settled results, and opened again as the lamp that it holds.
import { PDFDocument } from '@cantoo/pdf-lib'
import { expect, test } from 'vitest'
import { lampFromPdf } from '../../src/files/lampInPdf.ts'
import { benchCheck, stileLamp } from '../../src/library/demos.ts'
import { amount } from '../kit/amount.ts'
import { sunless } from '../kit/sunless.ts'
import { axe, downloaded, lampName, openLamp, settled } from './hands.ts'
import { chromiumPages } from './harness.ts'

const open = chromiumPages()

const lamp = () => amount(sunless(benchCheck()), benchCheck())

test('the book waits for settled figures, is a PDF with the lamp in it, and opens again', async () => {
  // As on plain http, where a browser has no crypto.subtle.
  const page = await open({
    untraced: true,
    before: (p) => p.addInitScript(() => Object.defineProperty(Crypto.prototype, 'subtle', { get: () => undefined })),
  })
  await openLamp(page, lamp())
  await page.getByRole('button', { name: 'Book', exact: true }).click()
  const dialog = page.getByRole('dialog', { name: 'The book of this lamp' })
  await dialog.waitFor()
  expect(await axe(page)).toEqual([])
  await page.keyboard.press('Escape')
  await settled(page)
  await page.getByRole('button', { name: 'Book', exact: true }).click()
  expect(await dialog.textContent()).toContain('The dangers in full have not been read')
  await dialog.getByText('Sources of the figures').click()
  const save = dialog.getByRole('button', { name: 'Save as PDF' })
  await expect.poll(() => save.isEnabled(), { timeout: 60_000 }).toBe(true)
  const [download] = await Promise.all([page.waitForEvent('download', { timeout: 60_000 }), save.click()])
  expect(download.suggestedFilename()).toBe('bench-check-book.pdf')
  const bytes = await downloaded(download)
  expect(await lampFromPdf(bytes)).toEqual({ ok: true, lamp: lamp() })
  // The night, as the page draws it.
  const objects = (await PDFDocument.load(bytes)).context.enumerateIndirectObjects()
  expect(objects.some(([, o]) => /\/Subtype \/Image/.test(String(o)) && /\/Width 1200/.test(String(o)))).toBe(true)
  await dialog.waitFor({ state: 'detached' })

  await openLamp(page, stileLamp())
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'Open', exact: true }).click(),
  ])
  await chooser.setFiles({ name: 'bench-check-book.pdf', mimeType: 'application/pdf', buffer: bytes })
  await expect.poll(() => lampName(page).inputValue()).toBe('Bench check')
})
