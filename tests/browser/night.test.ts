// The night as a client sees it: few pictures, read as numbers.
import type { Page } from 'playwright-core'
import { expect, test, vi } from 'vitest'
import { cameraWhite, decoded } from '../../src/app/night/model/tone.ts'
import { lampFromPng } from '../../src/files/lampInPng.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { sunless } from '../kit/sunless.ts'
import { axe, downloaded, figure, lampOn, openLamp, rest, show } from './hands.ts'
import { chromiumPages } from './harness.ts'
import { decodePng, meanOver, nightPicture } from './nightPixels.ts'

vi.setConfig({ testTimeout: 400_000 })
const open = chromiumPages()

/** Counts what is asked of WebGL, from before the page begins. */
const counting = {
  before: async (page: Page) => {
    await page.addInitScript(() => {
      const tally = window as unknown as Record<string, number>
      const { prototype } = WebGL2RenderingContext
      for (const [name, key] of [
        ['drawArrays', 'drawn'],
        ['createProgram', 'programs'],
        ['texStorage2D', 'storages'],
        ['texSubImage2D', 'fills'],
      ] as const) {
        const real = prototype[name] as (...all: unknown[]) => unknown
        tally[key] = 0
        Object.assign(prototype, {
          [name](this: WebGL2RenderingContext, ...all: unknown[]) {
            tally[key]! += 1
            return real.apply(this, all)
          },
        })
      }
    })
  },
}
const count = (page: Page, key: 'drawn' | 'programs' | 'storages' | 'fills') =>
  page.evaluate((k) => (window as unknown as Record<string, number>)[k]!, key)

const push = (page: Page, name: string) => page.getByRole('button', { name, exact: true }).click()
/** As the page is shared, it may be so already. */
async function hideMarks(page: Page): Promise<void> {
  const marks = page.getByRole('button', { name: 'Marks', exact: true })
  if ((await marks.getAttribute('aria-pressed')) === 'true') await marks.click()
}
const slide = (page: Page, name: string, to: number) => page.getByRole('slider', { name }).fill(String(to))
const beside = (page: Page, label: string) => page.getByLabel('Beside it').selectOption({ label })
/** "786 k rays", "1.2 M rays" in the bar. */
const tracedRays = async (page: Page): Promise<number> => {
  const text = (await page.getByRole('button', { name: /^Trace: / }).textContent()) ?? ''
  const [, number, unit] = /([\d.]+)\s*([kM]?) rays/.exec(text) ?? []
  return Number(number ?? 0) * (unit === 'M' ? 1e6 : unit === 'k' ? 1e3 : 1)
}
const grey = ([r, g, b]: [number, number, number]) => (r + g + b) / 3

test('a saved picture is a PNG of its lamp, wide enough to show', async () => {
  const page = await open({ ...counting, shared: 'night' })
  await show(page, 'Night')
  const [download] = await Promise.all([
    page.waitForEvent('download', { timeout: 120_000 }),
    page.getByRole('button', { name: 'Save picture' }).click(),
  ])
  expect(download.suggestedFilename()).toBe('gannet-head-night.png')
  const bytes = await downloaded(download)
  expect(await lampFromPng(bytes)).toEqual({ ok: true, lamp: gannetHead() })
  const picture = decodePng(bytes)
  expect(picture.width).toBeGreaterThanOrEqual(600)
  // The strip below says what it is: quiet ground with words on it.
  expect(picture.at(2, picture.height - 3)).toEqual([17, 23, 26])
})

test('a small target is enlarged with a pixel of its own for each of the screen’s, also where the picture is coarser', async () => {
  const page = await open({ ...counting, shared: 'night' })
  await show(page, 'Night')
  await push(page, 'Boat')
  await page.evaluate(() => {
    const { prototype } = WebGL2RenderingContext
    const real = prototype.viewport
    const sides: number[] = []
    Object.assign(window, { sides })
    prototype.viewport = function (x, y, width, height) {
      if (width === height) sides.push(width)
      real.call(this, x, y, width, height)
    }
  })
  await push(page, 'Up close')
  await push(page, 'By the lamp')
  await nightPicture(page)
  const box = (await page.locator('.night-stage').boundingBox())!
  // Of a side as inset.ts has it.
  const side = Math.round(Math.min(0.34 * box.width, 0.42 * box.height))
  await expect
    .poll(() => page.evaluate(() => Math.max(0, ...(window as unknown as { sides: number[] }).sides)))
    .toBe(side)
})

