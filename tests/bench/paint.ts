// From navigation to the page's first paint, to the drawn demo and to its first figures, ms of wall time, each page in a context of its own with an empty
// cache; and the bytes of the scripts that the page needs to start.
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { gzipSync } from 'node:zlib'
import type { Page } from 'playwright-core'
import { numberAfter } from './arguments.ts'
import { withServedPage } from './served.ts'

const TIMES = 7

interface Marks {
  /** The browser's own mark. */
  painted: number
  /** The lamp stands in the open view. */
  lamp: number
  figures: number
}

/** `--times N` pages. Medians. */
export async function paintTimes(args: readonly string[]) {
  return withServedPage(async ({ browser, at, outDir }) => {
    const seen: Marks[] = []
    for (let i = 0; i < numberAfter(args, '--times', TIMES); i++) {
      const context = await browser.newContext({ viewport: { width: 1280, height: 720 } })
      const page = await context.newPage()
      await watch(page)
      await page.goto(at)
      seen.push(await marksOf(page))
      await context.close()
    }
    const middle = (of: (marks: Marks) => number) =>
      Math.round(seen.map(of).sort((a, b) => a - b)[seen.length >> 1] ?? 0)
    return {
      times: {
        pages: seen.length,
        painted: middle((m) => m.painted),
        lamp: middle((m) => m.lamp),
        figures: middle((m) => m.figures),
      },
      scripts: firstScripts(outDir),
    }
  })
}

/** Notes the end of the first frame in which something is there. */
const watch = (page: Page) =>
  page.addInitScript(() => {
    const marks: Record<string, number> = {}
    Object.assign(window, { benchMarks: marks })
    const signs = {
      lamp: () => document.querySelector('[data-handle], .plan-live') !== null,
      figures: () => /\d/.test(document.querySelector('.sheet-facts')?.textContent ?? ''),
    }
    const channel = new MessageChannel()
    let due: string[] = []
    channel.port1.onmessage = () => {
      for (const name of due) marks[name] ??= performance.now()
      due = []
    }
    // A message that is posted in a frame is taken after the frame has been drawn.
    const checkFrame = () => {
      for (const [name, isThere] of Object.entries(signs)) if (!(name in marks) && isThere()) due.push(name)
      if (due.length > 0) channel.port2.postMessage(null)
      if (Object.keys(marks).length < 2) requestAnimationFrame(checkFrame)
    }
    requestAnimationFrame(checkFrame)
  })

async function marksOf(page: Page): Promise<Marks> {
  await page.waitForFunction(() => 'figures' in (window as unknown as { benchMarks: object }).benchMarks, undefined, {
    timeout: 120_000,
  })
  return page.evaluate(() => {
    const { lamp, figures } = (window as unknown as { benchMarks: Record<string, number> }).benchMarks
    const painted = performance.getEntriesByName('first-contentful-paint')[0]?.startTime
    return { painted: painted ?? Number.NaN, lamp: lamp ?? Number.NaN, figures: figures ?? Number.NaN }
  })
}

/** The entry with what it imports before it runs, and all scripts, kB gzipped and as they are. */
function firstScripts(outDir: string) {
  const html = readFileSync(join(outDir, 'index.html'), 'utf8')
  const first = [...html.matchAll(/(?:src|href)="\.\/(assets\/[^"]+\.js)"/g)].map(([, path]) => path ?? '')
  const every = readdirSync(join(outDir, 'assets')).filter((name) => name.endsWith('.js'))
  const sizes = (names: readonly string[]) => {
    const texts = names.map((name) => readFileSync(join(outDir, name)))
    const kB = (bytes: number) => Math.round(bytes / 1000)
    return {
      files: names.length,
      'kB gzipped': kB(texts.reduce((sum, text) => sum + gzipSync(text, { level: 9 }).length, 0)),
      kB: kB(texts.reduce((sum, text) => sum + text.length, 0)),
    }
  }
  return { 'to start': sizes(first), all: sizes(every.map((name) => `assets/${name}`)) }
}
