// What may not stand in a file that is passed on: paths of one machine, hosts of package registries, tests left out.
import { describe, expect, test } from 'vitest'
import { files, textOf } from './tree.ts'

// Put together from pieces, so that this file does not find itself.
const MACHINE = new RegExp(`(^|[^\\w.~-])/(${['work', 'root', 'tmp', 'home'].join('|')})/`, 'm')
const REGISTRY = new RegExp(
  `${['registry', '(npmjs|yarnpkg)'].join('\\.')}|${['artifact', 'ory'].join('')}|${['nex', 'us'].join('')}/`,
  'i',
)
const LEFT_OUT = new RegExp(`\\b(test|it|describe)\\.${'(skip|only|todo|fails)'}|\\bx(it|test|describe)\\(`)

const texts = () =>
  files()
    .filter((path) => !/\.(png|jpe?g|ico|woff2?)$/.test(path))
    .map((path) => ({ path, text: textOf(path) }))

const firstLine = (text: string, pattern: RegExp): string | null =>
  text
    .split('\n')
    .find((line) => pattern.test(line))
    ?.trim()
    .slice(0, 120) ?? null

function found(pattern: RegExp, where: (path: string) => boolean = () => true): string[] {
  return texts()
    .filter(({ path }) => where(path))
    .flatMap(({ path, text }) => {
      const line = firstLine(text, pattern)
      return line === null ? [] : [`${path}: ${line}`]
    })
}

test('no path of one machine', () => {
  expect(found(MACHINE)).toEqual([])
})

test('no host of a package registry', () => {
  expect(found(REGISTRY)).toEqual([])
})

test('no test is left out', () => {
  expect(found(LEFT_OUT, (path) => path.startsWith('tests/'))).toEqual([])
})

describe('each pattern finds what it looks for, and only that', () => {
  const slash = '/'
  test.each([
    [MACHINE, `see ${slash}tmp/x`, 'import ./tmp/x, a/tmp/b, ../root/c'],
    [MACHINE, `'${slash}root/a'`, 'https://example.org/work'],
    [REGISTRY, ['https://registry', 'npmjs', 'org/a'].join('.'), 'a register of parts'],
    [LEFT_OUT, `test.${'skip'}('a')`, 'test.each([1])'],
    [LEFT_OUT, `x${'it'}('a')`, 'exit(1)'],
  ])('%s', (pattern, bad, good) => {
    expect(firstLine(`one\n${bad}\n`, pattern)).toBe(bad)
    expect(firstLine(`one\n${good}\n`, pattern)).toBeNull()
  })
})
