// The open lamp beside a stored one: what changed in words, which figures differ, the night of both, dangers and parts row by row; a dropped file
// as a third; taken out again.
import type { Page } from 'playwright-core'
import { expect, test, vi } from 'vitest'
import { writeLampText } from '../../src/lamp/read.ts'
import { benchCheck } from '../../src/library/demos.ts'
import { axe, openLamp } from './hands.ts'
import { chromiumPages } from './harness.ts'
import { decodePng } from './nightPixels.ts'

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
  await panel.getByRole('button', { name: 'Add a lamp' }).click()
  await page.getByRole('menuitem', { name: 'Bench check' }).first().click()
  await panel.getByText('Board B1: current 1.6 → 2 A').waitFor()
  const show = (pane: string) => panel.getByRole('radio', { name: pane }).click()
  const row = (name: string) => panel.getByRole('row').filter({ has: page.getByRole('rowheader', { name }) })
  await row('Flux emitted')
    .getByText(/^\+.*, differs/)
    .waitFor({ timeout: 300_000 })
  await row('Beam angle')
    .getByText(/within ±|the same/)
    .waitFor()
  expect(await panel.locator('path.compare-line').count()).toBe(4)
  await page.locator('[data-overlay-container]').waitFor({ state: 'detached' })
  expect(await axe(page)).toEqual([])
  await show('Night')
  await panel.getByRole('row', { name: /B Bench check [\d.]+ ± ?[\d.]+ lx/ }).waitFor()
  // One exposure for both: a quarter more current is brighter.
  await expect
    .poll(
      async () => {
        const [a, b] = await light(page)
        return b / a
      },
      { timeout: 60_000 },
    )
    .toBeGreaterThan(1.03)
  expect(await page.evaluate(() => document.querySelectorAll('.night-beside canvas').length)).toBe(2)
  await show('Parts')
  await row('Emitters').getByRole('cell').nth(1).waitFor()
  await panel.getByText(/^All \d+ rows of the parts lists are alike/).waitFor()
  await show('Dangers')
  await row('Worst in front')
    .getByText(/worse|within ±/)
    .waitFor({ timeout: 300_000 })
  expect(await axe(page)).toEqual([])
  await show('Light')
  await dropFile(page, 'third.lamp.json', writeLampText({ ...lamp, name: 'Third' }))
  await panel.getByRole('button', { name: 'Take Third out of the comparison' }).click()
  await panel.getByRole('button', { name: 'Take Bench check out of the comparison' }).click()
  expect(await row('Flux emitted').count()).toBe(0)
})

async function dropFile(page: Page, name: string, text: string): Promise<void> {
  await page.evaluate(
    ([fileName = '', content = '']) => {
      const dataTransfer = new DataTransfer()
      dataTransfer.items.add(new File([content], fileName, { type: 'application/json' }))
      window.dispatchEvent(new DragEvent('drop', { dataTransfer, bubbles: true, cancelable: true }))
    },
    [name, text],
  )
}

/** Of each half of the pictures, without their edges, where names and marks of both are alike: the sum of all three colours. */
async function light(page: Page): Promise<[number, number]> {
  const pixels = decodePng(await page.locator('.night-beside .night-stage').screenshot())
  const sum = (from: number, to: number) => {
    let all = 0
    for (let y = 0; y < pixels.height; y += 2)
      for (let x = from; x < to; x += 2) all += pixels.at(x, y).reduce((a, b) => a + b, 0)
    return all
  }
  const half = Math.floor(pixels.width / 2)
  return [sum(0, half - 4), sum(half + 4, pixels.width)]
}
