// Usable by everyone: no axe violation in any view, everything by keyboard, focus always to be seen.
import type { Locator } from 'playwright-core'
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

const SEEN = [
  { colorScheme: 'dark', contrast: 'no-preference' },
  { colorScheme: 'dark', contrast: 'more' },
  { colorScheme: 'light', contrast: 'no-preference' },
] as const
for (const { colorScheme, contrast } of SEEN) {
  test(`no axe violation in any view, ${colorScheme}, contrast ${contrast}`, async () => {
    const page = await open({ shared: 'demo' })
    await page.emulateMedia({ colorScheme, contrast })
    for (const [key, name] of VIEWS) {
      await page.locator('body').press(key)
      await page.getByRole('tabpanel', { name }).waitFor()
      expect(await axe(page), name).toEqual([])
    }
    await show(page, 'Section')
    await page.emulateMedia({ colorScheme: 'dark', contrast: 'no-preference' })
  })
}

/** The builder's answers. */
const ANSWERS = ['Target centre', 'Axial intensity', 'Peak intensity', 'Beam angle', 'Run time', 'Keep clear']

/** Which of these lie wholly within the window, nothing over them. */
async function seenOf(texts: readonly Locator[]): Promise<boolean[]> {
  return Promise.all(
    texts.map((one) =>
      one.evaluate((el) => {
        const { left, right, top, bottom } = el.getBoundingClientRect()
        const over = document.elementFromPoint((left + right) / 2, (top + bottom) / 2)
        return top >= 0 && left >= 0 && bottom <= innerHeight && right <= innerWidth && el.contains(over)
      }),
    ),
  )
}

test('the answers fit without scrolling; enlarged to 200 % and on a narrow screen the dangers stay in view', async () => {
  const page = await open({ shared: 'demo' })
  const line = page.getByRole('region', { name: 'What to do next' })
  expect(await line.textContent()).toMatch(/^Severe/)
  const tiles = ANSWERS.map((name) =>
    page.locator('.sheet-tile', { has: page.getByRole('button', { name: `${name}: how it is computed` }) }),
  )
  expect(await seenOf([line, ...tiles])).toEqual(Array(7).fill(true))
  for (const [width, height] of [
    [640, 360],
    [1000, 700],
    [420, 900],
  ] as const) {
    await page.setViewportSize({ width, height })
    expect(await seenOf([line]), `${width} × ${height}`).toEqual([true])
    expect(await page.evaluate(() => document.documentElement.scrollWidth), `${width} wide`).toBeLessThanOrEqual(width)
    await page.getByRole('button', { name: 'Parts', exact: true }).click()
    await page.getByRole('textbox', { name: 'What it is' }).waitFor()
    await page.getByRole('button', { name: 'View', exact: true }).click()
    await page.getByRole('tabpanel').waitFor()
    await page.getByRole('button', { name: 'Sheet', exact: true }).click()
  }
  expect(await axe(page)).toEqual([])
  await page.setViewportSize({ width: 1280, height: 720 })
})

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

test('by keyboard alone: rename, undo, redo, look at another view, read the keys, search for a part and a page of the handbook', async () => {
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

  await page.keyboard.press('Control+k')
  await page.getByRole('dialog', { name: 'Search for a command' }).waitFor()
  await page.keyboard.type('part tunnel')
  await page.keyboard.press('Enter')
  const tunnel = page.getByRole('region', { name: 'Tunnel', exact: true }).getByRole('button').first()
  await expect.poll(() => tunnel.getAttribute('aria-expanded')).toBe('true')

  await page.keyboard.press('/')
  await page.keyboard.type('measuring')
  await page.keyboard.press('Enter')
  await page.getByRole('heading', { name: 'Measuring', level: 1 }).waitFor()
  expect(await axe(page)).toEqual([])
  await page.keyboard.press('Escape')
  await page.getByRole('heading', { name: 'Handbook' }).waitFor({ state: 'detached' })
})
