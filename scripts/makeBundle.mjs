// Finds the bundle by the contents of its files, or makes it; and lists their stamps for the next start (bundle.mjs).
import { createHash, randomUUID } from 'node:crypto'
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { basename, extname, join, relative } from 'node:path'
import { isUsed, stampOf, UNSURE } from './bundle.mjs'

const WORKERS = [
  'src/engine/workers/traceWorker.node.ts',
  'src/job/sweep/worker.node.ts',
  'src/job/choose/evaluateWorker.node.ts',
  'src/job/fit/fitWorker.node.ts',
  'src/job/compare/columnWorker.node.ts',
  'src/job/wish/wishWorker.node.ts',
  'src/job/beam/firstSheetWorker.node.ts',
  'src/job/beam/sunWorker.node.ts',
  'src/job/beam/frontWorker.node.ts',
]

/** What decides a bundle beside the files that are in it. */
const RECIPE = [
  'scripts/makeBundle.mjs',
  'package.json',
  'package-lock.json',
  'tsconfig.json',
  'node_modules/esbuild/package.json',
]

const KEPT_MS = 24 * 3600 * 1000

/**
 * A file changed less than this before its stamp was taken may be edited again within the same tick of the file system's clock, to the same
 * stamp. The coarsest tick in use is FAT's, two seconds (Microsoft, FAT32 File System Specification 1.03, from memory).
 */
const TICK_MS = 2000

/**
 * The folder of the bundle. `known`: the files that it was made from when it was last made, or null. Throws as esbuild does where it
 * can't be built.
 */
export async function sameOrBuilt({ entry, root, form, name, cache, known }) {
  const own = join(cache, `${name}.${randomUUID()}`)
  const reader = stampedReader(root, clockMs(cache, `${own}.json`))
  try {
    const read = known && folderOf(root, form, name, known, reader.textOf)
    const folder =
      read && isUsed(join(cache, read)) ? read : await built({ entry, root, form, name, cache, own, reader })
    writeList(`${own}.json`, join(cache, `${name}.inputs.json`), { root, form, folder, stamps: reader.stamps() })
    return folder
  } finally {
    rmSync(`${own}.json`, { force: true })
  }
}

/** The file system's own time: of another machine's disk it may differ from ours. Minus infinity where nothing can be written. */
function clockMs(cache, path) {
  try {
    mkdirSync(cache, { recursive: true })
    writeFileSync(path, '')
    return statSync(path).mtimeMs
  } catch {
    return Number.NEGATIVE_INFINITY
  }
}

/**
 * Reads files and notes each with the stamp that it had before it was read; a file that is asked for again is as it was. `nowMs`: a time
 * before the first is read.
 */
export function stampedReader(root, nowMs) {
  let noted = new Map()
  const read = (path, otherwise) => {
    const name = relative(root, path)
    if (noted.has(name)) return noted.get(name).text
    const stamp = stampOf(path)
    const safe = stamp === 'absent' || Number.parseFloat(stamp) < nowMs - TICK_MS
    const text = otherwise === undefined || existsSync(path) ? readFileSync(path, 'utf8') : otherwise
    noted.set(name, { text, stamp: safe ? stamp : UNSURE })
    return text
  }
  return {
    read,
    textOf: (path) => read(join(root, path), ''),
    forget: () => {
      noted = new Map()
    },
    paths: () => [...noted.keys()].sort(),
    noted: (path) => noted.get(path).text,
    stamps: () => Object.fromEntries([...noted].map(([path, { stamp }]) => [path, stamp])),
  }
}

function folderOf(root, form, name, paths, text) {
  const hash = createHash('sha1').update(`${root}\0${form}`)
  for (const path of paths) {
    const contents = text(path)
    hash.update(`\0${path}\0${contents.length}\0${contents}`)
  }
  return `${name}-${hash.digest('hex').slice(0, 20)}`
}

