// A ray file as an emitter's light: read by a worker, shown, taken in one step; refused in words.
import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { DEMOS } from '../../src/library/demos.ts'
import { lambertianRays, rayFileBytes } from '../kit/rayFile.ts'
import { axe, lampOn, openLamp } from './hands.ts'
import { chromiumPages } from './harness.ts'

const open = chromiumPages()

async function give(page: Page, bytes: Uint8Array, button = 'Rays from a file'): Promise<void> {
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: button, exact: true }).click(),
  ])
  await chooser.setFiles({ name: 'die.tm25ray', mimeType: 'application/octet-stream', buffer: Buffer.from(bytes) })
}

test('a damaged file leaves the lamp alone and says what is amiss', async () => {
  const page = await open({ idle: true, shared: 'bench' })
  await openLamp(page, DEMOS['bench-check']!())
  const before = await lampOn(page)
  await give(page, rayFileBytes(lambertianRays(50, 1)).subarray(0, 37_000))
  const message = page.getByRole('alertdialog')
  await message.waitFor()
  expect(await message.textContent()).toMatch(/breaks off: it promises 50 rays and ends after/)
  await page.keyboard.press('Escape')
  await message.waitFor({ state: 'detached' })
  expect(await lampOn(page)).toEqual(before)
})

test('taken with its lumens and moved, in one step that can be undone; taken out again', async () => {
  const page = await open({ idle: true, shared: 'bench' })
  const before = await lampOn(page)
  const rays = lambertianRays(40_000, 2).map((r) => ({
    ...r,
    place: [r.place![0] + 8, r.place![1], 3] as const,
    watts: 1e-4,
  }))
  await give(page, rayFileBytes(rays))
  const dialog = page.getByRole('dialog', { name: 'Rays of “die.tm25ray”' })
  await dialog.waitFor()
  const words = await dialog.textContent()
  expect(words).toContain('The lamp keeps 32\u202f768 rays, drawn by weight')
  expect(words).toContain('is its origin the emitter?')
  expect(await axe(page)).toEqual([])
  await dialog.getByRole('switch', { name: /^Move their middle/ }).press('Space')
  await dialog.getByRole('switch', { name: /^Use its lumens too: 27/ }).press('Space')
  await dialog.getByRole('button', { name: 'Use it' }).click()
  await dialog.waitFor({ state: 'detached' })
  const emitter = (await lampOn(page)).emitterTypes[0]!
  expect(emitter.rays).toMatchObject({ fileName: 'die.tm25ray', fileRays: 40_000, ownWavelengths: true })
  expect(emitter.rays!.toMm[2]).toBe(0)
  expect(emitter.fluxLm).toBeCloseTo(4 * 683.002, 0)
  expect(emitter.source).toMatchObject({ shape: 'disc' })
  await page.getByText('Light: 32\u202f768 of 40\u202f000 rays of die.tm25ray').waitFor()
  expect(await axe(page)).toEqual([])
  await page.getByRole('button', { name: 'Take the rays out' }).click()
  expect((await lampOn(page)).emitterTypes[0]!.rays).toBeUndefined()
  await page.locator('body').press('Control+z')
  await page.locator('body').press('Control+z')
  expect(await lampOn(page)).toEqual(before)
})
