// Bundles are kept between starts: the same files give the same bundle at once, an edit of any of them a new one.
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { runInNewContext } from 'node:vm'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { ROOT } from '../architecture/tree.ts'

const { bundle, stampOf, UNSURE } = (await import(join(ROOT, 'scripts/bundle.mjs'))) as {
  bundle: (entry: string, root: string, form?: 'module' | 'script') => Promise<string>
  stampOf: (path: string) => string
  UNSURE: string
}
const { stampedReader } = (await import(join(ROOT, 'scripts/makeBundle.mjs'))) as {
  stampedReader: (
    root: string,
    nowMs: number,
  ) => { textOf: (path: string) => string; stamps: () => Record<string, string> }
}

let root: string
const write = (path: string, text: string) => writeFileSync(join(root, path), text)
const texts = async () => {
  const path = await bundle('src/main.ts', root)
  const { words } = (await import(path)) as { words: string }
  return { path, words }
}
const retained = () => readdirSync(join(root, 'node_modules/.cache/lampwright')).sort()

beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), 'bundle-'))
  mkdirSync(join(root, 'src'))
  write(
    'src/main.ts',
    "import { part } from './part.ts'\nimport text from './a.wgsl?raw'\nexport const words = part + text\n",
  )
  write('src/part.ts', "export const part: string = 'one '\n")
  write('src/a.wgsl', 'two')
})
afterEach(() => rmSync(root, { recursive: true }))

test('used again while nothing changes, also by a file that is none of its own', async () => {
  const first = await texts()
  expect(first.words).toBe('one two')
  const made = statSync(first.path).mtimeMs
  write('src/other.ts', 'export const other = 1\n')
  expect(await texts()).toEqual(first)
  expect(statSync(first.path).mtimeMs).toBe(made)
})

test('an edit of the same length, with the old time put back, is seen; so is an edit undone', async () => {
  const first = await texts()
  const { atime, mtime } = statSync(join(root, 'src/part.ts'))
  write('src/part.ts', "export const part: string = 'six '\n")
  utimesSync(join(root, 'src/part.ts'), atime, mtime)
  expect((await texts()).words).toBe('six two')
  write('src/a.wgsl', 'ten')
  expect((await texts()).words).toBe('six ten')
  write('src/part.ts', "export const part: string = 'one '\n")
  write('src/a.wgsl', 'two')
  expect(await texts()).toEqual(first)
})

test('a file that goes away and one that comes in its place', async () => {
  await texts()
  rmSync(join(root, 'src/part.ts'))
  await expect(bundle('src/main.ts', root)).rejects.toThrow('part.ts')
  expect(retained()).toHaveLength(2)
  write('src/part.ts', "import { far } from './far.ts'\nexport const part: string = far\n")
  write('src/far.ts', "export const far = 'far '\n")
  expect((await texts()).words).toBe('far two')
})

test('several at once make one bundle and leave nothing half done', async () => {
  const paths = await Promise.all(Array.from({ length: 4 }, () => bundle('src/main.ts', root)))
  expect(new Set(paths).size).toBe(1)
  expect(readFileSync(paths[0]!, 'utf8')).toContain('two')
  expect(retained()).toEqual([expect.stringMatching(/^main-[0-9a-f]{20}$/), 'main.inputs.json'])
})

/** As the list stands once every file is old enough: all stamps sure. A folder of another name shows who found it. */
function fullList(path: string) {
  const cache = join(root, 'node_modules/.cache/lampwright')
  const list = JSON.parse(readFileSync(join(cache, 'main.inputs.json'), 'utf8')) as { stamps: Record<string, string> }
  const stamps = Object.fromEntries(Object.keys(list.stamps).map((name) => [name, stampOf(join(root, name))]))
  renameSync(dirname(path), join(cache, 'main-by-stamp'))
  writeFileSync(join(cache, 'main.inputs.json'), JSON.stringify({ ...list, stamps, folder: 'main-by-stamp' }))
}

test('while every stamp is the same, the list alone says which bundle', async () => {
  fullList((await texts()).path)
  expect((await texts()).path).toContain('main-by-stamp')
})

test('a stamp tells an edit of the same length with the old time put back, and a file that goes', async () => {
  // A whole second, which every file system keeps to the bit.
  const setOldTime = () => utimesSync(join(root, 'src/part.ts'), 1e9, 1e9)
  setOldTime()
  for (const edit of [
    () => {
      write('src/part.ts', "export const part: string = 'six '\n")
      setOldTime()
    },
    () => rmSync(join(root, 'src/part.ts')),
  ]) {
    fullList((await texts()).path)
    edit()
    const next = bundle('src/main.ts', root)
    if (existsSync(join(root, 'src/part.ts'))) expect(await next).not.toContain('main-by-stamp')
    else await expect(next).rejects.toThrow('part.ts')
    rmSync(join(root, 'node_modules/.cache/lampwright/main-by-stamp'), { recursive: true })
  }
})

test('a stamp is sure two seconds after the edit, not sooner: another edit might leave the same', () => {
  const { ctimeMs } = statSync(join(root, 'src/part.ts'))
  const stampAt = (nowMs: number) => {
    const reader = stampedReader(root, nowMs)
    reader.textOf('src/part.ts')
    return reader.stamps()['src/part.ts']
  }
  expect(stampAt(ctimeMs + 1999)).toBe(UNSURE)
  expect(stampAt(ctimeMs + 2001)).toBe(stampOf(join(root, 'src/part.ts')))
})

test('a file that is edited while a bundle is made is the same in all of it', () => {
  const reader = stampedReader(root, 0)
  const text = reader.textOf('src/part.ts')
  write('src/part.ts', 'another')
  expect(reader.textOf('src/part.ts')).toBe(text)
})

test('a list of another place or form, or of an earlier program, is no list', async () => {
  const { path } = await texts()
  fullList(path)
  const name = join(root, 'node_modules/.cache/lampwright/main.inputs.json')
  const list = JSON.parse(readFileSync(name, 'utf8')) as object
  for (const other of [{ ...list, root: '/elsewhere' }, { ...list, form: 'script' }, ['src/main.ts']]) {
    writeFileSync(name, JSON.stringify(other))
    expect((await texts()).path).toBe(path)
  }
})

test('as a script: a function of require, module and its address, all ASCII', async () => {
  write('src/main.ts', "const all = {\n  /** 20 °C */\n  words: '20 °C',\n}\nconsole.log(all.words, import.meta.url)\n")
  const path = await bundle('src/main.ts', root, 'script')
  const text = readFileSync(path, 'utf8')
  expect(Buffer.byteLength(text)).toBe(text.length)
  const logged: unknown[] = []
  runInNewContext(text, { console: { log: (...words: unknown[]) => logged.push(...words) } })(null, {}, 'here')
  expect(logged).toEqual(['20 °C', 'here'])
})
