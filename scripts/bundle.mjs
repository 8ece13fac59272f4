// Bundles TypeScript entries for Node into node_modules/.cache/lampwright, so that the command line and the scripts
// run on plain Node with no loader. The workers are always built beside them. A bundle lies in a folder named by the contents of every file
// that it was made from, and is used again only while all of them are the same.
import { createHash, randomUUID } from 'node:crypto'
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs'
import { basename, dirname, extname, join, relative } from 'node:path'
import { fileURLToPath } from 'node:url'

const ROOT = dirname(dirname(fileURLToPath(import.meta.url)))

const WORKERS = [
  'src/engine/workers/traceWorker.node.ts',
  'src/job/sweep/worker.node.ts',
  'src/job/beam/firstSheetWorker.node.ts',
]

/** What decides a bundle beside the files that are in it. */
const RECIPE = [
  'scripts/bundle.mjs',
  'package.json',
  'package-lock.json',
  'tsconfig.json',
  'node_modules/esbuild/package.json',
]

const KEPT_MS = 24 * 3600 * 1000

/** Bundle `entry` (a path below the repository) and give the path of the runnable module. */
export async function bundle(entry, root = ROOT) {
  const name = entry
    .replace(/^(src|scripts|tests)\//, '')
    .replace(/\//g, '-')
    .replace(/\.ts$/, '')
  const cache = join(root, 'node_modules/.cache/lampwright')
  const list = join(cache, `${name}.inputs.json`)
  const known = listed(list)
  const kept = known && join(cache, `${name}-${hashOf(root, known, (path) => textOf(root, path))}`)
  const folder = kept && isUsed(kept) ? kept : await built(root, entry, name, cache, list)
  return join(folder, `${name}.mjs`)
}

/** Null where there is no list, or half of one that a full disk left. */
function listed(path) {
  try {
    return JSON.parse(readFileSync(path, 'utf8'))
  } catch {
    return null
  }
}

/** Marks it as used now, where it is there. */
function isUsed(folder) {
  if (!existsSync(folder)) return false
  const now = new Date()
  try {
    utimesSync(folder, now, now)
  } catch {
    return existsSync(folder) // another user's, or gone this moment
  }
  return true
}

const textOf = (root, path) => (existsSync(join(root, path)) ? readFileSync(join(root, path), 'utf8') : '')

function hashOf(root, paths, text) {
  const hash = createHash('sha1').update(root)
  for (const path of paths) {
    const contents = text(path)
    hash.update(`\0${path}\0${contents.length}\0${contents}`)
  }
  return hash.digest('hex').slice(0, 20)
}

/** Written beside and then renamed: another process finds a whole bundle or none. */
async function built(root, entry, name, cache, list) {
  const own = join(cache, `${name}.${randomUUID()}`)
  mkdirSync(own, { recursive: true })
  // As they were when the bundle was made, whatever is edited meanwhile.
  const texts = new Map(RECIPE.map((path) => [path, textOf(root, path)]))
  try {
    await build(root, entry, name, own, texts)
  } catch (error) {
    rmSync(own, { recursive: true, force: true })
    throw error
  }
  const paths = [...texts.keys()].sort()
  const folder = join(cache, `${name}-${hashOf(root, paths, (path) => texts.get(path))}`)
  try {
    renameSync(own, folder)
  } catch (error) {
    if (!existsSync(folder)) throw error
    rmSync(own, { recursive: true, force: true }) // another process was first
  }
  writeFileSync(`${own}.json`, JSON.stringify(paths))
  renameSync(`${own}.json`, list)
  dropOld(cache)
  return folder
}

async function build(root, entry, name, outdir, texts) {
  const { build: run } = await import('esbuild')
  const entryPoints = [{ in: join(root, entry), out: name }]
  for (const worker of WORKERS) {
    const path = join(root, worker)
    if (existsSync(path)) entryPoints.push({ in: path, out: basename(worker, '.ts') })
  }
  await run({
    entryPoints,
    outdir,
    outExtension: { '.js': '.mjs' },
    bundle: true,
    format: 'esm',
    platform: 'node',
    target: 'node20',
    minifySyntax: true, // puts the record offsets into the code as numbers
    logLevel: 'error',
    plugins: [readBy(root, texts)],
    external: ['webgpu', 'assemblyscript', 'vite', 'playwright-core'],
    banner: { js: "import { createRequire as __cr } from 'node:module'; const require = __cr(import.meta.url);" },
    define: { __ROOT__: JSON.stringify(root) },
  })
}

const LOADERS = { '.ts': 'ts', '.tsx': 'tsx', '.json': 'json' }

/** Every file is read here and noted in `texts`. A shader is a text, named as Vite names it: './a.wgsl?raw'. */
const readBy = (root, texts) => ({
  name: 'read',
  setup(bundler) {
    const read = (path, loader) => {
      const contents = readFileSync(path, 'utf8')
      texts.set(relative(root, path), contents)
      return { contents, loader }
    }
    bundler.onResolve({ filter: /\?raw$/ }, (args) => ({
      path: join(args.resolveDir, args.path.slice(0, -'?raw'.length)),
      namespace: 'raw',
    }))
    bundler.onLoad({ filter: /.*/, namespace: 'raw' }, ({ path }) => read(path, 'text'))
    bundler.onLoad({ filter: /.*/ }, ({ path }) => read(path, LOADERS[extname(path)] ?? 'js'))
  },
})

/** Bundles that no running process is likely to start a worker from. */
function dropOld(cache) {
  for (const name of readdirSync(cache)) {
    const path = join(cache, name)
    const age = Date.now() - (statSync(path, { throwIfNoEntry: false })?.mtimeMs ?? Date.now())
    if (age > KEPT_MS && !name.endsWith('.inputs.json')) rmSync(path, { recursive: true, force: true })
  }
}
