// What Chromium itself records of the page's thread, and how many sheets come on screen.
import type { CDPSession, Page } from 'playwright-core'

/** Counts the times that the line about the trace at the head of the sheet, always in sight, says something new: once a sheet. */
export async function watchSheets(page: Page): Promise<() => Promise<number>> {
  await page.evaluate(() => {
    const watched = 'sheetsSeen' in window
    const counted = Object.assign(window, { sheetsSeen: 0 })
    if (watched) return
    const watch = new MutationObserver((changes) => {
      if (changes.some(({ target }) => target.parentElement?.closest('.sheet-facts'))) counted.sheetsSeen++
    })
    watch.observe(document.body, { subtree: true, childList: true, characterData: true })
  })
  return () => page.evaluate(() => (window as unknown as { sheetsSeen: number }).sheetsSeen)
}

interface TraceEvent {
  name: string
  pid: number
  tid: number
  /** Processor time of the thread, µs. */
  tdur?: number
  args: { name?: string }
}

/** Milliseconds of the thread's processor time. */
export interface Took {
  longest: number
  over: (ms: number) => number
  /** Events and frames alone. */
  hand: number
  all: number
  /** Wall time. */
  seconds: number
}

/** Chromium's own record of the tasks of the page's thread. */
export async function mainThread(trace: CDPSession, work: () => Promise<void>): Promise<Took> {
  const events: TraceEvent[] = []
  const take = (part: { value: unknown[] }) => {
    for (const event of part.value) events.push(event as TraceEvent)
  }
  trace.on('Tracing.dataCollected', take)
  const includedCategories = ['toplevel', 'devtools.timeline']
  await trace.send('Tracing.start', {
    transferMode: 'ReportEvents',
    traceConfig: { includedCategories, excludedCategories: ['*'] },
  })
  const from = performance.now()
  await work()
  const seconds = (performance.now() - from) / 1000
  const complete = new Promise((done) => trace.once('Tracing.tracingComplete', done))
  await trace.send('Tracing.end')
  await complete
  trace.off('Tracing.dataCollected', take)
  const thread = (e: TraceEvent) => `${e.pid} ${e.tid}`
  const main = new Set(
    events.filter((e) => e.name === 'thread_name' && e.args.name === 'CrRendererMain').map((e) => thread(e)),
  )
  const spans = (...names: string[]) =>
    events.filter((e) => names.includes(e.name) && main.has(thread(e))).map((e) => (e.tdur ?? 0) / 1000)
  const tasks = spans('ThreadControllerImpl::RunTask')
  return {
    seconds,
    all: tasks.reduce((sum, ms) => sum + ms, 0),
    longest: Math.max(0, ...tasks),
    over: (limit) => tasks.filter((ms) => ms > limit).length,
    hand: spans('EventDispatch', 'FireAnimationFrame').reduce((sum, ms) => sum + ms, 0),
  }
}
