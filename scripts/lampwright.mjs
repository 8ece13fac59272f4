#!/usr/bin/env node
// The command line: bundles src/cli/main.ts, unless nothing has changed since, and runs it with the arguments given. A packed copy has no sources,
// but the bundle itself (packCli.mjs).
import { existsSync } from 'node:fs'
import { fileURLToPath } from 'node:url'

// First of all, so that Ctrl+C ends it the same way at any moment: a clear line (a bar may stand there), status 128 + SIGINT.
process.on('SIGINT', () => {
  if (process.stderr.isTTY) process.stderr.write('\r\x1b[K')
  process.exit(130)
})

const { runScript } = await import('./runScript.mjs')
const packed = fileURLToPath(new URL('../dist/cli/cli-main.cjs', import.meta.url))
const hasSources = existsSync(new URL('../src/cli/main.ts', import.meta.url))
const out = hasSources ? await bundled() : packed
const args = process.argv.slice(2)
process.argv = [process.argv[0], out, ...args]
runScript(out, args[0] ?? '')

async function bundled() {
  const { bundle } = await import('./bundle.mjs')
  return bundle('src/cli/main.ts', undefined, 'script')
}
