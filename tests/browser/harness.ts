// The built page in a real Chromium (setup.ts). Each page has a browser context of its own: no stored lamps, no other test's page.
import { mkdirSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, expect, inject } from 'vitest'
import { rest } from './hands.ts'

const ROOT = dirname(dirname(dirname(fileURLToPath(import.meta.url))))

export interface OpenOptions {
  width?: number
  height?: number
  /** What the builder's system asks for. */
  contrast?: 'more' | 'no-preference'
  /** Go on tracing. Otherwise the trace rests from its first figures on: two cores are few, and most tests ask for no more. */
  tracing?: boolean
  /** What stands after the page's address: ?engine=cpu. */
  address?: string
  /** Stay at the page before it has loaded, to set something up. */
  before?(page: Page): Promise<unknown>
}

export type Open = (options?: OpenOptions) => Promise<Page>

/**
 * Call once at the top of a test file; gives the function that opens the page. After each test its pages are closed, and
 * the test fails if one of them wrote an error to the console, threw, or asked for anything outside.
 */
export function chromiumPages(): Open {
  let browser: Browser
  const home = inject('pageAt')
  const open: { context: BrowserContext; page: Page; faults: string[] }[] = []

  beforeAll(async () => {
    browser = await chromium.connect(inject('chromiumAt'))
  })
  afterAll(async () => {
    await browser?.close()
  })
  afterEach(async ({ task }) => {
    const faults: string[] = []
    for (const one of open.splice(0)) {
      if (task.result?.state === 'fail') await keepPicture(one.page, task.name)
      await one.context.close()
      faults.push(...one.faults)
    }
    expect(faults, 'what the page complained of').toEqual([])
  })

  return async ({ width = 1280, height = 720, contrast, tracing = false, address = '', before } = {}) => {
    const context = await browser.newContext({ viewport: { width, height }, contrast: contrast ?? null })
    const page = await context.newPage()
    page.setDefaultTimeout(60_000)
    const faults: string[] = []
    page.on('console', (message) => {
      if (message.type() === 'error') faults.push(`console: ${message.text()}`)
    })
    page.on('pageerror', (error) => faults.push(`thrown: ${error.stack ?? error.message}`))
    await context.route(
      (url) => !url.href.startsWith(home),
      (route) => {
        faults.push(`asked for ${route.request().url()}: the page works without a network`)
        return route.abort()
      },
    )
    open.push({ context, page, faults })
    await before?.(page)
    await page.goto(home + address)
    await page.getByRole('tab', { name: 'Section' }).waitFor()
    if (!tracing) await rest(page)
    return page
  }
}

/** For whoever has to find out why: shots/ is not tracked. */
async function keepPicture(page: Page, name: string): Promise<void> {
  const folder = join(ROOT, 'shots')
  mkdirSync(folder, { recursive: true })
  const path = join(folder, `${name.replace(/[^a-z0-9]+/gi, '-').slice(0, 60)}.png`)
  await page.screenshot({ path }).catch(() => {})
}
