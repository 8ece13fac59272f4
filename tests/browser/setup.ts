// Once for the whole suite: the page is built and served, and one Chromium is started. The test files connect to it.
import { execFile } from 'node:child_process'
import { existsSync, readdirSync, statSync } from 'node:fs'
import { readFile } from 'node:fs/promises'
import { createServer, type Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { dirname, extname, join, normalize } from 'node:path'
import { fileURLToPath } from 'node:url'
import { promisify } from 'node:util'
import { chromium } from 'playwright-core'
import type { TestProject } from 'vitest/node'
import { pagePolicy } from '../kit/pagePolicy.ts'

const ROOT = dirname(dirname(dirname(fileURLToPath(import.meta.url))))
const BUILT = join(ROOT, 'node_modules/.cache/lampwright-page')

/** Without a graphics card, and as root: what a build machine is. */
const ARGS = [
  ...['--no-sandbox', '--disable-quic', '--no-first-run', '--disable-background-networking'],
  ...['--disable-component-update', '--disable-sync', '--disable-dev-shm-usage'],
  ...['--use-angle=swiftshader', '--enable-unsafe-swiftshader'],
  ...['--enable-unsafe-webgpu', '--use-webgpu-adapter=swiftshader', '--enable-features=Vulkan'],
  // Where the processor plays the graphics card for the page itself, a frame costs ten times as much. WebGL and WebGPU keep it.
  '--disable-gpu-compositing',
]

declare module 'vitest' {
  interface ProvidedContext {
    /** Where Chromium listens. */
    chromiumAt: string
    /** The page's address. */
    pageAt: string
  }
}

export default async function setup({ provide }: TestProject): Promise<() => Promise<void>> {
  await build()
  const server = await serve(BUILT)
  const browser = await chromium.launchServer({ executablePath: chromiumPath(), args: ARGS, host: '127.0.0.1' })
  provide('chromiumAt', browser.wsEndpoint())
  provide('pageAt', `http://127.0.0.1:${(server.address() as AddressInfo).port}/`)
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
  const policy = pagePolicy()
  const server = createServer(async (request, response) => {
    const path = normalize(decodeURIComponent(new URL(request.url ?? '/', 'http://x').pathname))
    try {
      const body = await readFile(join(folder, path.endsWith('/') ? `${path}index.html` : path))
      response.writeHead(200, {
        'content-type': TYPES[extname(path)] ?? TYPES['.html'],
        'content-security-policy': policy,
      })
      response.end(body)
    } catch {
      response.writeHead(404).end()
    }
  })
  return new Promise((resolve) => server.listen(0, '127.0.0.1', () => resolve(server)))
}
