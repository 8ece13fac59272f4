// The built page in a real Chromium. Each test has a browser context of its own: no stored lamps, no other test's page.
import { execFile } from 'node:child_process'
import { existsSync, mkdirSync, readdirSync, statSync } from 'node:fs'
import { readFile } from 'node:fs/promises'
import { createServer, type Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { dirname, extname, join, normalize } from 'node:path'
import { fileURLToPath } from 'node:url'
import { promisify } from 'node:util'
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, expect } from 'vitest'
import { rest } from './hands.ts'

const ROOT = dirname(dirname(dirname(fileURLToPath(import.meta.url))))
const BUILT = join(ROOT, 'node_modules/.cache/lampwright-page')

/** Without a graphics card, and as root: what a build machine is. */
const ARGS = [
  ...['--no-sandbox', '--disable-quic', '--no-first-run', '--disable-background-networking'],
  ...['--disable-component-update', '--disable-sync', '--disable-dev-shm-usage'],
  ...['--use-angle=swiftshader', '--enable-unsafe-swiftshader'],
  ...['--enable-unsafe-webgpu', '--use-webgpu-adapter=swiftshader', '--enable-features=Vulkan'],
]

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
  let server: Server
  let home: string
  const open: { context: BrowserContext; page: Page; faults: string[] }[] = []

  beforeAll(async () => {
    await build()
    server = await serve(BUILT)
    home = `http://127.0.0.1:${(server.address() as AddressInfo).port}/`
    browser = await chromium.launch({ executablePath: chromiumPath(), args: ARGS })
  })
  afterAll(async () => {
    await browser?.close()
    server?.close()
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

export function chromiumPath(): string {
  const places = [process.env['CHROMIUM'], '/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome']
  const found = places.find((path) => path && existsSync(path))
  if (!found) throw new Error('No Chromium found: install the package chromium, or set CHROMIUM to the program.')
  return found
}

/** Builds the page as it is shipped, unless the last build is newer than every source. */
async function build(): Promise<void> {
  const sources = ['src', 'shaders', 'public', 'index.html', 'vite.config.ts', 'package-lock.json']
  const built = join(BUILT, 'index.html')
  if (existsSync(built) && statSync(built).mtimeMs > Math.max(...sources.map((s) => newest(join(ROOT, s))))) return
  const vite = join(ROOT, 'node_modules/vite/bin/vite.js')
  const args = [vite, 'build', '--outDir', BUILT, '--emptyOutDir', '--logLevel', 'error']
  await promisify(execFile)(process.execPath, args, { cwd: ROOT, env: { ...process.env, NODE_ENV: 'production' } })
}

function newest(path: string): number {
  if (!existsSync(path)) return 0
  const { mtimeMs } = statSync(path)
  if (!statSync(path).isDirectory()) return mtimeMs
  return Math.max(mtimeMs, ...readdirSync(path).map((name) => newest(join(path, name))))
}

const TYPES: Record<string, string> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.wasm': 'application/wasm',
  '.woff2': 'font/woff2',
}

function serve(folder: string): Promise<Server> {
  const server = createServer(async (request, response) => {
    const path = normalize(decodeURIComponent(new URL(request.url ?? '/', 'http://x').pathname))
    try {
      const body = await readFile(join(folder, path.endsWith('/') ? `${path}index.html` : path))
      response.writeHead(200, { 'content-type': TYPES[extname(path)] ?? TYPES['.html'] })
      response.end(body)
    } catch {
      response.writeHead(404).end()
    }
  })
  return new Promise((resolve) => server.listen(0, '127.0.0.1', () => resolve(server)))
}

/** For whoever has to find out why: shots/ is not tracked. */
async function keepPicture(page: Page, name: string): Promise<void> {
  const folder = join(ROOT, 'shots')
  mkdirSync(folder, { recursive: true })
  const path = join(folder, `${name.replace(/[^a-z0-9]+/gi, '-').slice(0, 60)}.png`)
  await page.screenshot({ path }).catch(() => {})
}
