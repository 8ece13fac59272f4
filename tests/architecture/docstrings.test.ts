// Every exported function of the physics says what it returns, in which units, when it fails, and from which source.
import { describe, expect, test } from 'vitest'
import { exportedFunctionsOf } from './syntax.ts'
import { sources, textOf } from './tree.ts'

const ROOMS = ['num', 'optics', 'run', 'scene', 'heat', 'power', 'beam', 'hazard', 'readings', 'electrothermal']

const undocumented = (path: string, text: string) =>
  exportedFunctionsOf(path, text)
    .filter(({ documented }) => !documented)
    .map(({ name, line }) => `${path}:${line} ${name}`)

describe('a doc comment stands directly before every exported function', () => {
  test.each(ROOMS)('src/%s', (room) => {
    const paths = sources(`src/${room}/`)
    expect(paths.flatMap((path) => exportedFunctionsOf(path, textOf(path))).length).toBeGreaterThan(3)
    expect(
      paths.flatMap((path) => undocumented(path, textOf(path))),
      'say what it returns, units and shapes, the valid range, what happens outside it, and the source',
    ).toEqual([])
  })
})

describe('it can fail', () => {
  const refused = (text: string) => undocumented('x.ts', text)
  test('without any comment, or with a plain one', () => {
    expect(refused('export function a() {}\n')).toEqual(['x.ts:1 a'])
    expect(refused('// Sum.\nexport const b = () => 1\n')).toEqual(['x.ts:2 b'])
    expect(refused('/* Sum. */\nexport function* c() {}\n')).toEqual(['x.ts:2 c'])
    expect(refused('export async function d() {}\nexport default function () {}\n')).toEqual([
      'x.ts:1 d',
      'x.ts:2 default',
    ])
    expect(refused('export const e = 1, f = function () {}\n')).toEqual(['x.ts:1 f'])
  })
  test('an empty comment, or one that belongs to something else', () => {
    expect(refused('/** */\nexport function a() {}\n')).toEqual(['x.ts:2 a'])
    expect(refused('/** Of the file. */\n\nexport function a() {}\n')).toEqual(['x.ts:3 a'])
    expect(refused('/** Of b. */\nconst b = 1\nexport function a() { return b }\n')).toEqual(['x.ts:3 a'])
    expect(refused('/** Of b. */ const b = "*/"\nexport const a = () => b\n')).toEqual(['x.ts:2 a'])
  })
  test('taking one comment out of a real file', () => {
    const path = 'src/optics/interface.ts'
    const text = textOf(path)
    const without = text.replace(/\/\*\*(?:(?!\*\/)[\s\S])*\*\/\n(?=export function lambertian)/, '')
    expect(without).not.toBe(text)
    expect(undocumented(path, without).map((line) => line.split(' ')[1])).toEqual(['lambertian'])
  })
  test('and lets pass what is documented, not exported, or no function', () => {
    expect(refused('/** Sum, W. */\nexport function a() {}\n/**\n * Mean.\n */\nexport const b = () => 1\n')).toEqual(
      [],
    )
    expect(refused('function a() {}\nexport const b = 1\nexport type C = () => void\nexport { a }\n')).toEqual([])
  })
})
