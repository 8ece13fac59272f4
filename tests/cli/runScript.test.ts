// The code that V8 compiled is kept beside a bundle, and never stands in the way: each start is a process of its own (a tenth of a second each).
import { execFileSync } from 'node:child_process'
import { mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { beforeEach, expect, test, vi } from 'vitest'
import { ROOT } from '../architecture/tree.ts'
import { scratch } from './kit.ts'

// Processes share the machine with every other test.
vi.setConfig({ testTimeout: 60_000 })

const SCRIPT = `(function (require, module, __url) {
const greet = () => require('node:path').basename(__url)
console.log(greet())
process.exitCode = Number(process.env.STATUS ?? 0)
})`

let folder: string
beforeEach(() => {
  folder = scratch()
  writeFileSync(join(folder, 'main.cjs'), SCRIPT)
})

const RUN = `import(${JSON.stringify(join(ROOT, 'scripts/runScript.mjs'))}).then((m) => m.runScript(process.argv[1], process.argv[2]))`
function run(use: string, { flags = [] as string[], env = {} } = {}): string {
  return execFileSync(process.execPath, [...flags, '-e', RUN, join(folder, 'main.cjs'), use], {
    encoding: 'utf8',
    env: { ...process.env, ...env },
  })
}
const caches = () => readdirSync(folder).filter((name) => name !== 'main.cjs')
const only = () => join(folder, caches()[0]!)

test('a second start runs what the first has compiled, and leaves it as it is; each use has its own', () => {
  expect(run('trace')).toBe('main.cjs\n')
  expect(caches()).toEqual([`main.cjs.${process.version}-${process.arch}-trace.cache`])
  const { ino, mtimeMs } = statSync(only())
  expect(run('trace')).toBe('main.cjs\n')
  // V8 would have rejected it, and it would have been written anew, if other flags held at its making than at its reading.
  expect(statSync(only())).toMatchObject({ ino, mtimeMs })
  run('--help')
  expect(caches()).toHaveLength(2)
})

test('damaged code, and code made under other flags, is made anew', () => {
  run('trace')
  const whole = readFileSync(only())
  const damaged = Buffer.from(whole)
  damaged[damaged.length - 5]! ^= 0xff
  for (const bytes of [damaged, whole.subarray(0, whole.length >> 1), Buffer.alloc(0)]) {
    writeFileSync(only(), bytes)
    expect(run('trace')).toBe('main.cjs\n')
    expect(readFileSync(only()).length).toBe(whole.length)
    expect(readFileSync(only()).equals(damaged)).toBe(false)
  }
  const { ino } = statSync(only())
  expect(run('trace', { flags: ['--no-lazy'] })).toBe('main.cjs\n')
  expect(statSync(only()).ino).not.toBe(ino)
})

test('where it can not be kept, the program runs all the same and leaves nothing half done', () => {
  run('trace')
  const name = only()
  rmSync(name)
  mkdirSync(join(name, 'in the way'), { recursive: true })
  expect(run('trace')).toBe('main.cjs\n')
  expect(caches()).toHaveLength(1)
})

test('a word that was refused leaves nothing', () => {
  expect(() => run('whatever', { env: { STATUS: '2' } })).toThrow()
  expect(caches()).toEqual([])
})