test('targets and haze: a boat’s orange, a dark sky without haze and a beam in it with haze', async () => {
  const page = await open({ ...counting, shared: 'night' })
  await show(page, 'Night')
  // The demo's target is called Kayak: the boat comes by itself.
  expect(await page.getByRole('button', { name: 'Boat', exact: true }).getAttribute('aria-pressed')).toBe('true')
  await hideMarks(page)
  await push(page, 'Up close')
  await slide(page, 'Haze', 0)
  const boat = await nightPicture(page)
  const orange = (p: typeof boat) => {
    let n = 0
    for (let y = 0; y < p.height; y++) {
      for (let x = 0; x < p.width; x++) {
        const [r, g, b] = p.at(x, y)
        if (r > 90 && r > 1.25 * g && r > 1.6 * b) n++
      }
    }
    return n / (p.width * p.height)
  }
  expect(orange(boat)).toBeGreaterThan(0.005)
  expect(grey(meanOver(boat, 0, 0, 1, 0.1))).toBeLessThan(12)

  await push(page, 'Wall')
  expect(orange(await nightPicture(page))).toBe(0)

  await push(page, 'Person')
  const person = await nightPicture(page)
  // Head to foot in the middle, dark to both sides of the shoulders.
  expect(grey(meanOver(person, 0.47, 0.3, 0.53, 0.7))).toBeGreaterThan(50)
  expect(grey(meanOver(person, 0.05, 0.05, 0.25, 0.15))).toBeLessThan(25)

  await push(page, 'From aside')
  await push(page, 'Camera')
  await slide(page, 'Camera exposure', -5)
  // Above the ground, half way along the beam.
  const clear = await nightPicture(page)
  await slide(page, 'Haze', 4)
  const hazy = await nightPicture(page)
  expect(grey(meanOver(hazy, 0.3, 0.4, 0.9, 0.6))).toBeGreaterThan(3 + grey(meanOver(clear, 0.3, 0.4, 0.9, 0.6)))
  await page.getByText('sees 5 km').waitFor()
})

test('the pixel at the target’s centre: E = I/d², L = ρE/π, through the camera’s exposure', async () => {
  const page = await open({ ...counting, shared: 'night' })
  // Rays enough for a smooth map; then it rests, so that nothing changes under the pixels.
  await openLamp(page, sunless(gannetHead()))
  await expect.poll(() => tracedRays(page), { timeout: 200_000 }).toBeGreaterThan(400_000)
  await rest(page)
  await show(page, 'Night')
  await push(page, 'Wall')
  await push(page, 'Up close')
  await hideMarks(page)
  await slide(page, 'Haze', 0)
  await push(page, 'Camera')
  // By hand: the sheet's axial intensity over the square of 800 m, on a wall that sends back half.
  const axialCd = 1e6 * (await figure(page, 'Axial intensity'))
  const byHand = (0.5 * (axialCd / 800 ** 2)) / Math.PI
  const ev = Math.round(2 * Math.log2(byHand / 1.2) + 3) / 2
  await slide(page, 'Camera exposure', ev)
  // The eye looks at the point aimed at: it stands in the middle of the picture.
  const picture = await nightPicture(page)
  const luminance = ([r, g, b]: [number, number, number]) =>
    cameraWhite(ev) * (0.2126 * decoded(r / 255) + 0.7152 * decoded(g / 255) + 0.0722 * decoded(b / 255))
  const rgb = meanOver(picture, 0.49, 0.48, 0.51, 0.52)
  // Over some ten metres of wall (the ground begins just below), against the noise of single bins. 12 %: what is left of it, the joints' dark lines, the beam's own pattern.
  const about = luminance(meanOver(picture, 0.42, 0.36, 0.58, 0.5)) / byHand
  expect(about).toBeGreaterThan(0.88)
  expect(about).toBeLessThan(1.12)

  // One EV more, half the light.
  await slide(page, 'Camera exposure', ev + 1)
  const darker = meanOver(await nightPicture(page), 0.49, 0.48, 0.51, 0.52)
  expect(decoded(darker[1] / 255) / decoded(rgb[1] / 255)).toBeCloseTo(0.5, 1)

  // What is read off under the pointer is the same light.
  const box = (await page.locator('.night-stage').boundingBox())!
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2)
  const words = (await page.locator('.night-here').textContent())!
  expect(words).toContain('on the wall')
  const lx = Number(/^([\d.]+) lx/.exec(words)![1])
  // 6 %: the wall's own grain.
  const seen = luminance(rgb) / ((0.5 * lx) / Math.PI)
  expect(seen).toBeGreaterThan(0.94)
  expect(seen).toBeLessThan(1.06)
  expect(Number(/; ([\d.]+) cd\/m²/.exec(words)![1])).toBeCloseTo((0.5 * lx) / Math.PI, 1)
})

