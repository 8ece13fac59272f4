// What the command line writes is whole or not there; what stands there stays. Streams that take nothing more are no success.
import { execFile } from 'node:child_process'
import {
  chmodSync,
  closeSync,
  cpSync,
  existsSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs'
import { join } from 'node:path'
import { expect, test, vi } from 'vitest'
import { expectWritable, writeFile } from '../../src/cli/writeFile.ts'
import { traceInNode } from '../../src/job/service/node.ts'
import { benchCheck } from '../../src/library/demos.ts'
import { LampFault } from '../../src/run/validate.ts'
import { ROOT } from '../architecture/tree.ts'
import { lampwright, scratch } from './kit.ts'

vi.setConfig({ testTimeout: 180_000 })

test('written beside and renamed: another file takes the place, with the old one’s mode, through a link, and nothing is left', () => {
  const folder = scratch()
  const path = join(folder, 'a.csv')
  writeFile(path, 'one', false)
  chmodSync(path, 0o640)
  symlinkSync(path, join(folder, 'link'))
  const reader = openSync(path, 'r')
  writeFile(join(folder, 'link'), 'two', true)
  expect(readFileSync(reader, 'utf8')).toBe('one')
  closeSync(reader)
  expect(readFileSync(path, 'utf8')).toBe('two')
  expect(statSync(path).mode & 0o777).toBe(0o640)
  expect(readdirSync(folder).sort()).toEqual(['a.csv', 'link'])
})

test('what is there stays without --force; a device is written to as it is', () => {
  const folder = scratch()
  const path = join(folder, 'a')
  writeFileSync(path, 'one')
  for (const act of [() => writeFile(path, 'two', false), () => expectWritable(path, false)])
    expect(act).toThrow(`${path} is there already and stays as it is; --force writes over it.`)
  expect(() => expectWritable(folder, true)).toThrow('is a folder')
  expect(() => expectWritable(join(folder, 'no', 'a'), false)).toThrow('there is no such folder')
  expectWritable(join(folder, 'b'), false)
  expectWritable(path, true)
  expect(readFileSync(path, 'utf8')).toBe('one')
  expect(readdirSync(folder)).toEqual(['a'])
  writeFile('/dev/null', 'gone', false)
  expect(() => writeFile('/dev/full', 'x', true)).toThrow('the disk is full')
})

test('sweep --csv leaves a file that is there, unless it may write over it', async () => {
  const path = join(scratch(), 'a.csv')
  writeFileSync(path, 'dear')
  const args = ['sweep', 'bench-check', '--vary', 'lens.zMm=200,210', '--csv', path]
  const refused = await lampwright(args)
  expect(refused).toMatchObject({
    status: 2,
    out: '',
    err: `${path} is there already and stays as it is; --force writes over it.\n`,
  })
  expect(refused.swept).toBeUndefined()
  expect(readFileSync(path, 'utf8')).toBe('dear')
  expect((await lampwright([...args, '--force'])).status).toBe(0)
  expect(readFileSync(path, 'utf8')).toMatch(/^lens/i)
})

test('a name that is not UTF-8 is refused, in words', async () => {
  expect(await lampwright(['trace', 'caf\uFFFD.json'])).toMatchObject({
    status: 2,
    err: 'caf\uFFFD.json holds bytes that are not UTF-8; rename the file and name it again.\n',
  })
})

test('a name with control characters does not steer the terminal', async () => {
  expect((await lampwright(['trace', 'a\u001b[2J.json'])).err).toBe('No file or example called a[2J.json.\n')
})

test('a lamp without boards, or without current, gives no light: a fault of the lamp, in one sentence', async () => {
  const base = benchCheck()
  for (const boards of [[], base.boards.map((b) => ({ ...b, currentA: 0 }))]) {
    const traced = traceInNode(
      { ...base, boards },
      { maxRays: 1024, seed: 1, threads: 0, precision: 0, background: false },
    )
    await expect(traced).rejects.toThrow(LampFault)
    await expect(traced).rejects.toThrow(/^The lamp gives no light: [^.]+\.$/)
  }
})

const shell = (command: string, root = ROOT) =>
  new Promise<{ status: number; err: string }>((resolve) => {
    execFile('/bin/sh', ['-c', command], { cwd: root }, (error, _out, err) =>
      resolve({ status: error ? Number(error.code) : 0, err }),
    )
  })

test.runIf(existsSync('/dev/full'))('a full stdout is no success', async () => {
  expect(await shell(`'${process.execPath}' scripts/lampwright.mjs --help > /dev/full`)).toEqual({
    status: 2,
    err: 'Not all could be written to stdout: the disk is full.\n',
  })
})

test('command lines that start at once, with no bundle there, all find a whole one', async () => {
  const root = scratch()
  for (const part of ['scripts', 'package.json', 'package-lock.json', 'tsconfig.json'])
    cpSync(join(ROOT, part), join(root, part), { recursive: true })
  mkdirSync(join(root, 'node_modules'))
  symlinkSync(join(ROOT, 'node_modules/esbuild'), join(root, 'node_modules/esbuild'))
  mkdirSync(join(root, 'src/cli'), { recursive: true })
  writeFileSync(join(root, 'src/cli/main.ts'), "console.log('whole')\n")
  const all = await Promise.all(
    Array.from({ length: 4 }, () => shell(`'${process.execPath}' scripts/lampwright.mjs`, root)),
  )
  expect(all).toEqual(all.map(() => ({ status: 0, err: '' })))
  // Half a list, as a full disk leaves it.
  writeFileSync(join(root, 'node_modules/.cache/lampwright/cli-main.inputs.json'), '["scri')
  expect(await shell(`'${process.execPath}' scripts/lampwright.mjs`, root)).toEqual({ status: 0, err: '' })
  expect(readdirSync(join(root, 'node_modules/.cache/lampwright'))).toHaveLength(2)
})
