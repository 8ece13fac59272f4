// The page opens, shows the demo, and says nothing to the console (the harness watches that in every test).
import { expect, test } from 'vitest'
import { chromiumPages } from './harness.ts'

const open = chromiumPages()

test('opens on Gannet Head, with four views, parts on the left and the sheet on the right', async () => {
  const page = await open({ untraced: true, shared: 'demo' })
  expect(await page.getByRole('textbox', { name: 'Name of the lamp' }).inputValue()).toBe('Gannet Head')
  const tabs = page.getByRole('tablist', { name: 'Views of the lamp' }).getByRole('tab')
  expect(await tabs.allInnerTexts()).toEqual(
    ['Plan\n1', 'Section\n2', 'Solid\n3', 'Night\n4'].map((t) => expect.stringContaining(t.slice(0, 4))),
  )
  expect(await page.getByRole('complementary', { name: 'Parts of the lamp' }).isVisible()).toBe(true)
})

test('each view opens by its tab and by its key', async () => {
  const page = await open({ untraced: true, shared: 'demo' })
  for (const [key, name] of [
    ['1', 'Plan'],
    ['3', 'Solid'],
    ['4', 'Night'],
    ['2', 'Section'],
  ] as const) {
    await page.locator('body').press(key)
    await page.getByRole('tab', { name, selected: true }).waitFor()
    await page.getByRole('tabpanel', { name }).waitFor()
  }
  for (const name of ['Night', 'Solid', 'Section', 'Plan']) {
    await page.getByRole('tab', { name }).click()
    await page.getByRole('tabpanel', { name }).waitFor()
  }
})

test('nothing sticks out at the smallest size', async () => {
  const page = await open({ width: 1280, height: 720, untraced: true, shared: 'demo' })
  for (const key of ['1', '2', '3', '4']) {
    await page.locator('body').press(key)
    const [width, height] = await page.evaluate(() => [
      document.documentElement.scrollWidth,
      document.documentElement.scrollHeight,
    ])
    expect([width, height]).toEqual([1280, 720])
  }
})
