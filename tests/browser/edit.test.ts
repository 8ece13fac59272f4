// From a change to its figures, and back.
import type { Page } from 'playwright-core'
import { expect, test, vi } from 'vitest'
import { withBoardCorners, withFaceCorners } from '../../src/app/common/faceEdits.ts'
import { benchCheck, gannetHead } from '../../src/library/demos.ts'
import type { Corner } from '../../src/num/polygon.ts'
import { sunless } from '../kit/sunless.ts'
import { figure, lampOn, openLamp, rest, settled, show } from './hands.ts'
import { chromiumPages } from './harness.ts'

vi.setConfig({ testTimeout: 400_000 })
const open = chromiumPages()

/** A bench at night: it settles in seconds. */
const benchLamp = () => sunless(benchCheck())
const BENCH = { untraced: true, address: '?engine=cpu&reading-threads=2', shared: 'bench' }

test('a lamp settles: figures with ±, the ledger, dangers; moving the lens changes the beam angle; undo brings lamp and angle back', async () => {
  const page = await open(BENCH)
  await openLamp(page, benchLamp())
  await settled(page)
  expect(await figure(page, 'Flux out')).toBeGreaterThan(100)
  const before = await figure(page, 'Beam angle')
  expect(before).toBeGreaterThan(0.1)
  const sheet = page.getByRole('complementary', { name: /sheet/i }).or(page.locator('.shell-sheet'))
  expect(await sheet.first().textContent()).toMatch(/± /)
  const z = page.getByRole('spinbutton', { name: 'Stands at z' })
  await z.fill('230')
  await z.press('Enter')
  await expect.poll(async () => (await lampOn(page)).lens?.zMm).toBe(230)
  await settled(page)
  const after = await figure(page, 'Beam angle')
  expect(Math.abs(after - before)).toBeGreaterThan(0.2)
  await page.getByRole('button', { name: /^Undo: Lens/ }).click()
  expect(await lampOn(page)).toEqual(benchLamp())
  await settled(page)
  expect(await figure(page, 'Beam angle')).toBe(before)
})

test('with threads that read first sheets: sheets come while the lens is dragged, and its way back leads to the same figures', async () => {
  const page = await open(BENCH)
  if ((await lampOn(page)).name !== benchLamp().name) await openLamp(page, benchLamp())
  await settled(page)
  const before = [await figure(page, 'Beam angle'), await figure(page, 'Flux out')]
  const targets = await page.context().browser()!.newBrowserCDPSession()
  const readers = async () => {
    const { targetInfos } = await targets.send('Target.getTargets')
    const context = targetInfos.find(({ type, url }) => type === 'page' && url === page.url())!.browserContextId
    const mine = targetInfos.filter((t) => t.type === 'worker' && t.browserContextId === context)
    return mine.filter(({ url }) => url.includes('firstSheetWorker')).length
  }
  await expect.poll(readers).toBe(2)
  await page.evaluate(() => {
    const seen: string[] = []
    Object.assign(window, { seen })
    const sheet = document.querySelector('.sheet-facts')!.parentElement!
    new MutationObserver(() => {
      const facts = sheet.querySelector('.sheet-facts')!.textContent!.replace(/\s/g, '')
      if (!seen.includes(facts)) seen.push(facts)
    }).observe(sheet, { subtree: true, childList: true, characterData: true })
  })
  const knob = (await page.locator('[data-handle="lensZ"]').boundingBox())!
  const [x, y] = [knob.x + knob.width / 2, knob.y + knob.height / 2]
  await page.mouse.move(x, y)
  await page.mouse.down()
  const seen = () => page.evaluate(() => (window as unknown as { seen: string[] }).seen.length)
  // Which sheets they are depends on how long a frame takes here. That every first sheet comes is tested without a page (tests/job/beam/firstSheet.test.ts).
  for (let i = 1; i <= 40 || (i <= 400 && (await seen()) <= 5); i++) {
    await page.mouse.move(x + 3 * (i <= 40 ? i : 40 - (i % 2)), y)
  }
  expect(await seen()).toBeGreaterThan(5)
  await page.mouse.up()
  expect((await lampOn(page)).lens!.zMm).toBeGreaterThan(benchCheck().lens!.zMm + 20)
  await page.keyboard.press('Control+z')
  await settled(page)
  expect([await figure(page, 'Beam angle'), await figure(page, 'Flux out')]).toEqual(before)
})