test('a split picture: the same lamp twice is the same twice; with bare emitters the other half is darker', async () => {
  const page = await open({ ...counting, shared: 'night' })
  await show(page, 'Night')
  await push(page, 'Wall')
  await hideMarks(page)
  await slide(page, 'Haze', 0)
  await beside(page, 'this lamp as it stands now')
  const twice = await nightPicture(page)
  const left = meanOver(twice, 0.02, 0.1, 0.48, 0.85)
  const right = meanOver(twice, 0.52, 0.1, 0.98, 0.85)
  for (let k = 0; k < 3; k++) expect(Math.abs(left[k]! - right[k]!)).toBeLessThan(2)
  await beside(page, 'this lamp with bare emitters')
  await page.getByRole('status').filter({ hasText: 'being traced' }).waitFor({ state: 'hidden' })
  const bare = await nightPicture(page)
  expect(grey(meanOver(bare, 0.6, 0.2, 0.9, 0.5))).toBeLessThan(0.9 * grey(meanOver(bare, 0.1, 0.2, 0.4, 0.5)))
  expect(await axe(page)).toEqual([])
})

test('by keyboard alone: another target, more haze, a place read off', async () => {
  const page = await open({ ...counting, shared: 'night' })
  await page.locator('body').press('4')
  await page.getByRole('tab', { name: 'Night' }).focus()
  const person = page.getByRole('button', { name: 'Person', exact: true })
  const reached = async (what: typeof person) => {
    for (let i = 0; i < 120 && !(await what.evaluate((el) => el === document.activeElement)); i++)
      await page.keyboard.press('Tab')
    expect(await what.evaluate((el) => el === document.activeElement)).toBe(true)
  }
  await reached(person)
  await page.keyboard.press('Space')
  expect(await person.getAttribute('aria-pressed')).toBe('true')
  const haze = page.getByRole('slider', { name: 'Haze' })
  await reached(haze)
  await page.keyboard.press('End')
  expect(await haze.getAttribute('aria-valuetext')).toBe('thick fog, visibility 100 m')
  await page.keyboard.press('Home')
  await reached(page.locator('.night-stage'))
  for (const key of ['ArrowDown', 'ArrowDown', 'ArrowDown']) await page.keyboard.press(key)
  await expect.poll(() => page.locator('.night-here').textContent()).toMatch(/lx on the (ground|figure)/)
})

test('new light refills the textures and builds nothing; a night at rest draws nothing', async () => {
  const page = await open({ ...counting, shared: 'night' })
  await show(page, 'Night')
  await beside(page, 'nothing')
  await nightPicture(page)
  const [programs, storages, fills] = [
    await count(page, 'programs'),
    await count(page, 'storages'),
    await count(page, 'fills'),
  ]
  const z = page.getByRole('spinbutton', { name: 'Stands at z' })
  await z.fill('1100')
  await z.press('Enter')
  await expect.poll(async () => (await lampOn(page)).lens?.zMm).toBe(1100)
  await expect.poll(() => count(page, 'fills'), { timeout: 60_000 }).toBeGreaterThan(fills)
  expect(await count(page, 'programs')).toBe(programs)
  expect(await count(page, 'storages')).toBe(storages)
  await rest(page)
  await nightPicture(page)
  const drawn = await count(page, 'drawn')
  await page.evaluate(async () => {
    for (let i = 0; i < 60; i++) await new Promise((next) => requestAnimationFrame(next))
  })
  expect(await count(page, 'drawn')).toBe(drawn)
})
