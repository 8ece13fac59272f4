// Arrow presses on a selected board for minutes (`--minutes N`, 2): whether memory grows. The heap is read after a collection. The history keeps 200
// steps, so the first reading after the start comes when more edits than that have been made; the verdict is on the second half: code is compiled
// and caches fill before.
import { readFileSync } from 'node:fs'
import type { CDPSession, Page } from 'playwright-core'
import { numberAfter } from './arguments.ts'
import { middleOfPlan, withPlanOpen } from './planPage.ts'

/** More than the history keeps (`app/store/design.ts`), and all that is compiled on the way. */
const FILL = 400
const READINGS = 9
const BETWEEN_READINGS = 250
/** There and back, so that the board stays where there is room. */
const WAY = 20
/** Growth of less than this in 1000 edits is none: what a collection leaves differs by as much. */
const FLAT_KB = 30
/** Known no better than this it is not called flat. */
const UNSURE_KB = 300

interface Reading {
  edits: number
  heapMB: number
  processMB: number
}

export async function soak(args: readonly string[]) {
  const seconds = 60 * numberAfter(args, '--minutes', 2)
  return withPlanOpen(async ({ page, browser }) => {
    await page.mouse.click(...(await middleOfPlan(page)))
    const session = await page.context().newCDPSession(page)
    const whole = await browser.newBrowserCDPSession()
    const pressed = makePresses(page)
    const before = { edits: 0, ...(await memory(page, session, whole)) }
    await pressed.upTo(FILL)
    await page.getByRole('button', { name: /^Undo: / }).waitFor() // else nothing was edited
    const readings: Reading[] = []
    const from = performance.now()
    for (let k = 0; k < READINGS; k++) {
      while (k > 0 && performance.now() - from < (1000 * seconds * k) / (READINGS - 1))
        await pressed.upTo(pressed.count() + BETWEEN_READINGS / 10)
      readings.push({ edits: pressed.count(), ...(await memory(page, session, whole)) })
    }
    return { readings: [before, ...readings], verdict: verdictOf(readings) }
  })
}

function makePresses(page: Page) {
  let count = 0
  return {
    count: () => count,
    async upTo(wanted: number) {
      for (; count < wanted; count++) await page.keyboard.press(count % (2 * WAY) < WAY ? 'ArrowRight' : 'ArrowLeft')
    },
  }
}

async function memory(page: Page, session: CDPSession, whole: CDPSession): Promise<Omit<Reading, 'edits'>> {
  // The sheet of the last edit is on its way yet.
  await page.waitForFunction(() => document.querySelector('.sheet-facts') !== null)
  await page.waitForTimeout(1000)
  for (let time = 0; time < 2; time++) await session.send('HeapProfiler.collectGarbage')
  const { usedSize } = (await session.send('Runtime.getHeapUsage')) as { usedSize: number }
  const { processInfo } = await whole.send('SystemInfo.getProcessInfo')
  const renderers = processInfo.filter(({ type }) => type === 'renderer')
  const processMB = Math.max(0, ...renderers.map(({ id }) => residentMB(id)))
  return { heapMB: Math.round(usedSize / 1e4) / 100, processMB: Math.round(processMB) }
}

/** Of the page's process with its workers; NaN where the system doesn't tell. */
function residentMB(id: number): number {
  try {
    return Number(/VmRSS:\s*(\d+) kB/.exec(readFileSync(`/proc/${id}/status`, 'utf8'))?.[1]) / 1000
  } catch {
    return Number.NaN
  }
}

/** By a straight line through the heap of the later readings. */
function verdictOf(all: readonly Reading[]): string {
  const readings = all.slice(all.length >> 1)
  const mean = (of: (r: Reading) => number) => readings.reduce((sum, r) => sum + of(r), 0) / readings.length
  const [edits, heap] = [mean((r) => r.edits), mean((r) => r.heapMB)]
  const spread = readings.reduce((sum, r) => sum + (r.edits - edits) ** 2, 0)
  const slope = readings.reduce((sum, r) => sum + (r.edits - edits) * (r.heapMB - heap), 0) / spread
  const off = readings.reduce((sum, r) => sum + (r.heapMB - heap - slope * (r.edits - edits)) ** 2, 0)
  const se = Math.sqrt(off / (readings.length - 2) / spread)
  const kB = 1e6 * slope
  const isFlat = kB < FLAT_KB || kB < 2 * 1e6 * se
  const verdict = !isFlat ? 'growing' : 2e6 * se > UNSURE_KB ? 'no growth seen, a longer soak tells more' : 'flat'
  return `${verdict}: ${Math.round(kB)} ± ${Math.round(2 * 1e6 * se)} kB of heap in 1000 edits`
}
