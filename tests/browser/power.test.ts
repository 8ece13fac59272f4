// Heat and power as a builder meets them: the line of a mode, the slider and the plate's map, the beam at a moment, the power-up list.
import { expect, test } from 'vitest'
import { axe, lampOn } from './hands.ts'
import { chromiumPages } from './harness.ts'

const open = chromiumPages()

test('modes in a line each, the slider moves the map, the beam follows; a tick is one step that undo takes back', async () => {
  const page = await open()
  await page.locator('body').press('w')
  const panel = page.getByRole('region', { name: 'Heat and power' })
  await panel.getByRole('button', { name: /^Turbo: .* until board B\d+ reaches 140 °C/ }).click()
  const map = panel.locator('canvas')
  const slider = panel.getByRole('slider', { name: 'Moment after switch-on' })
  await slider.press('Home')
  await panel.locator('canvas[data-moment^="0"]').waitFor()
  const cold = await map.evaluate((c: HTMLCanvasElement) => c.toDataURL())
  await slider.press('End')
  await panel.locator('canvas[data-moment$="min"]').waitFor()
  expect(await map.evaluate((c: HTMLCanvasElement) => c.toDataURL())).not.toBe(cold)
  await panel.getByText(/hottest: board B\d+, junction 140/).waitFor()
  expect(await axe(page)).toEqual([])

  await panel.getByRole('button', { name: 'Beam at this moment' }).click()
  await panel.getByText('The beam sheet shows this moment.').waitFor()
  expect((await lampOn(page)).heat).toMatchObject({ kind: 'mode', mode: 'turbo' })
  await page.getByRole('button', { name: /^Undo: Heat: beam of Turbo/ }).click()
  await panel.getByText('The beam sheet does not follow a mode yet.').waitFor()

  await panel.getByRole('radio', { name: 'Wiring' }).click()
  await panel.getByRole('rowheader', { name: 'driver B19' }).waitFor()
  await panel.getByRole('radio', { name: 'Power-up list' }).click()
  const first = panel.getByRole('group', { name: 'Channel B1', exact: true }).getByRole('checkbox').first()
  await first.check()
  expect((await lampOn(page)).powerUp).toEqual({ done: ['B1/continuity'] })
  expect(await axe(page)).toEqual([])
  await page.keyboard.press('Control+z')
  expect((await lampOn(page)).powerUp).toBe(undefined)
  expect(await first.isChecked()).toBe(false)
  await first.press('Escape')
  await panel.waitFor({ state: 'detached' })
})