test('a distance that can’t stand is refused beside its field, and the lamp stays', async () => {
  const page = await open({ idle: true, shared: 'demo' })
  const z = page.getByRole('spinbutton', { name: 'Stands at z' })
  await z.fill('500')
  await z.press('Enter')
  await page.getByRole('alert').filter({ hasText: 'into the tunnel that ends at 1040 mm' }).waitFor()
  expect(await lampOn(page)).toEqual(gannetHead())
})

test('no control stands twice: each name once in a view', async () => {
  const page = await open({ idle: true, shared: 'demo' })
  for (const view of ['Plan', 'Section', 'Solid'] as const) {
    await show(page, view)
    const names = await page
      .locator('[role=spinbutton], select, [role=slider]')
      .evaluateAll((all) =>
        all.map((e) => e.getAttribute('aria-label') ?? (e as HTMLInputElement).labels?.[0]?.textContent ?? ''),
      )
    expect(names.filter((n, i) => n !== '' && names.indexOf(n) !== i)).toEqual([])
  }
})

test('a board dragged in the plan is one step, and undo puts it back', async () => {
  const page = await open({ idle: true, shared: 'demo' })
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

type OnPage = readonly [number, number]

/** Where a place of the plan lies on the page. The whole face is shown: the scale follows from the readout. */
async function planPlaces(page: Page, box: { x: number; y: number }): Promise<(at: Corner) => OnPage> {
  const readout = async (x: number, y: number) => {
    await page.mouse.move(box.x + x, box.y + y)
    const text = (await page.locator('.plan-readout').textContent())!.replaceAll('−', '-')
    return text.match(/-?\d+\.\d+/g)!.map(Number)
  }
  const [fromX, fromY] = await readout(100, 100)
  const [toX] = await readout(300, 100)
  const pxPerMm = 200 / (toX! - fromX!)
  return ([x, y]) => [box.x + 100 + (x - fromX!) * pxPerMm, box.y + 100 - (y - fromY!) * pxPerMm]
}

async function dragOn(page: Page, from: OnPage, to: OnPage) {
  await page.mouse.move(...from)
  await page.mouse.down()
  await page.mouse.move(...to, { steps: 8 })
  await page.mouse.up()
}

test('a corner of the face’s own outline is dragged on the plan, refused where edges would cross, and added at a mark', async () => {
  const page = await open({ idle: true, shared: 'corners' })
  const square: Corner[] = [
    [110, -110],
    [110, 110],
    [-110, 110],
    [-110, -110],
  ]
  const lamp = withFaceCorners(gannetHead(), square)
  await openLamp(page, lamp)
  await show(page, 'Plan')
  const face = page.getByRole('application', { name: /^Face from the front/ })
  const box = (await face.boundingBox())!
  const corners = async () => (await lampOn(page)).face.corners!
  const onPage = await planPlaces(page, box)
  const drag = (from: Corner, to: Corner) => dragOn(page, onPage(from), onPage(to))
  await drag([110, 110], [75, 90])
  expect(await corners()).toEqual([square[0], [75, 90], square[2], square[3]])
  expect((await lampOn(page)).boards).toEqual(lamp.boards)
  await page.locator('.plan-strip').getByText('Corner 2 of 4, x 75 mm, y 90 mm').waitFor()
  await page.keyboard.press('Control+z')
  expect(await lampOn(page)).toEqual(lamp)
  await page.keyboard.press('f')
  await drag([110, 110], [-150, -20])
  await page
    .locator('.plan-strip')
    .getByText(/^Face, corners: the edges .* cross or touch\./)
    .waitFor()
  expect(await lampOn(page)).toEqual(lamp)
  // Outwards: the face grows, and the view stays as it is.
  await drag([110, 110], [112, 120])
  expect((await corners())[1], 'in a column with corner 1').toEqual([110, 120])
  await drag([110, 120], [110, 110])
  expect(await corners()).toEqual(square)
  await drag([110, 0], [130, 20])
  expect(await corners()).toEqual([square[0], [130, 20], ...square.slice(1)])
  await page.keyboard.press('ArrowRight')
  expect((await corners())[1]).toEqual([131, 20])
  await page.keyboard.press('Delete')
  expect(await corners()).toEqual(square)
})

test('a corner of a board’s own outline is dragged on one of its boards, and the outline drawn anew by clicks', async () => {
  const page = await open({ idle: true, shared: 'corners' })
  const plate: Corner[] = [
    [24, -24],
    [24, 24],
    [-24, 24],
    [-24, -24],
  ]
  const demo = gannetHead()
  const lamp = withBoardCorners(demo, demo.boardTypes[0]!.id, plate)
  await openLamp(page, lamp)
  await show(page, 'Plan')
  await page.keyboard.press('f')
  const face = page.getByRole('application', { name: /^Face from the front/ })
  const onPage = await planPlaces(page, (await face.boundingBox())!)
  const outline = async () => (await lampOn(page)).boardTypes[0]!.outline
  // B1 stands on the axis, unturned: its own frame is the plan's.
  await page.mouse.click(...onPage([2, 2]))
  await dragOn(page, onPage([24, 24]), onPage([15, 17]))
  expect(await outline()).toEqual({ shape: 'polygon', corners: [plate[0], [15, 17], plate[2], plate[3]] })
  await page
    .locator('.plan-strip')
    .getByText(/^Board corner 2 of 4, x 15 mm, y 17 mm; all /)
    .waitFor()
  await page.keyboard.press('Control+z')
  expect(await lampOn(page)).toEqual(lamp)
  await dragOn(page, onPage([24, 24]), onPage([-40, -5]))
  await page
    .locator('.plan-strip')
    .getByText(/cross or touch\./)
    .waitFor()
  expect(await lampOn(page)).toEqual(lamp)
  await page.keyboard.press('u')
  const triangle: Corner[] = [
    [40, -20],
    [0, 40],
    [-40, -20],
  ]
  for (const corner of [...triangle, triangle[0]!]) await page.mouse.click(...onPage(corner))
  expect(await outline()).toEqual({ shape: 'polygon', corners: triangle })
  await page
    .locator('.plan-faults')
    .getByText(/overlap/)
    .waitFor()
  await page.keyboard.press('Control+z')
  expect(await lampOn(page)).toEqual(lamp)
})

test('in the plan by keyboard alone: choose a board, nudge it, undo', async () => {
  const page = await open({ idle: true, shared: 'demo' })
  await page.locator('body').press('1')
  const face = page.getByRole('application', { name: /^Face from the front/ })
  await face.focus()
  await page.keyboard.press('n')
  await page.keyboard.press('ArrowRight')
  await page.keyboard.press('ArrowUp')
  const moved = (await lampOn(page)).boards.filter((b, i) => b.xMm !== gannetHead().boards[i]!.xMm)
  expect(moved).toHaveLength(1)
  for (let i = 0; i < 2; i++) await page.keyboard.press('Control+z')
  expect(await lampOn(page)).toEqual(gannetHead())
})

test('a board is typed in the parts column and told beside the drawing; the face is filled from there', async () => {
  const page = await open({ untraced: true })
  await page.locator('body').press('1')
  await page.getByRole('application', { name: /^Face from the front/ }).focus()
  await page.keyboard.press('n')
  const strip = page.locator('.plan-strip')
  const part = page.getByRole('complementary', { name: 'Parts of the lamp' })
  const field = (name: string) => part.getByRole('spinbutton', { name, exact: true })
  const set = async (name: string, text: string) => {
    await field(name).fill(text)
    await field(name).press('Enter')
  }
  await strip.getByRole('button', { name: 'Type…' }).click()
  await expect.poll(() => field('x').evaluate((input) => input === document.activeElement)).toBe(true)
  await set('x', '4.5')
  await strip.getByText('x 4.5, y').waitFor()
  await set('Current', '1.25')
  await strip.getByText('1.25 A').waitFor()

  await page.getByRole('button', { name: 'Fill…' }).click()
  await set('Between boards', '3')
  await part.getByRole('button', { name: 'Fill the face', exact: true }).click()
  await part.getByText(/placed, the most found in this pattern, with 3 mm between boards/).waitFor()
  const { boards } = await lampOn(page)
  expect(boards.length).toBeGreaterThan(5)
  expect(boards.every((b) => b.currentA === boards[0]!.currentA)).toBe(true)
  await page
    .getByRole('list', { name: 'Marks on the plan' })
    .getByText(`${7 * boards.length} emitters`)
    .waitFor()
})

test('a dragged lens is one step, and every part of the sheet ends with the last edit, also those out of sight', async () => {
  const page = await open()
  const before = await leaves(page)
  const knob = (await page.locator('[data-handle="lensZ"]').boundingBox())!
  const [x, y] = [knob.x + knob.width / 2, knob.y + knob.height / 2]
  await page.mouse.move(x, y)
  await page.mouse.down()
  for (let i = 1; i <= 10; i++) await page.mouse.move(x + 6 * i, y)
  await page.mouse.up()
  expect((await lampOn(page)).lens!.zMm).toBeGreaterThan(gannetHead().lens!.zMm + 20)
  await page.getByRole('button', { name: /^Trace: (rough|settling|settled)/ }).waitFor()
  await rest(page)
  await expect.poll(() => page.locator('.sheet-body [aria-busy=true]').count()).toBe(0)
  const tile = page.locator('.sheet-tile', { has: page.getByRole('button', { name: /^Flux out: / }) })
  const traced = await tile.locator('.sheet-big').getAttribute('title')
  const flux = /± [^,]*/.exec(traced ?? '')?.[0]
  const after = await leaves(page)
  expect(after).not.toBe(before)
  expect(after).toContain(flux)
  // The curve calls it half of the peak, the map beam.
  const half = await page.locator('.sheet-profile .sheet-level text').first().textContent()
  expect(await page.locator('.sheet-map .sheet-ring text').first().textContent()).toBe(half!.replace('half', 'beam'))
  await page.keyboard.press('Control+z')
  expect(await lampOn(page)).toEqual(gannetHead())
  expect(await page.getByRole('button', { name: 'Nothing to undo' }).isDisabled()).toBe(true)
})

/** What the ledger's picture, far below the fold, says of the light that leaves. */
const leaves = (page: Page) => page.locator('.sheet-flow text').filter({ hasText: 'leaves the lamp' }).textContent()

test('a field that is left by a press is refused, and the press is not lost: what is pressed stays under the pointer', async () => {
  const page = await open({ idle: true })
  const target = page.getByRole('region', { name: 'Target', exact: true })
  const head = target.getByRole('button', { name: /^Target/ })
  if ((await head.getAttribute('aria-expanded')) === 'false') await head.click()
  // The sentence why comes to stand between the field and the button.
  await target.getByRole('spinbutton', { name: 'Cone, half angle' }).fill('-1')
  const { x, y } = (await target.getByRole('button', { name: /^Handbook/ }).boundingBox())!
  await page.mouse.move(x + 20, y + 2)
  await page.mouse.down()
  await target.getByText(/The value stays/).waitFor()
  await page.mouse.up()
  await page.getByRole('heading', { name: 'Handbook' }).waitFor({ timeout: 5000 })
})
