// A lamp as it is really built, by hand: a tunnel of two stretches with a step, a rectangle cut from a larger lens, a clear cover in front.
import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { axe, lampOn, show } from './hands.ts'
import { chromiumPages } from './harness.ts'

const open = chromiumPages()

/** Names of parts are unique, so those of elements are numbered. */
const COVER = 'Element 1: Clear cover'
const part = (page: Page, name: string) => page.getByRole('region', { name, exact: true })

async function unfold(page: Page, name: string): Promise<void> {
  const head = part(page, name).getByRole('button', { name }).first()
  if ((await head.getAttribute('aria-expanded')) !== 'true') await head.click()
}

async function type(page: Page, where: string, label: string, value: string): Promise<void> {
  const field = part(page, where).getByRole('spinbutton', { name: label, exact: true })
  await field.fill(value)
  await field.press('Enter')
}

test('two stretches with a step, a rectangular piece of a lens, a cover: typed, dragged and undone', async () => {
  const page = await open({ idle: true })
  await show(page, 'Section')
  await unfold(page, 'Tunnel')
  await part(page, 'Tunnel').getByRole('button', { name: '+ Stretch' }).click()
  // Gannet Head's tunnel of 200 to 560 mm from z 14 to 1040 is halved at 527; its joint is then put at one foot.
  await type(page, 'Stretch 1', 'Ends at z', '1 ft')
  await type(page, 'Stretch 1', 'Ends with', '300')
  await unfold(page, 'Stretch 2')
  await part(page, 'Stretch 2').getByText('Step after stretch 1').click()
  await type(page, 'Stretch 2', 'Begins with', '340')
  await part(page, 'Stretch 2')
    .getByText(/a step outwards, 20 mm all round; it is lined as stretch 2/)
    .waitFor()

  await part(page, 'Lens').getByRole('radio', { name: 'rectangle' }).click()
  await type(page, 'Lens', 'Height, along y', '300')
  await unfold(page, 'Piece and place')
  await type(page, 'Piece and place', 'Optical centre, y', '-120')
  await page.getByRole('img', { name: 'The piece from the front' }).waitFor()

  await unfold(page, 'Cover, film, second lens')
  await page.getByRole('button', { name: 'Add a clear cover' }).click()
  await type(page, COVER, 'Stands at z', '1051')
  await part(page, COVER)
    .getByText(/"Clear cover" reaches 3 mm into the lens/)
    .waitFor()
  await type(page, COVER, 'Stands at z', '1100')

  const lamp = await lampOn(page)
  expect(lamp.tunnel?.joints).toMatchObject([{ zMm: 304.8, belowMm: 300, aboveMm: 340 }])
  expect(lamp.lens).toMatchObject({ aperture: 'rectangle', diameterMm: 560, heightMm: 300, centreYMm: -120 })
  expect(lamp.elements).toMatchObject([{ kind: 'cover', zMm: 1100, aperture: 'rectangle', heightMm: 300 }])

  // By the handles of the section: both sides of the joint together, then the step taken back with one undo.
  const joint = page.getByRole('slider', { name: 'Joint of the tunnel, diameter below, the step stays' })
  await joint.press('ArrowUp')
  await page.getByRole('slider', { name: 'Clear cover, distance from the face' }).press('Home')
  const dragged = await lampOn(page)
  expect(dragged.tunnel?.joints).toMatchObject([{ belowMm: 301, aboveMm: 341 }])
  expect(dragged.elements?.[0]?.zMm).toBe(1054)
  await page.getByRole('button', { name: /^Undo/ }).click()
  await page.getByRole('button', { name: /^Undo/ }).click()
  expect(await lampOn(page)).toEqual(lamp)
  expect(await axe(page)).toEqual([])
})
