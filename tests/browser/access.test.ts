// Usable by everyone: no axe violation in any view, everything by keyboard, focus always to be seen.
import { expect, test } from 'vitest'
import { axe, rest, show } from './hands.ts'
import { chromiumPages } from './harness.ts'

const open = chromiumPages()

const VIEWS = [
  ['1', 'Plan'],
  ['2', 'Section'],
  ['3', 'Solid'],
  ['4', 'Night'],
] as const

for (const contrast of ['no-preference', 'more'] as const) {
  test(`no axe violation in any view, contrast ${contrast}`, async () => {
    const page = await open({ shared: 'demo' })
    await page.emulateMedia({ contrast })
    for (const [key, name] of VIEWS) {
      await page.locator('body').press(key)
      await page.getByRole('tabpanel', { name }).waitFor()
      expect(await axe(page), name).toEqual([])
    }
    await show(page, 'Section')
    await page.emulateMedia({ contrast: 'no-preference' })
  })
}

test('Tab goes round the whole page, is always seen, and is nowhere trapped', async () => {
  const page = await open({ shared: 'demo' })
  await page.setViewportSize({ width: 1920, height: 1080 })
  await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur())
  const stops: string[] = []
  for (let i = 0; i < 300; i++) {
    await page.keyboard.press('Tab')
    const at = await page.evaluate(() => {
      const el = document.activeElement
      if (!el || el === document.body) return null
      const box = el.getBoundingClientRect()
      const style = getComputedStyle(el)
      const around = el.parentElement ? getComputedStyle(el.parentElement) : style
      const ring = [style, around].some(
        (s) => (s.outlineStyle !== 'none' && s.outlineWidth !== '0px') || s.boxShadow !== 'none',
      )
      const name = `${el.tagName} ${el.getAttribute('aria-label') ?? el.textContent?.slice(0, 40) ?? ''}#${el.id}`
      return { name, seen: ring && box.width > 0 && box.height > 0 }
    })
    if (at === null || (stops.length > 3 && at.name === stops[0])) break
    expect(at.seen, `focus on ${at.name}`).toBe(true)
    stops.push(at.name)
  }
  expect(stops.length).toBeGreaterThan(12)
  expect(stops.length).toBeLessThan(300)
  await page.setViewportSize({ width: 1280, height: 720 })
})

test('no axe violation with every part open', async () => {
  const page = await open({ shared: 'demo' })
  const shut = page.locator('.shell-parts [aria-expanded=false]:not([aria-haspopup])')
  while ((await shut.count()) > 0) await shut.first().click()
  await page.locator('.shell-sheet details').evaluateAll((all) => {
    for (const one of all) (one as HTMLDetailsElement).open = true
  })
  expect(await axe(page)).toEqual([])
})

test('no axe violation in a lamp without lens and tunnel', async () => {
  const page = await open({ shared: 'demo' })
  await page.getByRole('button', { name: /^Lamps stored in this browser/ }).click()
  await page.getByRole('button', { name: 'New from an example' }).click()
  await page.getByRole('button', { name: 'Stile lamp', exact: true }).click()
  await page.getByRole('button', { name: /^Trace: (rough|settling|settled)/ }).waitFor()
  await rest(page)
  expect(await axe(page)).toEqual([])
})

test('by keyboard alone: rename, undo, redo, look at another view, read the keys', async () => {
  const page = await open({ untraced: true })
  const name = page.getByRole('textbox', { name: 'Name of the lamp' })
  while (!(await name.evaluate((el) => el === document.activeElement))) await page.keyboard.press('Tab')
  await page.keyboard.press('Control+a')
  await page.keyboard.type('By keys')
  await page.keyboard.press('Enter')
  await page.keyboard.press('Tab')
  await page.keyboard.press('Control+z')
  await expect.poll(() => name.inputValue()).toBe('Gannet Head')
  await page.keyboard.press('Control+Shift+z')
  await expect.poll(() => name.inputValue()).toBe('By keys')
  await page.keyboard.press('1')
  await page.getByRole('tab', { name: 'Plan', selected: true }).waitFor()
  await page.keyboard.press('?')
  const keys = page.getByRole('dialog')
  await keys.waitFor()
  expect(await keys.textContent()).toContain('Undo the last edit')
  await page.keyboard.press('Escape')
  await keys.waitFor({ state: 'detached' })
})
