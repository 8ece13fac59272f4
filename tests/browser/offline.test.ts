// The page without its server, and a newer version of it.
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, inject, test } from 'vitest'
import { serviceWorkerFor } from '../../scripts/offline/plugin.ts'
import { hold, lampName, rest, show } from './hands.ts'
import { chromiumPages } from './harness.ts'
import { serve } from './serve.ts'

const open = chromiumPages()
/** Nobody answers when the browser looks for a newer version. */
const REFUSED = /ERR_CONNECTION_REFUSED/
let folder: string

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'lampwright-page-'))
  cpSync(inject('pageIn'), folder, { recursive: true })
})
afterAll(() => rmSync(folder, { recursive: true }))

test('after one visit it opens and traces with its server stopped; a newer version waits until it is taken', async () => {
  const first = await serve(folder)
  const page = await open({ at: first.at, address: '?engine=cpu', offline: true, untraced: true, expects: REFUSED })
  await page.getByText('opens without a network').waitFor()
  first.close()

  await page.goto(`${first.at}?engine=cpu`)
  await rest(page)
  // Parts that are loaded when they are asked for: the solid, drawings, and the fonts of a PDF.
  await show(page, 'Solid')
  await page.locator('.solid-stage canvas').waitFor()
  await page.locator('body').press('m')
  await page.getByRole('heading', { name: 'Drawings and files' }).waitFor()
  expect(await page.evaluate(async () => (await fetch('fonts/LiberationSans-Bold.ttf')).ok)).toBe(true)

  writeFileSync(
    join(folder, 'index.html'),
    readFileSync(join(folder, 'index.html'), 'utf8').replace('<head>', '<head data-newer>'),
  )
  writeFileSync(join(folder, 'service-worker.js'), serviceWorkerFor(folder))
  const second = await serve(folder, Number(new URL(first.at).port))
  await page.goto(`${first.at}?engine=cpu`)
  await hold(page)
  await lampName(page).fill('Kept over the change')
  await lampName(page).press('Enter')
  await page.getByText('A newer version is ready.').waitFor()
  expect(await page.locator('head[data-newer]').count()).toBe(0)
  await page.getByRole('button', { name: 'Reload' }).click()
  await page.locator('head[data-newer]').waitFor({ state: 'attached' })
  await hold(page)
  await expect.poll(() => lampName(page).inputValue()).toBe('Kept over the change')
  expect(await page.getByText('A newer version is ready.').count()).toBe(0)
  second.close()
})
