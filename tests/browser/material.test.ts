// The lens's own material as a builder gives it: by the two numbers of a data sheet, then by transmittance, with facets that stay as cut.
import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import type { FresnelLens } from '../../src/lamp/schema.ts'
import { axe, lampOn } from './hands.ts'
import { chromiumPages } from './harness.ts'

const open = chromiumPages()

async function choose(page: Page, label: string, option: string): Promise<void> {
  await page.getByRole('button', { name: label }).click()
  await page.getByRole('option', { name: option, exact: true }).click()
}

async function type(page: Page, label: string, value: string): Promise<void> {
  const field = page.getByRole('spinbutton', { name: label, exact: true })
  await field.fill(value)
  await field.press('Enter')
}

const lensOf = async (page: Page) => (await lampOn(page)).lens as FresnelLens

test('own material: index and Abbe number, internal transmittance, limits not known; its facets stay acrylic’s', async () => {
  const page = await open({ idle: true })
  await choose(page, 'Acrylic (PMMA) Material', 'own …')
  await type(page, 'Index at 587.6 nm', '1.55')
  await type(page, 'Abbe number', '41')
  await page.getByText('Index 1.5500 at 587.6 nm, Abbe number 41.0.').waitFor()
  await choose(page, 'one value per mm Absorption by', 'internal transmittance')
  await type(page, 'Internal transmittance, row 1, passes', '0.8')
  await choose(page, 'the lens’s material Facets cut in', 'Acrylic (PMMA)')
  await page.getByText(/^With these facets the focal length near the axis is \d+ mm, not/).waitFor()
  const { material, ownMaterial, cutFor } = await lensOf(page)
  expect({ material, cutFor }).toEqual({ material: 'own', cutFor: 'pmma' })
  expect(ownMaterial).toMatchObject({
    index: { by: 'abbe', nd: 1.55, abbe: 41 },
    absorption: { by: 'transmittance', thicknessMm: 10 },
    keepBelowC: null,
  })
  expect(ownMaterial!.absorption).toMatchObject({ rows: expect.arrayContaining([{ wavelengthNm: 380, share: 0.8 }]) })
  await choose(page, 'Acrylic (PMMA) Facets cut in', 'the lens’s material')
  expect(await lensOf(page)).not.toHaveProperty('cutFor')
  // A limit is given, and taken back.
  await type(page, 'Bears for long', '85')
  expect((await lensOf(page)).ownMaterial!.keepBelowC).toBe(85)
  await type(page, 'Bears for long', '')
  expect((await lensOf(page)).ownMaterial!.keepBelowC).toBeNull()
  // What can't be is refused in words, and the lamp stays.
  await type(page, 'Index at 587.6 nm', '1.1')
  await page
    .getByText(/from 1\.3|at least 1\.3|1\.3 to 2\.2/)
    .first()
    .waitFor()
  await page.keyboard.press('Escape')
  expect((await lensOf(page)).ownMaterial!.index).toMatchObject({ nd: 1.55 })
  expect(await axe(page)).toEqual([])
})
