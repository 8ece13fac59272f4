// The built page, served, and a Chromium to open it.
import { createHash } from 'node:crypto'
import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { type Browser, chromium } from 'playwright-core'
import { build, preview } from 'vite'

/** `--disable-gpu-compositing`: the processor draws the page itself, at a tenth of what it costs to play a graphics card for it. */
const WITHOUT_CARD = ['--disable-gpu-compositing']
const WITH_CARD = ['--use-angle=vulkan', '--enable-features=Vulkan', '--enable-unsafe-webgpu', '--ignore-gpu-blocklist']
const ARGS = [
  ...['--no-sandbox', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-sync'],
  '--disable-dev-shm-usage',
]

export interface ServedPage {
  browser: Browser
  at: string
  /** The folder that it is served from. */
  outDir: string
}

/** `work` gets the page's address and a browser; both are closed after it. `card`: the browser draws and computes on the machine's graphics card. */
export async function withServedPage<T>(work: (page: ServedPage) => Promise<T>, card = false): Promise<T> {
  // Several working trees may share one node_modules.
  const tree = createHash('sha256').update(process.cwd()).digest('hex').slice(0, 8)
  const outDir = join(process.cwd(), `node_modules/.cache/lampwright-bench-${tree}`)
  await build({ logLevel: 'error', build: { outDir, emptyOutDir: true } })
  const server = await preview({ logLevel: 'error', build: { outDir }, preview: { port: 0, host: '127.0.0.1' } })
  const args = [...ARGS, ...(card ? WITH_CARD : WITHOUT_CARD)]
  const browser = await chromium.launch({ executablePath: chromiumPath(), args })
  try {
    return await work({ browser, at: server.resolvedUrls?.local[0] ?? '', outDir })
  } finally {
    await browser.close()
    await new Promise((closed) => server.httpServer.close(closed))
  }
}

function chromiumPath(): string {
  const places = [process.env['CHROMIUM'] ?? '', '/usr/bin/chromium-headless-shell', '/usr/bin/chromium']
  return places.find((path) => path !== '' && existsSync(path)) ?? '/usr/bin/chromium'
}
