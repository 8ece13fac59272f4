// Writes the service worker beside the built page: its text, the files that it keeps, and a version that is another one when any of them is.
import { createHash } from 'node:crypto'
import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join, relative, sep } from 'node:path'
import type { Plugin } from 'vite'

/** What the page never asks for, and the page itself, which is asked for by its folder: some servers answer `index.html` with another address. */
const isKept = (path: string): boolean =>
  !/^(screenshot\.png|lamp\.schema\.json|examples\/.*|service-worker\.js)$/.test(path)

export const offline = (): Plugin => {
  let folder = ''
  return {
    name: 'offline',
    apply: 'build',
    configResolved: (config) => {
      folder = join(config.root, config.build.outDir)
      if (config.build.outDir.startsWith(sep)) folder = config.build.outDir
    },
    closeBundle: {
      order: 'post',
      handler: () => writeFileSync(join(folder, 'service-worker.js'), serviceWorkerFor(folder)),
    },
  }
}

/** The text of the service worker for what stands in a folder. */
export function serviceWorkerFor(folder: string): string {
  const paths = readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).split(sep).join('/'))
  const files = paths
    .filter(isKept)
    .sort()
    .map((path) => [path === 'index.html' ? './' : path, `sha256-${hashOf(readFileSync(join(folder, path)))}`])
  const text = readFileSync(new URL('./serviceWorker.js', import.meta.url), 'utf8')
  const version = createHash('sha256').update(text).update(JSON.stringify(files)).digest('hex').slice(0, 16)
  return text.replace('__VERSION__', version).replace('__FILES__', JSON.stringify(files, null, 1))
}

const hashOf = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('base64')
