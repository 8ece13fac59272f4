// Fingers and a pen on the plan, as the browser delivers them.
import type { CDPSession, Locator, Page } from 'playwright-core'
import { expect, test, vi } from 'vitest'
import { fitFace, screenFromPlan } from '../../src/app/plan/model/camera.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { axe, lampOn, show } from './hands.ts'
import { chromiumPages } from './harness.ts'

vi.setConfig({ testTimeout: 120_000 })
const open = chromiumPages()

type Point = readonly [x: number, y: number]
const mixed = (a: Point, b: Point, part: number): Point => [a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1])]

function fingersOn(cdp: CDPSession) {
  const send = (type: 'touchStart' | 'touchMove' | 'touchEnd', points: readonly Point[]) =>
    cdp.send('Input.dispatchTouchEvent', { type, touchPoints: points.map(([x, y], id) => ({ x, y, id })) })
  return {
    tap: async (at: Point) => {
      await send('touchStart', [at])
      await send('touchEnd', [])
    },
    press: (at: Point) => send('touchStart', [at]),
    lift: () => send('touchEnd', []),
    /** The fingers land one after another, go together, and lift. */
    drag: async (from: readonly Point[], to: readonly Point[]) => {
      for (let n = 1; n <= from.length; n++) await send('touchStart', from.slice(0, n))
      for (const part of [0.2, 0.4, 0.6, 0.8, 1])
        await send(
          'touchMove',
          from.map((p, i) => mixed(p, to[i] ?? p, part)),
        )
      await send('touchEnd', [])
    },
  }
}

/** Where a board stands on screen while the whole face is shown. */
async function whereIs(page: Page, id: string): Promise<Point> {
  const box = (await page.locator('.plan-live').boundingBox())!
  const size = { widthPx: box.width, heightPx: box.height }
  const lamp = gannetHead()
  const b = lamp.boards.find((x) => x.id === id)!
  const [x, y] = screenFromPlan(fitFace(lamp.face, size), size, b.xMm, b.yMm)
  return [box.x + x, box.y + y]
}

test('a tap selects, a long press adds, two fingers move the view and never a board, one drags what is selected; a pen is a pointer', async () => {
  const page = await open({ idle: true })
  await show(page, 'Plan')
  const cdp = await page.context().newCDPSession(page)
  const fingers = fingersOn(cdp)
  const facts = page.locator('.plan-facts')
  const undo = page.getByRole('button', { name: /^Undo:/ })
  const [axis, b8, b14] = [await whereIs(page, 'B1'), await whereIs(page, 'B8'), await whereIs(page, 'B14')]

  await fingers.tap(b8)
  await facts.filter({ hasText: 'Board B8' }).waitFor()
  await fingers.press(b14)
  await facts.filter({ hasText: '2 boards' }).waitFor()
  await fingers.lift()
  expect(await facts.textContent()).toContain('2 boards')

  // Begun on a selected board, a pinch about the axis to twice the size.
  const half = (at: Point) => mixed(axis, at, 0.5)
  await fingers.drag([half(b8), half(b14)], [b8, b14])
  expect(await undo.count()).toBe(0)
  await fingers.drag([b8, b14], [half(b8), half(b14)])
  // Both fingers 40 px to the right: what was at a place is beside it.
  const right = ([x, y]: Point): Point => [x + 40, y]
  await fingers.drag([b8, axis], [right(b8), right(axis)])
  expect(await undo.count()).toBe(0)
  await fingers.tap(right(axis))
  await facts.filter({ hasText: 'Board B1' }).waitFor()
  expect((await lampOn(page)).boards).toEqual(gannetHead().boards)

  // A finger on a board that isn't selected moves the view back; on the one that is, the board.
  await fingers.drag([right(b8)], [b8])
  expect(await undo.count()).toBe(0)
  await fingers.drag([axis], [[axis[0], axis[1] - 60]])
  await page.getByRole('button', { name: /^Undo: Move/ }).click()
  expect((await lampOn(page)).boards).toEqual(gannetHead().boards)

  const pen = (type: 'mousePressed' | 'mouseMoved' | 'mouseReleased', [x, y]: Point) =>
    cdp.send('Input.dispatchMouseEvent', {
      ...{ type, x, y, button: 'left', buttons: type === 'mouseReleased' ? 0 : 1, pointerType: 'pen' },
      clickCount: 1,
    })
  await pen('mousePressed', b14)
  await pen('mouseMoved', [b14[0] - 8, b14[1]])
  await pen('mouseReleased', [b14[0] - 8, b14[1]])
  await page.getByRole('button', { name: /^Undo: Move/ }).waitFor()
  expect(await facts.textContent()).toContain('Board B14')

  // In the section two fingers scale the view; what they land on is neither dragged nor edited.
  await page.getByRole('button', { name: /^Undo: Move/ }).click()
  await show(page, 'Section')
  const knobs = ['lensZ', 'inletZ'].map((name) => page.locator(`[data-handle="${name}"]`))
  const [lens, inlet] = await Promise.all(knobs.map(middleOf))
  const middle = mixed(lens!, inlet!, 0.5)
  const above = ([x, y]: Point): Point => [x, y - 150]
  await fingers.drag(
    [above(mixed(middle, inlet!, 0.5)), above(mixed(middle, lens!, 0.5))],
    [above(inlet!), above(lens!)],
  )
  const [lensNow, inletNow] = await Promise.all(knobs.map(middleOf))
  expect((lensNow![0] - inletNow![0]) / (lens![0] - inlet![0])).toBeCloseTo(2, 1)
  await fingers.drag([above(inletNow!), lensNow!], [above(inletNow!), right(lensNow!)])
  expect(await lampOn(page)).toEqual(gannetHead())
})

