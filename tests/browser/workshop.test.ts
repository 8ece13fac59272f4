// Drawings, solids, the parts list and photometric files as a builder saves them: real downloads, read back by packages that are not ours.
import DxfParser from 'dxf-parser'
import papa from 'papaparse'
import type { Download, Page } from 'playwright-core'
import { GLTFLoader } from 'three/addons/loaders/GLTFLoader.js'
import { STLLoader } from 'three/addons/loaders/STLLoader.js'
import { expect, test, vi } from 'vitest'
import { AT } from '../../src/files/tm25.ts'
import { axe, downloaded, lampOn, rest } from './hands.ts'
import { chromiumPages } from './harness.ts'

vi.setConfig({ testTimeout: 400_000 })
const open = chromiumPages()

async function saved(page: Page, name: string | RegExp): Promise<{ name: string; bytes: Buffer }> {
  const [download] = await Promise.all([
    page.waitForEvent('download') as Promise<Download>,
    page.getByRole('button', { name, exact: true }).click(),
  ])
  return { name: download.suggestedFilename(), bytes: await downloaded(download) }
}

const panelOf = (page: Page) => page.getByRole('region', { name: 'Drawings and files' })

test('a sheet is shown, moved by keys, and saved as DXF, SVG and PDF', async () => {
  const page = await open({ shared: 'demo' })
  await page.locator('body').press('m')
  const panel = panelOf(page)
  await panel.getByRole('button', { name: /^Face plate 200 × 200 mm/ }).click()
  const paper = panel.getByRole('region', { name: 'Face plate' })
  const seen = () => paper.locator('svg').getAttribute('viewBox')
  const whole = await seen()
  await paper.press('+')
  expect(await seen()).not.toBe(whole)
  await paper.press('0')
  expect(await seen()).toBe(whole)
  expect(await axe(page)).toEqual([])

  const dxf = await saved(page, 'Save DXF')
  expect(dxf.name).toBe('gannet-head-face.dxf')
  expect(await panel.getByText('gannet-head-face.dxf has been saved.').isVisible()).toBe(true)
  const read = new DxfParser().parseSync(dxf.bytes.toString('utf8'))
  // The face is 200 mm across; half the typical kerf of 0.15 mm stands outside.
  const radii = read?.entities.flatMap((e) => ('radius' in e && e.layer === 'OUTLINE' ? [Number(e.radius)] : []))
  expect(radii).toEqual([expect.closeTo(100.075, 6)])
  const svg = await saved(page, 'Save SVG')
  expect(svg.bytes.toString('utf8')).toMatch(/<svg [^>]*width="[\d.]+mm"/)
  const pdf = await saved(page, 'Save PDF')
  expect(pdf.bytes.subarray(0, 5).toString('latin1')).toBe('%PDF-')

  // What can't be drawn says why, in its place.
  await panel.getByRole('button', { name: /^Tunnel can’t be made/ }).click()
  await panel.getByText(/The blank is 16\d\d/).waitFor()
  await panel.getByRole('button', { name: 'Tunnel, length 2 of 2: one of 2 parts', exact: true }).click()
  await panel.getByRole('region', { name: 'Tunnel, length 2 of 2: one of 2 parts' }).waitFor()
  await paper.waitFor({ state: 'detached' })
  await page.keyboard.press('Escape')
  await panel.waitFor({ state: 'detached' })
})

test('solids: a printed part as closed STL, the whole lamp as GLB with named parts', async () => {
  const page = await open({ shared: 'demo' })
  await page.locator('body').press('m')
  const panel = panelOf(page)
  await panel.getByRole('radio', { name: 'Solids' }).click()
  const glb = await saved(page, 'Save GLB')
  expect(glb.name).toBe('gannet-head-assembly.glb')
  const bytes = glb.bytes
  const buffer = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer
  const { scene } = await new GLTFLoader().parseAsync(buffer, '')
  const names: string[] = []
  scene.traverse((node) => void names.push(node.name))
  expect(names.filter((name) => /^board/i.test(name)).length).toBeGreaterThanOrEqual(19)

  await panel.getByRole('button', { name: /^Combs for the harness/ }).click()
  const stl = await saved(page, 'Save STL')
  const own = stl.bytes
  const geometry = new STLLoader().parse(
    own.buffer.slice(own.byteOffset, own.byteOffset + own.byteLength) as ArrayBuffer,
  )
  expect(geometry.getAttribute('position').count % 3).toBe(0)
  expect(geometry.getAttribute('position').count).toBeGreaterThan(30)
})

test('parts list: a price is kept in the lamp, summed, undone; the CSV is what is on screen', async () => {
  const page = await open({ shared: 'demo' })
  await page.locator('body').press('m')
  const panel = panelOf(page)
  await panel.getByRole('radio', { name: 'Parts list' }).click()
  const price = panel.getByRole('spinbutton', { name: /^Price of one piece of Board / })
  await price.fill('4.5')
  await price.press('Enter')
  expect(Object.values((await lampOn(page)).workshop?.prices ?? {})).toEqual([4.5])
  await panel.getByText(/^1 of \d+ rows priced: 85\.50 €\.$/).waitFor()
  const csv = await saved(page, 'Save CSV')
  const { data, errors } = papa.parse<Record<string, string>>(csv.bytes.toString('utf8'), {
    header: true,
    skipEmptyLines: true,
  })
  expect(errors).toEqual([])
  expect(data.find((row) => row['part'] === 'Board')).toMatchObject({ amount: '19', price: '4.5', cost: '85.5' })
  await rest(page)
  expect(await axe(page)).toEqual([])
  await page.keyboard.press('Control+z')
  expect((await lampOn(page)).workshop?.prices).toBe(undefined)

  await panel.getByRole('radio', { name: 'Assembly' }).click()
  await panel.getByRole('heading', { name: 'First power-up' }).waitFor()
  expect(await axe(page)).toEqual([])
})

test('a ray file is traced anew and saved; one that takes too long is stopped', async () => {
  const page = await open({ shared: 'demo' })
  await page.locator('body').press('m')
  const panel = panelOf(page)
  await panel.getByRole('radio', { name: 'Photometry' }).click()
  const rays = panel.getByRole('spinbutton', { name: 'Rays to start' })
  await rays.fill('16000')
  await rays.press('Enter')
  const { name, bytes } = await saved(page, 'Trace and save TM-25')
  expect(name).toBe('gannet-head.tm25ray')
  expect(bytes.subarray(0, 4).toString('latin1')).toBe('TM25')
  const head = new DataView(bytes.buffer, bytes.byteOffset)
  const count = Number(head.getBigUint64(AT.rays, true))
  expect(count).toBeGreaterThan(3000)
  expect(bytes.length).toBeGreaterThan(36 * count)
  await panel
    .getByText(/^gannet-head\.tm25ray has been saved\. [\d\u202f]+ rays of 16\u202f000 that were started/)
    .waitFor()

  await rays.fill('20000000')
  await rays.press('Enter')
  await panel.getByRole('button', { name: 'Trace and save TM-25' }).click()
  await panel.getByRole('button', { name: 'Stop' }).click()
  await panel.getByText('gannet-head.tm25ray was stopped; nothing is saved.').waitFor()
  expect(await axe(page)).toEqual([])
})
