// What a builder does on the page, in the words of the tests.
import AxeBuilder from '@axe-core/playwright'
import type { Download, Page } from 'playwright-core'
import { expect } from 'vitest'
import { readLampText, writeLampText } from '../../src/lamp/read.ts'
import type { Lamp } from '../../src/lamp/schema.ts'

export const lampName = (page: Page) => page.getByRole('textbox', { name: 'Name of the lamp' })

/** Presses Save and gives the file. */
export async function savedFile(page: Page): Promise<{ name: string; text: string }> {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save', exact: true }).click(),
  ])
  return { name: download.suggestedFilename(), text: (await downloaded(download)).toString('utf8') }
}

/** What a download holds. */
export async function downloaded(download: Download): Promise<Buffer> {
  const parts: Buffer[] = []
  for await (const part of await download.createReadStream()) parts.push(part as Buffer)
  return Buffer.concat(parts)
}

/** The lamp on screen, by way of a saved file. */
export async function lampOn(page: Page): Promise<Lamp> {
  const read = readLampText((await savedFile(page)).text)
  if (!read.ok) throw new Error(`the page saved what it could not open: ${read.why.join(' ')}`)
  return read.lamp
}

export async function openFile(page: Page, name: string, text: string): Promise<void> {
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'Open', exact: true }).click(),
  ])
  await chooser.setFiles({ name, mimeType: 'application/json', buffer: Buffer.from(text) })
}

/** Opens a lamp by way of a file, and waits until it is the one on screen. */
export async function openLamp(page: Page, lamp: Lamp): Promise<void> {
  await openFile(page, 'lamp.lamp.json', writeLampText(lamp))
  await page.waitForFunction((title) => document.title.startsWith(title), `${lamp.name} `)
}

/**
 * What axe finds amiss, one line for each element. Only that is worked out; and in one call, which needs no second page to join the frames' answers.
 * A page that has axe already keeps it: brought in anew, twice in each call, it was compiled anew, which took as long as its work.
 */
export async function axe(page: Page): Promise<string[]> {
  const there = await Promise.all(page.frames().map((frame) => frame.evaluate(() => 'axe' in window)))
  const builder = new AxeBuilder({ page, ...(there.every(Boolean) && { axeSource: 'null' }) })
    .options({ resultTypes: ['violations'], rules: { 'target-size': { enabled: true } } })
    .setLegacyMode()
  const { violations } = await builder.analyze()
  return violations.flatMap((v) => v.nodes.map((n) => `${v.id} (${v.help}): ${n.html.slice(0, 160)}`))
}

export async function show(page: Page, view: 'Plan' | 'Section' | 'Solid' | 'Night'): Promise<void> {
  await page.getByRole('tab', { name: view }).click()
  await page.getByRole('tabpanel', { name: view }).waitFor()
}

/** Pauses the trace once it has figures: by its key, which a trace that has ended meanwhile leaves as it is. */
export async function rest(page: Page): Promise<void> {
  await page.getByRole('button', { name: /^Dangers:/ }).waitFor()
  await page.locator('body').press('p')
  await page.getByRole('button', { name: /^Trace: (paused|settled)/ }).waitFor()
}

/** Pauses the trace as soon as it has begun, without figures. */
export async function hold(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Pause the trace', disabled: false }).waitFor()
  await page.locator('body').press('p')
  await page.getByRole('button', { name: /^Trace: paused/ }).waitFor()
}

/** Traces only as far as ± 5 % on the axis, and waits for that. */
export async function settled(page: Page): Promise<void> {
  await page.getByRole('combobox', { name: /^wanted/ }).selectOption('0.05')
  await page.getByRole('button', { name: /^Trace: settled/ }).waitFor({ timeout: 240_000 })
}

/** Waits until the axis is known to a share, ± at 95 %; no longer. */
export async function precise(page: Page, share: number): Promise<void> {
  const now = page.locator('.sheet-now')
  await expect
    .poll(async () => Number(/([\d.]+)\s*%/.exec((await now.textContent({ timeout: 0 })) ?? '')?.[1] ?? 100), {
      timeout: 240_000,
    })
    .toBeLessThanOrEqual(100 * share)
}

/** A figure of the sheet's first rows, as a number; the words beside it are left out. */
export async function figure(page: Page, name: string): Promise<number> {
  const tile = page.locator('.sheet-tile', { has: page.getByRole('button', { name: `${name}: how it is computed` }) })
  // What was traced, in all its digits: the tile shows no more of them than the parts deserve.
  return Number(await tile.locator('.sheet-big data').getAttribute('value'))
}
