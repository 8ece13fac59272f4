// Bundles are kept between starts: the same files give the same bundle at once, an edit of any of them a new one.
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, utimesSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { ROOT } from '../architecture/tree.ts'

const { bundle } = (await import(join(ROOT, 'scripts/bundle.mjs'))) as {
  bundle: (entry: string, root: string) => Promise<string>
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
