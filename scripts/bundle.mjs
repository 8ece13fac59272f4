// Bundles TypeScript entries for Node into node_modules/.cache/lampwright, so that the command line and the scripts
// run on plain Node with no loader. The workers are always built beside them.
import { existsSync, mkdirSync, readFileSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { build } from 'esbuild'

const root = dirname(dirname(fileURLToPath(import.meta.url)))
const outdir = join(root, 'node_modules/.cache/lampwright')

const WORKERS = [
  'src/engine/workers/traceWorker.node.ts',
  'src/job/sweep/worker.node.ts',
  'src/job/beam/firstSheetWorker.node.ts',
]

/** A shader as a text, named as Vite names it: './a.wgsl?raw'. */
const rawText = {
  name: 'raw text',
  setup(bundler) {
    bundler.onResolve({ filter: /\?raw$/ }, (args) => ({
      path: join(args.resolveDir, args.path.slice(0, -'?raw'.length)),
      namespace: 'raw',
    }))
    bundler.onLoad({ filter: /.*/, namespace: 'raw' }, (args) => ({
      contents: readFileSync(args.path, 'utf8'),
      loader: 'text',
    }))
  },
}

/** Bundle `entry` (a path below the repository) and give the path of the runnable module. */
export async function bundle(entry) {
  mkdirSync(outdir, { recursive: true })
  const name = entry
    .replace(/^(src|scripts|tests)\//, '')
    .replace(/\//g, '-')
    .replace(/\.ts$/, '')
  const entryPoints = [{ in: join(root, entry), out: name }]
  for (const worker of WORKERS) {
    const path = join(root, worker)
    if (existsSync(path)) entryPoints.push({ in: path, out: basename(worker, '.ts') })
  }
  await build({
    entryPoints,
    outdir,
    outExtension: { '.js': '.mjs' },
    bundle: true,
    format: 'esm',
    platform: 'node',
    target: 'node20',
    minifySyntax: true, // puts the record offsets into the code as numbers
    logLevel: 'error',
    plugins: [rawText],
    external: ['webgpu', 'assemblyscript', 'vite', 'playwright-core'],
    banner: { js: "import { createRequire as __cr } from 'node:module'; const require = __cr(import.meta.url);" },
    define: { __ROOT__: JSON.stringify(root) },
  })
  return join(outdir, `${name}.mjs`)
}
