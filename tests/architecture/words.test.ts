// Words that the project had made up and has given up, and what stands in their place. In comments, names and titles of tests.
import { expect, test } from 'vitest'
import { namesIn } from './syntax.ts'
import { files, textOf } from './tree.ts'

/** Anywhere in a text; the pieces are joined here so that this file does not find itself. */
const PROSE: Record<string, string> = {
  [['far', 'end'].join('[ -]?')]: 'backward tracing, backward estimate',
  [['look', 'out'].join('')]: 'backward tracer',
  [['by and', 'by'].join(' ')]: 'time-sliced',
  [['byAnd', 'By'].join('')]: 'runTimeSliced',
  [['draw', 'er'].join('')]: 'storage, stored lamps',
  [`${['de', 'sk'].join('')}s?`]: 'service, client',
  [['hon', 'est'].join('')]: 'valid',
  [['gue', 'st'].join('')]: 'GPU tracer',
  [['late', 'ly'].join('')]: 'memoize',
  [['spare', 'Maps'].join('')]: 'buffer pool',
  [['first', 'looks?'].join('[ -]?')]: 'first sheet',
}

/** As a name of its own, in code: such a name says nothing of what it holds. */
const NAMES = new Set([
  'told',
  'said',
  'kept',
  'given',
  'asked',
  'standing',
  'soon',
  'hand',
  'hands',
  'look',
  'looks',
  ['breat', 'he'].join(''),
  'birth',
  'bear',
])

/** What a declared name is followed by. A file that has none of these words so declares none of them, and needn't be parsed. */
const ANY_NAME = new RegExp(`\\b(${[...NAMES].join('|')})\\b[ \\t]*([^\\w\\s.'’]|of\\b|in\\b|\\r?\\n|$)`)

const read = () =>
  files().filter((path) => /^(src|tests|scripts|shaders)\/.*\.(tsx?|mjs|as|wgsl|glsl)$|^\w+\.md$/.test(path))

/** Data of files that builders have: an entry of a stored lamp can't be renamed. */
const STORED: Record<string, string[]> = { 'src/app/store/keyValue.ts': ['database = '] }

test.each(Object.entries(PROSE))('no %s', (word, instead) => {
  const pattern = new RegExp(`\\b${word}\\b`, 'i')
  const found = read().flatMap((path) =>
    textOf(path)
      .split('\n')
      .flatMap((line, i) =>
        pattern.test(line) && !STORED[path]?.some((data) => line.includes(data))
          ? [`${path}:${i + 1} ${line.trim().slice(0, 100)}`]
          : [],
      ),
  )
  expect(found, `say ${instead}`).toEqual([])
})

test('names say what they hold', () => {
  const found = read()
    .filter((path) => /\.tsx?$/.test(path) && ANY_NAME.test(textOf(path)))
    .flatMap((path) =>
      namesIn(path, textOf(path)).flatMap(({ name, line }) => (NAMES.has(name) ? [`${path}:${line} ${name}`] : [])),
    )
  expect(found, 'name what it holds: cached, reported, requested, stored, pending …').toEqual([])
})

test('a name is found where it is declared, not where it is used', () => {
  const text = 'const told = 1\nfunction f(said: number, { kept, a: asked }: T) {}\nx.given = told\n'
  expect(namesIn('a.ts', text).map(({ name, line }) => `${name} ${line}`)).toEqual([
    'told 1',
    'f 2',
    'said 2',
    'kept 2',
    'asked 2',
  ])
})
