// What the page's own thread has to do while hands are on the lamp, in milliseconds of its processor time: the work that a frame must
// hold, whatever the screen and the machine's other load. Software drawing is done elsewhere and isn't counted.
import { join } from 'node:path'
import { chromium, type Page } from 'playwright-core'
import { build, preview } from 'vite'
import { writeLampText } from '../../src/lamp/read.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { fillFace } from '../../src/layout/fill.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { mainThread, watchSheets } from './mainThread.ts'
import { replayed } from './replayed.ts'

export interface PageRow {
  lamp: string
  hand: string
  'longest task': number
  'tasks over 50': number
  /** Tasks over 16 ms of the thread's processor time: frames that a screen of 60 Hz would miss. */
  'tasks over 16': number
  /** Event and frame together, one move of the pointer or one key. */
  'a move'?: number
  /** All that the thread did, by the sheets that came on screen meanwhile. */
  'all a sheet'?: number
  /** Beam sheets that came on screen in a second of the drag: the whole way, engine and all. */
  'sheets/s'?: number
}

const ARGS = ['--no-sandbox', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-sync']
const MOVES = 8
/** A longer drag, a move a frame, to count sheets by. */
const LONG_MOVES = 120
const FRAME_MS = 16
const LENS = 'lens dragged'
const LENS_LONG = 'lens dragged for two seconds'

/** A thousand boards of seven emitters each, on a face that holds them. */
function thousand(): Lamp {
  const demo = gannetHead()
  const lamp = { ...demo, name: 'A thousand boards', face: { ...demo.face, sizeMm: 1400 }, tunnel: null, lens: null }
  const requests = { pattern: 'hexagonal', clearanceMm: 0.5, marginMm: 2, wanted: 1000, currentA: 2 } as const
  return { ...lamp, boards: fillFace(lamp, { ...requests, boardType: demo.boardTypes[0]!.id }).boards }
}

/** A row as soon as it is known: a slow machine takes minutes over all of them. */
export async function* pageWork(): AsyncGenerator<PageRow> {
  const outDir = join(process.cwd(), 'node_modules/.cache/lampwright-bench')
  await build({ logLevel: 'error', build: { outDir, emptyOutDir: true } })
  const server = await preview({ logLevel: 'error', build: { outDir }, preview: { port: 0, host: '127.0.0.1' } })
  const executablePath = process.env['CHROMIUM'] ?? '/usr/bin/chromium'
  const browser = await chromium.launch({ executablePath, args: ARGS })
  try {
    for (const lamp of [gannetHead(), thousand()]) {
      const context = await browser.newContext({ viewport: { width: 1280, height: 720 } })
      const page = await context.newPage()
      page.setDefaultTimeout(120_000)
      await page.goto(server.resolvedUrls!.local[0]!)
      await page.getByRole('button', { name: /^Dangers:/ }).waitFor()
      const [chooser] = await Promise.all([
        page.waitForEvent('filechooser'),
        page.getByRole('button', { name: 'Open', exact: true }).click(),
      ])
      const buffer = Buffer.from(writeLampText(lamp))
      await chooser.setFiles({ name: 'bench.lamp.json', mimeType: 'application/json', buffer })
      const trace = await browser.newBrowserCDPSession()
      for (const [pointer, work, moves] of workers(page)) {
        if ((pointer === LENS || pointer === LENS_LONG) && !lamp.lens) continue
        let perSecond: unknown = null
        const took = await mainThread(trace, async () => {
          perSecond = await work()
        })
        const row: PageRow = {
          lamp: lamp.name,
          hand: pointer,
          'longest task': round(took.longest),
          'tasks over 50': took.over(50),
          'tasks over 16': took.over(16),
        }
        if (moves) row['a move'] = round(took.hand / moves)
        if (typeof perSecond === 'number') row['sheets/s'] = round(perSecond)
        yield row
      }
      await context.close()
    }
    for await (const { view, took, moves, perSecond } of replayed(browser))
      yield {
        lamp: 'Gannet Head, sheets ready',
        hand: `dragged, ${view} open`,
        'longest task': round(took.longest),
        'tasks over 50': took.over(50),
        'tasks over 16': took.over(16),
        'a move': round(took.hand / moves),
        'all a sheet': round(took.all / took.seconds / perSecond),
        'sheets/s': round(perSecond),
      }
  } finally {
    await browser.close()
    await new Promise((closed) => server.httpServer.close(closed))
  }
}

const round = (ms: number) => Math.round(ms * 10) / 10

/** What the hand does; a number it gives is of sheets a second. */
type Hand = [name: string, work: () => Promise<unknown>, moves?: number]

function workers(page: Page): Hand[] {
  const rest = (ms: number) => page.waitForTimeout(ms)
  const drag = async (x: number, y: number, dx: number, dy: number) => {
    await page.mouse.move(x, y)
    await page.mouse.down()
    for (let i = 1; i <= MOVES; i++) await page.mouse.move(x + (dx * i) / MOVES, y + (dy * i) / MOVES)
    await page.mouse.up()
    await rest(300)
  }
  const middle = async (selector: string): Promise<[number, number] | null> => {
    const box = (await page.locator(selector).count()) > 0 ? await page.locator(selector).boundingBox() : null
    return box && [box.x + box.width / 2, box.y + box.height / 2]
  }
  const board = async () => (await middle('.plan-live')) ?? [600, 400]
  const key = (chord: string) => page.locator('body').press(chord)
  return [
    ['lamp opened, sheets coming', () => rest(4000)],
    [
      LENS,
      async () => {
        const knob = await middle('[data-handle="lensZ"]')
        if (knob) await drag(knob[0], knob[1], -30, 0)
      },
      MOVES,
    ],
    [
      LENS_LONG,
      async () => {
        const knob = await middle('[data-handle="lensZ"]')
        if (!knob) return
        const [x, y] = knob
        await page.mouse.move(x, y)
        await page.mouse.down()
        const count = await watchSheets(page)
        const from = performance.now()
        for (let i = 1; i <= LONG_MOVES; i++) {
          await page.mouse.move(x - 40 * Math.sin((Math.PI * i) / LONG_MOVES), y)
          await rest(Math.max(0, from + i * FRAME_MS - performance.now()))
        }
        const seconds = (performance.now() - from) / 1000
        const sheets = await count()
        await page.mouse.up()
        await rest(300)
        return sheets / seconds
      },
      LONG_MOVES,
    ],
    ['to Plan', () => key('1').then(() => rest(1000))],
    ['a board dragged', async () => drag((await board())[0] + 10, (await board())[1] + 9, 40, 30), MOVES],
    [
      'all boards dragged',
      async () => {
        await page.locator('.plan-live').press('Control+a')
        const [x, y] = await board()
        await drag(x + 10, y + 9, 8, 6)
      },
      MOVES,
    ],
    [
      'all boards nudged by key',
      async () => {
        for (let i = 0; i < MOVES; i++) await page.locator('.plan-live').press('ArrowRight')
        await rest(300)
      },
      MOVES,
    ],
    ['to Section', () => key('2').then(() => rest(1000))],
    ['to Solid', () => key('3').then(() => rest(4000))],
  ]
}
