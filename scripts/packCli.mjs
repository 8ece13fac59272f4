// npm pack: bundles the command line into dist/cli, so that an installed copy starts without sources and without a bundler.
import { mkdirSync, rmSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { build, stampedReader } from './makeBundle.mjs'

const ROOT = dirname(dirname(fileURLToPath(import.meta.url)))
const folder = join(ROOT, 'dist/cli')

rmSync(folder, { recursive: true, force: true })
mkdirSync(folder, { recursive: true })
// The name that lampwright.mjs looks for.
await build(ROOT, 'src/cli/main.ts', 'script', 'cli-main', folder, stampedReader(ROOT, Number.NEGATIVE_INFINITY))
