// The page over a tracing service that has its sheets ready (replay/): sixty a second are on offer, so that what is measured is the page alone.
import { join } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { build, preview } from 'vite'
import { mainThread, type Took, watchSheets } from './mainThread.ts'

const MOVES = 120
const FRAME_MS = 16
const KEYS = { Plan: '1', Section: '2', Night: '4' } as const
type View = keyof typeof KEYS

export interface Replayed {
  view: View
  took: Took
  moves: number
  perSecond: number
}

export async function* replayed(browser: Browser): AsyncGenerator<Replayed> {
  const root = join(process.cwd(), 'tests/bench/replay')
  const outDir = join(process.cwd(), 'node_modules/.cache/lampwright-replay')
  const publicDir = join(process.cwd(), 'public')
  await build({
    root,
    publicDir,
    base: './',
    worker: { format: 'es' },
    logLevel: 'error',
    build: { target: 'es2022', outDir, emptyOutDir: true },
  })
  const server = await preview({ root, logLevel: 'error', build: { outDir }, preview: { port: 0, host: '127.0.0.1' } })
  const context = await browser.newContext({ viewport: { width: 1280, height: 720 } })
  try {
    const page = await context.newPage()
    page.setDefaultTimeout(120_000)
    await page.goto(server.resolvedUrls!.local[0]!)
    await page.getByRole('button', { name: /^Dangers:/ }).waitFor()
    const trace = await browser.newBrowserCDPSession()
    for (const view of ['Section', 'Plan', 'Night'] as const) {
      await page.locator('body').press(KEYS[view])
      await page.waitForTimeout(1500)
      const at = await handle(page, view)
      await drag(page, at, MOVES / 4) // what is compiled, is compiled
      await page.waitForTimeout(500)
      const count = await watchSheets(page)
      let perSecond = 0
      const took = await mainThread(trace, async () => {
        const from = performance.now()
        await drag(page, at, MOVES)
        perSecond = (1000 * (await count())) / (performance.now() - from)
      })
      yield { view, took, moves: MOVES, perSecond }
    }
  } finally {
    await context.close()
    await new Promise((closed) => server.httpServer.close(closed))
  }
}

/** What there is to drag: a knob, a board, or the label of a field. */
async function handle(page: Page, view: View): Promise<[number, number]> {
  const of = { Section: '[data-handle="lensZ"]', Plan: '.plan-live', Night: 'label:text-is("Stands at z")' }[view]
  await page.locator(of).scrollIntoViewIfNeeded()
  const box = (await page.locator(of).boundingBox())!
  const off = view === 'Plan' ? 10 : 0
  return [box.x + box.width / 2 + off, box.y + box.height / 2 + off]
}

async function drag(page: Page, [x, y]: [number, number], moves: number): Promise<void> {
  await page.mouse.move(x, y)
  await page.mouse.down()
  const from = performance.now()
  for (let i = 1; i <= moves; i++) {
    await page.mouse.move(x + 30 * Math.sin((3 * Math.PI * i) / moves), y)
    await page.waitForTimeout(Math.max(0, from + i * FRAME_MS - performance.now()))
  }
  await page.mouse.up()
}
