// A new lamp from the dialog "New lamp": what it costs a builder, and what is in it. And a lamp begun as an example, and an empty one.
import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { placeEmitters } from '../../src/lamp/place.ts'
import { builderOn } from './builder.ts'
import { axe, lampName, lampOn } from './hands.ts'
import { chromiumPages } from './harness.ts'

const open = chromiumPages()

/** What a lamp of 300 emitters may cost, three modes included: a tenth more than it does. */
const MOST = { clicks: 18, keys: 47 }

const dialog = (page: Page) => page.getByRole('dialog', { name: 'New lamp' })

async function named(page: Page, name: string) {
  await expect.poll(() => lampName(page).inputValue()).toBe(name)
}

test('fifty boards of six, optics, a mirrored tunnel, a lens, drivers and three modes, in so many clicks and keys', async () => {
  const page = await open({ idle: true })
  const b = builderOn(page, dialog(page))
  await b.click(page.getByRole('button', { name: 'New lamp', exact: true }))
  await b.click(dialog(page).getByRole('textbox', { name: 'Name' }))
  await b.write('Quarry light')
  await b.type('Boards', 'Boards', '50')
  await b.type('Boards', 'Emitters on each', '6')
  await b.choose('Boards', 'Class', '5 mm, one die')
  await b.type('Boards', 'Current in each', '700 mA')
  await b.type('Optics', 'Full width at half', '30')
  await b.type('Face', 'Size across', '300')
  await b.choose('Tunnel', 'Lining', 'Silvered mirror film')
  await b.type('Lens', 'Focal length', '900')
  await b.type('Lens', 'Diameter', '600')
  await b.choose('Supply and modes', 'Supply', 'mains')
  const outcome = dialog(page).getByRole('status')
  await outcome.filter({ hasText: /boards did not fit/ }).waitFor()
  // Emptied, the face follows from the boards again.
  await b.click(dialog(page).getByRole('spinbutton', { name: 'Size across' }))
  await page.keyboard.press('Delete')
  await page.keyboard.press('Enter')
  b.toil.keys += 2
  await outcome.filter({ hasText: '50 boards, 300 emitters' }).waitFor()
  await b.click(dialog(page).getByRole('button', { name: 'Make this lamp' }))
  await named(page, 'Quarry light')
  console.info('a lamp of 300 emitters', b.toil)
  for (const of of ['clicks', 'keys'] as const) expect(b.toil[of], of).toBeLessThanOrEqual(MOST[of])

  const lamp = await lampOn(page)
  expect(lamp.note).toBe('')
  expect(placeEmitters(lamp)).toHaveLength(300)
  expect(lamp.boards.every((board) => board.currentA === 0.7)).toBe(true)
  expect(lamp.opticTypes[0]).toMatchObject({ kind: 'collimator', fwhmDeg: 30 })
  expect(lamp.tunnel).toMatchObject({ sides: 0, inMm: 305, outMm: 600, finish: 'Silvered mirror film' })
  // 12 mm of optic and 95 % of 900 mm.
  expect(lamp.lens).toMatchObject({ kind: 'fresnel', focalMm: 900, diameterMm: 600, zMm: 867 })
  expect(lamp.power?.modes.map((m) => m.name)).toEqual(['Low', 'Middle', 'Full'])
  expect(lamp.power?.drivers).toHaveLength(1)
})

test('an example becomes the builder’s own, and an empty lamp holds no boards', async () => {
  const page = await open({ idle: true })
  await page.getByRole('button', { name: /^Lamps stored in this browser/ }).click()
  await page.getByRole('button', { name: 'New from an example' }).click()
  expect(await axe(page)).toEqual([])
  await dialog(page).getByRole('button', { name: 'Stile lamp', exact: true }).click()
  await named(page, 'Stile lamp, copy')
  expect((await lampOn(page)).note).toBe('')
  await page.getByRole('button', { name: 'New lamp', exact: true }).click()
  await dialog(page).getByRole('status').filter({ hasText: '7 boards' }).waitFor()
  expect(await axe(page)).toEqual([])
  await dialog(page).getByRole('button', { name: 'Empty lamp' }).click()
  await named(page, 'New lamp')
  const empty = await lampOn(page)
  expect({ boards: empty.boards, tunnel: empty.tunnel, lens: empty.lens }).toEqual({
    boards: [],
    tunnel: null,
    lens: null,
  })
  expect(empty.power).toBeUndefined()
  // The lamps from before are still stored.
  await page.getByRole('button', { name: 'Lamps stored in this browser: 3' }).waitFor()
})

test('a wish typed, its lamps side by side, one of them taken; what physics forbids is said before', async () => {
  const page = await open({ untraced: true })
  const b = builderOn(page, dialog(page))
  await b.click(page.getByRole('button', { name: 'New lamp', exact: true }))
  await b.click(dialog(page).getByText('what it must do'))
  await b.type('Light', 'On the axis', '100000000')
  await b.type('At most', 'Width', '110')
  // 110 mm · 110 mm · π/4 · 450.1 cd/mm² · 0.924 (tests/job/wish/feasible.test.ts): 3.95 Mcd.
  await dialog(page)
    .getByText(/3.950.000 cd at the most/)
    .waitFor()
  const find = dialog(page).getByRole('button', { name: 'Find lamps' })
  expect(await find.isDisabled()).toBe(true)
  await b.type('Light', 'On the axis', '200000')
  await b.type('At most', 'Length', '130')
  await b.click(find)
  await dialog(page).getByText('1 of 5 kinds of lamps can do it').waitFor({ timeout: 120_000 })
  await dialog(page)
    .getByRole('row', { name: /^Severe findings none/ })
    .waitFor()
  expect(await axe(page)).toEqual([])
  await b.click(dialog(page).getByRole('button', { name: 'Take this lamp: Narrow collimators, no lens' }))
  await named(page, 'Narrow collimators, no lens')
  expect(placeEmitters(await lampOn(page))).toHaveLength(7)
}, 300_000)
