// From a change to its figures, and back.
import { expect, test, vi } from 'vitest'
import { gannetHead } from '../../src/library/demos.ts'
import { figure, lampOn, settled, show } from './hands.ts'
import { chromiumPages } from './harness.ts'

vi.setConfig({ testTimeout: 400_000 })
const open = chromiumPages()

test('the demo settles: figures with ±, the ledger, dangers', async () => {
  const page = await open({ tracing: true })
  await settled(page)
  expect(await figure(page, 'Flux out')).toBeGreaterThan(1000)
  expect(await figure(page, 'Beam angle')).toBeGreaterThan(1)
  const sheet = page.getByRole('complementary', { name: /sheet/i }).or(page.locator('.shell-sheet'))
  expect(await sheet.first().textContent()).toMatch(/± /)
})

test('moving the lens changes the beam angle; undo brings lamp and angle back', async () => {
  const page = await open({ tracing: true })
  await settled(page)
  const before = await figure(page, 'Beam angle')
  const z = page.getByRole('spinbutton', { name: 'Stands at z' })
  await z.fill('1100')
  await z.press('Enter')
  await expect.poll(async () => (await lampOn(page)).lens?.zMm).toBe(1100)
  await settled(page)
  const after = await figure(page, 'Beam angle')
  expect(Math.abs(after - before)).toBeGreaterThan(0.2)
  await page.getByRole('button', { name: /^Undo: Lens/ }).click()
  expect(await lampOn(page)).toEqual(gannetHead())
  await settled(page)
  expect(await figure(page, 'Beam angle')).toBe(before)
})

test('a distance that can’t stand is refused beside its field, and the lamp stays', async () => {
  const page = await open()
  const z = page.getByRole('spinbutton', { name: 'Stands at z' })
  await z.fill('500')
  await z.press('Enter')
  await page.getByRole('alert').filter({ hasText: 'into the tunnel that ends at 1040 mm' }).waitFor()
  expect(await lampOn(page)).toEqual(gannetHead())
})

test('a board dragged in the plan is one step, and undo puts it back', async () => {
  const page = await open()
  await show(page, 'Plan')
  const face = page.getByRole('application', { name: /^Face from the front/ })
  const box = (await face.boundingBox())!
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2]
  await page.mouse.move(x + 3, y + 3)
  await page.mouse.down()
  for (let i = 1; i <= 12; i++) await page.mouse.move(x + 3 + i * 12, y + 3 + i * 5)
  await page.mouse.up()
  const moved = (await lampOn(page)).boards
  const changed = moved.filter((b, i) => b.xMm !== gannetHead().boards[i]!.xMm || b.yMm !== gannetHead().boards[i]!.yMm)
  expect(changed.map((b) => b.id)).toEqual(['B1'])
  expect(changed[0]!.xMm).toBeGreaterThan(10)
  await page.keyboard.press('Control+z')
  expect(await lampOn(page)).toEqual(gannetHead())
  expect(await page.getByRole('button', { name: 'Nothing to undo' }).isDisabled()).toBe(true)
})

test('in the plan by keyboard alone: choose a board, nudge it, undo', async () => {
  const page = await open()
  await page.keyboard.press('1')
  const face = page.getByRole('application', { name: /^Face from the front/ })
  await face.focus()
  await page.keyboard.press('n')
  await page.keyboard.press('ArrowRight')
  await page.keyboard.press('ArrowUp')
  const moved = (await lampOn(page)).boards.filter((b, i) => b.xMm !== gannetHead().boards[i]!.xMm)
  expect(moved).toHaveLength(1)
})

test('what stands in two places is one thing: board’s place and current, boards filled, precision wanted', async () => {
  const page = await open()
  await page.keyboard.press('1')
  await page.getByRole('application', { name: /^Face from the front/ }).focus()
  await page.keyboard.press('n')
  const strip = page.locator('.plan-strip')
  const part = page.getByRole('complementary', { name: 'Parts of the lamp' })
  const field = (at: typeof part, name: string) => at.getByRole('spinbutton', { name, exact: true })
  const set = async (at: typeof part, name: string, text: string) => {
    await field(at, name).fill(text)
    await field(at, name).press('Enter')
  }
  await set(strip, 'x', '4.5')
  await expect.poll(() => field(part, 'x').inputValue()).toBe('4.5')
  await set(part, 'Current', '1.25')
  await expect.poll(() => field(strip, 'Current').inputValue()).toBe('1.25')

  await page.getByRole('button', { name: 'Fill…' }).click()
  await page
    .getByRole('dialog', { name: 'Fill the face with boards' })
    .getByRole('button', { name: 'Fill the face' })
    .click()
  await page.locator('.plan-result').filter({ hasText: /board/ }).waitFor()
  await page.keyboard.press('Escape')
  const { boards } = await lampOn(page)
  await part.getByRole('button', { name: /^Face/ }).click()
  await part
    .getByRole('button', { name: /^Fill with boards/ })
    .getByText(`${boards.length} now`)
    .waitFor()

  await page.getByLabel('wanted').selectOption('0.02')
  await page.getByRole('button', { name: /^Trace: / }).click()
  await page.getByRole('dialog', { name: 'Trace' }).getByRole('button', { name: /± 2 %/ }).click()
  await page.getByRole('listbox', { name: 'Wanted on the axis' }).getByRole('option', { name: '± 5 %' }).click()
  await expect.poll(() => page.locator('.sheet-wanted select').inputValue()).toBe('0.05')
})
