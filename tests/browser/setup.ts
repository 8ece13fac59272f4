// Once for the whole suite: the page is built and served, and one Chromium is started. The test files connect to it.
import { execFile } from 'node:child_process'
import { createHash } from 'node:crypto'
import { existsSync, readdirSync, statSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { promisify } from 'node:util'
import { chromium } from 'playwright-core'
import type { TestProject } from 'vitest/node'
import { serve } from './serve.ts'

const ROOT = dirname(dirname(dirname(fileURLToPath(import.meta.url))))
/** Of this working tree alone: several may share one node_modules. */
const TREE = createHash('sha256').update(ROOT).digest('hex').slice(0, 8)
const BUILT = join(ROOT, `node_modules/.cache/lampwright-page-${TREE}`)

/** Without a graphics card, and as root: what a build machine is. */
const ARGS = [
  ...['--no-sandbox', '--disable-quic', '--no-first-run', '--disable-background-networking'],
  ...['--disable-component-update', '--disable-sync', '--disable-dev-shm-usage'],
  ...['--use-angle=swiftshader', '--enable-unsafe-swiftshader'],
  ...['--enable-unsafe-webgpu', '--use-webgpu-adapter=swiftshader', '--enable-features=Vulkan'],
  // Where the processor plays the graphics card for the page itself, a frame costs ten times as much. WebGL and WebGPU keep it.
  '--disable-gpu-compositing',
  // Each page and each of its workers compiles anew what it runs, and most last for seconds: the last compiler's work is more than it saves.
  '--js-flags=--no-turbofan',
]

declare module 'vitest' {
  interface ProvidedContext {
    /** Where Chromium listens. */
    chromiumAt: string
    /** The page's address. */
    pageAt: string
    /** Its folder. */
    pageIn: string
  }
}

export default async function setup({ provide }: TestProject): Promise<() => Promise<void>> {
  await build()
  const server = await serve(BUILT)
  const browser = await chromium.launchServer({ executablePath: chromiumPath(), args: ARGS, host: '127.0.0.1' })
  provide('chromiumAt', browser.wsEndpoint())
  provide('pageAt', server.at)
  provide('pageIn', BUILT)
  return async () => {
    await browser.close()
    server.close()
  }
}

function chromiumPath(): string {
  const places = [
    process.env['CHROMIUM'],
    '/usr/bin/chromium-headless-shell',
    '/usr/bin/chromium',
    '/usr/bin/chromium-browser',
    '/usr/bin/google-chrome',
  ]
  const found = places.find((path) => path && existsSync(path))
  if (!found) throw new Error('No Chromium found: install the package chromium, or set CHROMIUM to the program.')
  return found
}

/** Builds the page as it is shipped, unless the last build is newer than every source. */
async function build(): Promise<void> {
  const sources = ['src', 'shaders', 'public', 'scripts/offline', 'index.html', 'vite.config.ts', 'package-lock.json']
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