/** Written beside and then renamed: another process finds a whole bundle or none. */
async function built({ entry, root, form, name, cache, own, reader }) {
  mkdirSync(own, { recursive: true })
  reader.forget()
  // As they were when the bundle was made, whatever is edited meanwhile.
  for (const path of RECIPE) reader.textOf(path)
  try {
    await build(root, entry, form, name, own, reader)
  } catch (error) {
    rmSync(own, { recursive: true, force: true })
    throw error
  }
  const folder = folderOf(root, form, name, reader.paths(), reader.noted)
  try {
    renameSync(own, join(cache, folder))
  } catch (error) {
    if (!existsSync(join(cache, folder))) throw error
    rmSync(own, { recursive: true, force: true }) // another process was first
  }
  dropOld(cache)
  return folder
}

/** Without a list the next start builds anew, so a disk too full for it stops nothing. */
function writeList(own, path, list) {
  // In the order in which they are hashed.
  const stamps = Object.fromEntries(Object.entries(list.stamps).sort(([a], [b]) => (a < b ? -1 : 1)))
  try {
    writeFileSync(own, JSON.stringify({ ...list, stamps }))
    renameSync(own, path)
  } catch {
    // `own` is removed by the caller
  }
}

/** Writes the bundle and its workers into `outdir`. */
export async function build(root, entry, form, name, outdir, reader) {
  const { build: run } = await import('esbuild')
  const shared = {
    outdir,
    bundle: true,
    platform: 'node',
    target: 'node20',
    minifySyntax: true, // puts the record offsets into the code as numbers
    logLevel: 'error',
    plugins: [readBy(reader)],
    external: OUTSIDE,
  }
  const main = { in: join(root, entry), out: name }
  const workers = WORKERS.filter((path) => existsSync(join(root, path))).map((path) => ({
    in: join(root, path),
    out: basename(path, '.ts'),
  }))
  const define = { __ROOT__: JSON.stringify(root) }
  const asModule = {
    ...shared,
    define,
    format: 'esm',
    outExtension: { '.js': '.mjs' },
    banner: { js: "import { createRequire as __cr } from 'node:module'; const require = __cr(import.meta.url);" },
  }
  if (form === 'module') return run({ ...asModule, entryPoints: [main, ...workers] })
  if (workers.length > 0) await run({ ...asModule, entryPoints: workers })
  await run({
    ...shared,
    entryPoints: [main],
    define: { ...define, 'import.meta.url': '__url' },
    format: 'cjs',
    outExtension: { '.js': '.cjs' },
    minifyWhitespace: true, // without comments all of it is ASCII, which runScript.mjs reads as it is
    legalComments: 'none',
    lineLimit: 160, // a crash prints its line
    banner: { js: '(function (require, module, __url, __import) {' },
    footer: { js: '})' },
  })
  const path = join(outdir, `${name}.cjs`)
  writeFileSync(path, withImporter(readFileSync(path, 'utf8')))
}

/** Packages left out of a bundle are imported by whoever runs it: a script out of V8's code cache can't import (runScript.mjs). */
export const withImporter = (code) => code.replace(/(?<![\w$.'"`])import\((?=["'\w$])/g, '__import(')

/** Large, and for few commands: loaded when they are asked for. */
const OUTSIDE = [
  ...['webgpu', 'assemblyscript', 'vite', 'playwright-core'],
  ...['manifold-3d', '@gltf-transform/core', '@cantoo/pdf-lib', '@cantoo/fontkit'],
]

const LOADERS = { '.ts': 'ts', '.tsx': 'tsx', '.json': 'json' }

/** Every file is read by `reader`. A shader is a text, named as Vite names it: './a.wgsl?raw'. */
const readBy = (reader) => ({
  name: 'read',
  setup(bundler) {
    const load = (path, loader) => ({ contents: reader.read(path), loader })
    bundler.onResolve({ filter: /\?raw$/ }, (args) => ({
      path: join(args.resolveDir, args.path.slice(0, -'?raw'.length)),
      namespace: 'raw',
    }))
    bundler.onLoad({ filter: /.*/, namespace: 'raw' }, ({ path }) => load(path, 'text'))
    bundler.onLoad({ filter: /.*/ }, ({ path }) => load(path, LOADERS[extname(path)] ?? 'js'))
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
