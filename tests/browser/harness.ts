// The built page in a real Chromium (setup.ts). Each page has a browser context of its own: no stored lamps, no other test's page.
import { mkdirSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, expect, inject } from 'vitest'
import { hold, lampName, rest } from './hands.ts'

const ROOT = dirname(dirname(dirname(fileURLToPath(import.meta.url))))

interface OpenOptions {
  width?: number
  height?: number
  /** A screen for fingers, as a phone has it. */
  touch?: boolean
  /** Go on tracing. Otherwise the trace rests from its first figures on: two cores are few, and most tests ask for no more. */
  tracing?: boolean
  /** What stands after the page's address: ?engine=cpu. */
  address?: string
  /** Stay at the page before it has loaded, to set something up. */
  before?(page: Page): Promise<unknown>
  /** Complaints that the test brings about itself. */
  expects?: RegExp
  /** Not even the first figures: the trace rests at once. */
  untraced?: boolean
  /** Nothing is computed in any tab: the workers never answer, but for those that fill a face and read a ray file. For what is only typed, drawn, kept or opened. */
  idle?: boolean
  /**
   * Tests of a file that name the same page share it: the first opens it, each leaves it as the next needs it, and it stays until another page
   * is opened. A test that fails closes it; the next then begins on a new one.
   */
  shared?: string
  /** The browser's language. */
  locale?: string
  /** Another server than the suite's. */
  at?: string
  /** Its service worker runs. Otherwise there is none: it would fetch all files once more for each test. */
  offline?: boolean
}

export type Open = (options?: OpenOptions) => Promise<Page>

/**
 * Call once at the top of a test file; gives the function that opens the page. After each test its pages are closed, but
 * for a shared one, and the test fails if one of them wrote an error to the console, threw, or asked for anything outside.
 */
export function chromiumPages(): Open {
  let browser: Browser
  const home = inject('pageAt')
  const faults: string[] = []
  let pages: { context: BrowserContext; page: Page; shared: string | undefined }[] = []
  const close = async (which: (one: (typeof pages)[number]) => boolean) => {
    for (const one of pages) if (which(one)) await one.context.close()
    pages = pages.filter((one) => !which(one))
  }

  beforeAll(async () => {
    browser = await chromium.connect(inject('chromiumAt'))
  })
  afterAll(async () => {
    await browser?.close()
  })
  afterEach(async ({ task }) => {
    const failed = task.result?.state === 'fail'
    if (failed) for (const { page } of pages) await keepPicture(page, task.name)
    await close(({ shared }) => failed || shared === undefined)
    expect(faults.splice(0), 'what the page complained of').toEqual([])
  })

  return async (options = {}) => {
    const {
      width = 1280,
      height = 720,
      touch = false,
      tracing,
      locale,
      untraced,
      idle,
      address = '',
      before,
      shared,
      expects,
      offline,
      at = home,
    } = options
    const there = pages.find((one) => shared !== undefined && one.shared === shared)
    if (there) return there.page
    await close((one) => one.shared !== undefined)
    const context = await browser.newContext({
      viewport: { width, height },
      colorScheme: 'dark',
      ...(locale !== undefined && { locale }),
      hasTouch: touch,
      isMobile: touch,
    })
    await context.addInitScript(() => {
      // A browser does not write every refusal to the console.
      document.addEventListener('securitypolicyviolation', (e) =>
        console.error(`Content Security Policy: ${e.effectiveDirective} refused ${e.blockedURI}`),
      )
    })
    if (!offline) await context.addInitScript(() => Reflect.deleteProperty(Navigator.prototype, 'serviceWorker'))
    if (idle) await context.addInitScript(withoutWorkers)
    const page = await context.newPage()
    page.setDefaultTimeout(60_000)
    page.on('console', (message) => {
      if (message.type() === 'error' && !expects?.test(message.text())) faults.push(`console: ${message.text()}`)
    })
    page.on('pageerror', (error) => faults.push(`thrown: ${error.stack ?? error.message}`))
    await context.route(
      (url) => !url.href.startsWith(at),
      (route) => {
        faults.push(`asked for ${route.request().url()}: the page works without a network`)
        return route.abort()
      },
    )
    pages.push({ context, page, shared })
    await before?.(page)
    await page.goto(at + address)
    await lampName(page).waitFor()
    if (untraced || idle) await hold(page)
    else if (!tracing) await rest(page)
    return page
  }
}

/** A fill is an edit, and so is a ray file: their workers are started with the first call. */
function withoutWorkers() {
  const Started = window.Worker
  window.Worker = class extends EventTarget {
    onmessage: ((event: MessageEvent) => unknown) | null = null
    url: string | URL
    started: Worker | null = null
    constructor(url: string | URL) {
      super()
      this.url = url
    }
    postMessage(call: { method?: string }) {
      if ((call.method === 'fill' || call.method === 'load') && !this.started) {
        this.started = new Started(this.url, { type: 'module' })
        this.started.onmessage = (event) => this.onmessage?.(event)
      }
      this.started?.postMessage(call)
    }
    terminate() {
      this.started?.terminate()
    }
  } as unknown as typeof Worker
}

/** For whoever has to find out why: shots/ is not tracked. */
async function keepPicture(page: Page, name: string): Promise<void> {
  const folder = join(ROOT, 'shots')
  mkdirSync(folder, { recursive: true })
  const path = join(folder, `${name.replace(/[^a-z0-9]+/gi, '-').slice(0, 60)}.png`)
  await page.screenshot({ path }).catch(() => {})
}
