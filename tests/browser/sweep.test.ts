// One or two numbers over a range: the curve, the map, and taking values, by hand and by keyboard alone.
import { expect, test, vi } from 'vitest'
import type { FresnelLens, Lamp } from '../../src/lamp/schema.ts'
import { benchCheck, gannetHead } from '../../src/library/demos.ts'
import { axe, hold, lampOn, openLamp, rest } from './hands.ts'
import { chromiumPages } from './harness.ts'

vi.setConfig({ testTimeout: 400_000 })
const open = chromiumPages()

/** Gannet Head with one board, an ideal lens and typical power: its numbers are the same, a lamp of the range takes half the time. */
function quickLamp(): Lamp {
  const { cooling: _, power: __, lens, ...lamp } = gannetHead()
  const { zMm, focalMm, diameterMm } = lens as FresnelLens
  return {
    ...lamp,
    name: 'One board',
    boards: lamp.boards.slice(0, 1),
    lens: { kind: 'ideal', zMm, focalMm, diameterMm },
  }
}

test('the lens’s distance on a bench: the curve peaks at the focus; a click takes the value, undo brings the old one back', async () => {
  const page = await open({ untraced: true })
  await openLamp(page, { ...benchCheck(), lens: { ...benchCheck().lens!, zMm: 190 } })
  await rest(page)
  await page.getByRole('button', { name: 'Try a range…' }).click()
  const panel = page.getByRole('region', { name: 'Try a range' })
  await panel.getByRole('spinbutton', { name: 'from' }).fill('180')
  await panel.getByRole('spinbutton', { name: 'from' }).press('Enter')
  await panel.getByRole('spinbutton', { name: 'to' }).fill('220')
  await panel.getByRole('spinbutton', { name: 'to' }).press('Enter')
  await panel.getByRole('spinbutton', { name: 'in' }).fill('3')
  await panel.getByRole('spinbutton', { name: 'in' }).press('Enter')
  await panel.getByText(/^3 lamps traced/).waitFor({ timeout: 120_000 })
  // By hand: 200 lm into 1e-4 sr.
  await panel.getByText(/^Highest: 2\.000\d* ± 0\.000\d*\u202fMcd at 200 mm\./).waitFor()
  expect(await axe(page)).toEqual([])
  await panel.getByRole('button', { name: 'Use this value' }).click()
  expect((await lampOn(page)).lens?.zMm).toBe(200)
  await panel
    .getByText(/^Used: Lens: stands at z 200 mm/)
    .first()
    .waitFor()
  await page.getByRole('button', { name: /^Undo: Lens: stands at z 200 mm/ }).click()
  expect((await lampOn(page)).lens?.zMm).toBe(190)
})

test('by keyboard alone: open, a second number, look about, take, undo, close', async () => {
  const page = await open({ untraced: true })
  await openLamp(page, quickLamp())
  await hold(page)
  await page.locator('body').press('t')
  const panel = page.getByRole('region', { name: 'Try a range' })
  await panel.getByRole('heading', { name: 'Try a range' }).and(page.locator(':focus')).waitFor()
  const focused = (name: RegExp) =>
    page.evaluate(
      (s) => new RegExp(s).test(document.activeElement?.ariaLabel ?? document.activeElement?.textContent ?? ''),
      name.source,
    )
  const tabTo = async (name: RegExp) => {
    for (let i = 0; i < 40 && !(await focused(name)); i++) await page.keyboard.press('Tab')
    expect(await focused(name), String(name)).toBe(true)
  }
  await tabTo(/A second number/)
  await page.keyboard.press('Enter')
  await panel.getByRole('button', { name: /And$/ }).and(page.locator(':focus')).waitFor()
  for (const at of [0, 1]) {
    await panel.getByRole('spinbutton', { name: 'in' }).nth(at).focus()
    await page.keyboard.type('2')
    await page.keyboard.press('Enter')
  }
  await panel.getByText(/^4 lamps traced/).waitFor({ timeout: 300_000 })
  expect(await panel.getByRole('gridcell').count()).toBe(4)
  expect(await axe(page)).toEqual([])
  // The cell in hand is the best; Home, then down to the foot and one to the right and up again.
  await tabTo(/Mcd/)
  await page.keyboard.press('Home')
  for (let i = 0; i < 4; i++) await page.keyboard.press('ArrowDown')
  await page.keyboard.press('ArrowRight')
  await page.keyboard.press('ArrowUp')
  expect(await focused(/^1125 mm, 18°: /)).toBe(true)
  await page.keyboard.press('ArrowLeft')
  await page.keyboard.press('Enter')
  const taken = await lampOn(page)
  const [z, end] = [taken.lens?.zMm, taken.tunnel?.zOutMm]
  const optic = taken.opticTypes.find((o) => o.id === 'collimator-12')
  expect([z, end, optic?.kind === 'collimator' && optic.fwhmDeg]).toEqual([975, 965, 18])
  await page.keyboard.press('Control+z')
  expect(await lampOn(page)).toEqual(quickLamp())
  await panel.getByRole('gridcell', { selected: true }).focus()
  await page.keyboard.press('Escape')
  await panel.waitFor({ state: 'detached' })
  expect(await page.getByRole('button', { name: 'Try a range…' }).evaluate((el) => el === document.activeElement)).toBe(
    true,
  )
})

test('a lens that would stand in the tunnel is no lamp, and says so; a view asked for closes the panel', async () => {
  const page = await open({ untraced: true })
  await openLamp(page, quickLamp())
  await hold(page)
  await page.locator('body').press('t')
  const panel = page.getByRole('region', { name: 'Try a range' })
  await panel.getByRole('button', { name: /Number$/ }).click()
  await page.getByRole('option', { name: 'Lens: stands at z', exact: true }).click()
  await panel.getByRole('spinbutton', { name: 'in' }).fill('3')
  await panel.getByRole('spinbutton', { name: 'in' }).press('Enter')
  await panel.getByText(/^3 lamps traced/).waitFor({ timeout: 120_000 })
  await panel.getByText(/1 can’t be built/).waitFor()
  await panel.getByRole('slider').press('Home')
  await panel.getByText(/^No such lamp: .*into the tunnel that ends at 1040 mm/).waitFor()
  await page.getByRole('tab', { name: 'Section' }).click()
  await panel.waitFor({ state: 'detached' })
})
