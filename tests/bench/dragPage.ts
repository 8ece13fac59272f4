// One board dragged on Plan in the built page, a move a frame: tasks of the page's thread by its own processor time, and sheets that come on screen. In
// software WebGL is slow; Plan has none.
import { mainThread, watchSheets } from './mainThread.ts'
import { middleOfPlan, withPlanOpen } from './planPage.ts'

const MOVES = 120
const FRAME_MS = 16
const WARM_UP = 3

/** `--graphics`: on a machine with a card. */
export const dragOnPlan = (args: readonly string[]) =>
  withPlanOpen(async ({ page, browser }) => {
    const trace = await browser.newBrowserCDPSession()
    const [x, y] = await middleOfPlan(page)
    const drag = async () => {
      // Free of the grid: else only one move in five is an edit.
      await page.keyboard.down('Alt')
      await page.mouse.move(x, y)
      await page.mouse.down()
      const from = performance.now()
      for (let i = 1; i <= MOVES; i++) {
        await page.mouse.move(x + 30 * Math.sin((3 * Math.PI * i) / MOVES), y)
        await page.waitForTimeout(Math.max(0, from + i * FRAME_MS - performance.now()))
      }
      await page.mouse.up()
      await page.keyboard.up('Alt')
    }
    // As whoever has read the sheet first.
    await page.locator('.sheet-state[data-state="settled"]').waitFor({ state: 'attached' })
    for (let i = 0; i < WARM_UP; i++) await drag()
    let perSecond = 0
    const took = await mainThread(trace, async () => {
      const count = await watchSheets(page)
      const from = performance.now()
      await drag()
      perSecond = (1000 * (await count())) / (performance.now() - from)
    })
    const tenths = (value: number) => Math.round(10 * value) / 10
    return {
      moves: MOVES,
      'tasks over 16 ms': took.over(16),
      'tasks over 50 ms': took.over(50),
      'longest task, ms': tenths(took.longest),
      'a move, ms': tenths(took.hand / MOVES),
      'sheets/s on screen': tenths(perSecond),
      engine: await page.locator('.ui-engine').first().textContent(),
    }
  }, args.includes('--graphics'))