async function middleOf(what: Locator): Promise<Point> {
  const box = (await what.boundingBox())!
  return [box.x + box.width / 2, box.y + box.height / 2]
}

/** Controls in sight whose touched area, with what a ::after adds around it, is lower or narrower than so many px. */
const smallerThan = (page: Page, px: number, selector: string) =>
  page.evaluate(
    ([least, wanted]) =>
      [...document.querySelectorAll(wanted)]
        .filter((e) => e.checkVisibility() && !e.closest('[inert], .ui-hidden, .react-aria-Select > [aria-hidden]'))
        .flatMap((e) => {
          const { width, height } = e.getBoundingClientRect()
          const around = getComputedStyle(e, '::after')
          const isWidened = around.position === 'absolute' && around.content !== 'none'
          const [x, y] = isWidened
            ? [width - 2 * parseFloat(around.left), height - parseFloat(around.top) - parseFloat(around.bottom)]
            : [width, height]
          return x >= least - 0.5 && y >= least - 0.5 ? [] : [`${e.className} ${e.textContent}: ${x} × ${y}`]
        }),
    [px, selector] as const,
  )

/** What a thumb presses at the foot, in the bars and in lists. 44 px: WCAG 2.2, 2.5.5 target size (enhanced); 24 px: 2.5.8 (minimum). */
const THUMB =
  '.shell-foot button, .shell-columns button, .section-key, .ui-bar .ui-chip, .sheet-fold, .sheet-where, .power-checks-name, .power-check, .ui-panel-head button, .readings-panel .ui-input'

test('on a phone: nothing is wider than the screen, every control large enough for a thumb, wide tables move in their own frame', async () => {
  const page = await open({ touch: true, width: 420, height: 900 })
  const fits = async (what: string) => {
    expect(await page.evaluate(() => document.documentElement.scrollWidth), what).toBe(420)
    expect(await smallerThan(page, 44, THUMB), what).toEqual([])
  }
  await fits('sheet')
  // The bar is folded, not moved sideways; what is folded away is one press off.
  const bar = page.getByRole('banner')
  const book = bar.getByRole('button', { name: 'Book' })
  expect(await bar.evaluate((e) => e.scrollWidth <= e.clientWidth)).toBe(true)
  expect(await book.isVisible()).toBe(false)
  await bar.getByRole('button', { name: 'Menu' }).tap()
  await book.waitFor()
  expect(await smallerThan(page, 44, '.shell-bar button')).toEqual([])
  await fits('menu')
  expect(await axe(page)).toEqual([])
  await bar.getByRole('button', { name: 'Menu' }).tap()
  await book.waitFor({ state: 'hidden' })
  await page.getByRole('button', { name: 'View', exact: true }).tap()
  for (const view of ['Plan', 'Section', 'Night']) {
    await page.getByRole('tab', { name: view }).tap()
    await page.getByRole('tabpanel', { name: view }).waitFor()
    await fits(view)
  }
  for (const [key, title] of [
    ['z', 'The built lamp'],
    ['m', 'Drawings and files'],
    ['w', 'Heat and power'],
    ['Shift+T', 'Compare'],
  ] as const) {
    await page.locator('body').press(key)
    await page.getByRole('heading', { name: title }).waitFor()
    await fits(title)
    if (title === 'Compare') expect(await axe(page)).toEqual([])
    await page.keyboard.press('Escape')
  }
  await page.locator('body').press('w')
  // A wire's row stands as a card: each cell names its column, and nothing lies beside the screen.
  await page.getByRole('radio', { name: 'Wiring' }).tap()
  const wires = page.getByRole('table', { name: /^Wires/ })
  await wires.waitFor()
  expect(await wires.evaluate((e) => e.scrollWidth <= e.clientWidth)).toBe(true)
  const named = await wires
    .locator('tbody td')
    .evaluateAll((all) => all.filter((e) => e.checkVisibility()).map((e) => getComputedStyle(e, '::before').content))
  expect(named).toContain('"Bears"')
  await fits('Wiring')
  expect(await axe(page)).toEqual([])
  await page.getByRole('radio', { name: 'Power-up list' }).tap()
  const box = page.locator('.power-checks-box')
  expect(await box.evaluate((e) => e.scrollWidth > e.clientWidth)).toBe(true)
  await fits('Power-up list')
  // A swipe moves the table, not the page.
  await box.scrollIntoViewIfNeeded()
  const at = (await box.boundingBox())!
  const cdp = await page.context().newCDPSession(page)
  const y = Math.min(at.y + 60, 700)
  await fingersOn(cdp).drag([[300, y]], [[180, y]])
  await expect.poll(() => box.evaluate((e) => e.scrollLeft)).toBeGreaterThan(40)
  expect(await page.evaluate(() => [scrollX, document.querySelector('.power-panel')!.scrollLeft])).toEqual([0, 0])
})
