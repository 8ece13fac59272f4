// Which engine traces: the page says so, a graphics device may take over and be lost, and the sheet stays right.
import type { Page } from 'playwright-core'
import { expect, test, vi } from 'vitest'
import type { Lamp } from '../../src/lamp/schema.ts'
import { stileLamp } from '../../src/library/demos.ts'
import { sunless } from '../kit/sunless.ts'
import { axe, figure, openLamp, rest, settled } from './hands.ts'
import { chromiumPages } from './harness.ts'

vi.setConfig({ testTimeout: 400_000 })
const open = chromiumPages()

const traceState = (page: Page, words: RegExp) => page.getByRole('button', { name: words }).first()

/** Opened and closed by keyboard: why this engine. */
async function whyEngine(page: Page): Promise<string> {
  await page.getByRole('button', { name: /^Traced by the .*: why$/ }).focus()
  await page.keyboard.press('Enter')
  const note = page.getByRole('dialog', { name: /^Traced by the / })
  const words = (await note.textContent()) ?? ''
  await page.keyboard.press('Escape')
  await note.waitFor({ state: 'detached' })
  return words
}

/** Another number, so that the lamp is traced anew. */
async function edit(page: Page, fluxLm: number): Promise<void> {
  const flux = page.getByRole('spinbutton', { name: 'Flux when rated' }).first()
  await flux.fill(String(fluxLm))
  await flux.press('Enter')
}

const FIGURES = ['Flux out', 'Efficiency', 'Axial intensity', 'Beam angle', 'Target centre']

/** A figure and its ± as they stand on the sheet. */
async function withError(page: Page, name: string): Promise<{ value: number; pm: number }> {
  const tile = page.locator('.sheet-tile', { has: page.getByRole('button', { name: `${name}: how it is computed` }) })
  const text = (await tile.locator('.sheet-pm').textContent()) ?? ''
  return { value: await figure(page, name), pm: Number(text.replace(/[^\d.]/g, '')) }
}

/** Without lens and tunnel its shader is made in a moment, and no sun is traced beside it. */
const plainLamp = (): Lamp => sunless(stileLamp())

test('a device that the processor computes itself is passed over, and the page says so', async () => {
  const page = await open({ untraced: true })
  await openLamp(page, plainLamp())
  await traceState(page, /^Trace: .*, processor$/).waitFor()
  await edit(page, 601)
  await expect.poll(() => whyEngine(page)).toMatch(/processor: the graphics device here is computed by the processor/)
  await rest(page)
  expect(await axe(page)).toEqual([])
})

test('starts on the graphics device, loses it in the middle of a run, and ends with the right sheet', async () => {
  const page = await open({ address: '?engine=cpu', untraced: true })
  await openLamp(page, plainLamp())
  await settled(page)
  expect(await whyEngine(page)).toContain('processor: it was asked for.')
  const right = await Promise.all(FIGURES.map((name) => withError(page, name)))
  await page.getByText('Saved automatically in this browser').waitFor()

  await page.goto(page.url().replace('engine=cpu', 'engine=gpu&lose-graphics=100000'))
  await settled(page)
  // The processor may have been done before the driver had made its shader; then the trace begins anew, with the device ready.
  let why = ''
  for (let edits = 0; edits < 20 && !/was lost/.test(why); edits++) {
    if (edits > 0) {
      await edit(page, 600 + edits)
      await traceState(page, /^Trace: (rough|settling)/).waitFor()
      await settled(page)
    }
    why = await whyEngine(page)
  }
  expect(why).toMatch(
    /processor: the graphics device was lost \(.+\) after [\d\u202f]{5,} rays; the run goes on here\./,
  )
  expect(await page.locator('.sheet-column').textContent()).toContain('Sums to 100.000 % of the flux emitted.')
  const flux = Number(await page.getByRole('spinbutton', { name: 'Flux when rated' }).first().inputValue())
  const fluxWas = plainLamp().emitterTypes[0]!.fluxLm
  for (const [i, name] of FIGURES.entries()) {
    const scale = /Flux|intensity|Target/.test(name) ? flux / fluxWas : 1
    const { value, pm } = await withError(page, name)
    const was = right[i]!
    // Both ± at 95 %, and what the digits of a tile leave out.
    const allowed = pm + was.pm * scale + 0.001 * value
    expect(Math.abs(value - was.value * scale), `${name}: ${value} ± ${pm}, was ${was.value}`).toBeLessThanOrEqual(
      allowed,
    )
  }
})
