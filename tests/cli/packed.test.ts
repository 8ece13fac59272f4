// An installed copy: the bundle beside lampwright.mjs, with no sources and no bundler.
import { execFileSync } from 'node:child_process'
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { writeLampText } from '../../src/lamp/read.ts'
import { stileLamp } from '../../src/library/demos.ts'
import { ROOT } from '../architecture/tree.ts'
import { sunless } from '../kit/sunless.ts'

const { build, stampedReader } = (await import(join(ROOT, 'scripts/makeBundle.mjs'))) as {
  stampedReader: (root: string, nowMs: number) => unknown
  build: (root: string, entry: string, form: 'script', name: string, outdir: string, reader: unknown) => Promise<void>
}
const about = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as {
  version: string
  bin: { lampwright: string }
  files: string[]
}

let folder: string
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'packed-'))
  mkdirSync(join(folder, 'node_modules/lampwright/dist/cli'), { recursive: true })
  const home = join(folder, 'node_modules/lampwright')
  for (const path of about.files)
    if (!path.startsWith('dist')) cpSync(join(ROOT, path), join(home, path), { recursive: true })
  await build(ROOT, 'src/cli/main.ts', 'script', 'cli-main', join(home, 'dist/cli'), stampedReader(ROOT, 0))
  symlinkSync(join(ROOT, 'node_modules/@cantoo'), join(folder, 'node_modules/@cantoo'))
})
afterAll(() => rmSync(folder, { recursive: true }))

const run = (...args: string[]) =>
  execFileSync(process.execPath, [join(folder, 'node_modules/lampwright', about.bin.lampwright), ...args], {
    cwd: folder,
    encoding: 'utf8',
  })

test('starts, traces in threads of its own, and writes a PDF by a package beside it', () => {
  expect(run('--version')).toBe(`lampwright ${about.version}\n`)
  writeFileSync(join(folder, 'stile.lamp.json'), writeLampText(sunless(stileLamp())))
  expect(run('trace', 'stile.lamp.json', '--rays', '20000', '--threads', '2')).toContain(
    '20,000 rays, seed 1, 2 threads',
  )
  run('draw', 'bench-check', '--sheet', 'face', '--out', 'face.pdf')
  expect(readFileSync(join(folder, 'face.pdf'), 'latin1').slice(0, 5)).toBe('%PDF-')
})
