// Files stay small and read downwards.
import { expect, test } from 'vitest'
import { functionsOf } from './syntax.ts'
import { files, sources, textOf } from './tree.ts'

const MOST_LINES = 400
/** Longer on purpose. Each with its reason; an entry that is no longer needed fails as well. */
const LONGER: Record<string, string> = {}

const LONG_FUNCTION = 60

const linesOf = (path: string): number => textOf(path).replace(/\n$/, '').split('\n').length

const code = () => files().filter((path) => /^(src|tests|scripts|shaders)\/.*\.(tsx?|mjs|wgsl|glsl|css)$/.test(path))

test(`no file over ${MOST_LINES} lines without a reason`, () => {
  const sized = code()
    .map((path) => ({ path, lines: linesOf(path) }))
    .sort((a, b) => b.lines - a.lines)
  const longest = sized.slice(0, 10).map(({ path, lines }) => `${String(lines).padStart(5)}  ${path}`)
  console.log(`The ten longest files:\n${longest.join('\n')}`)
  const over = sized.filter(({ lines }) => lines > MOST_LINES).map(({ path }) => path)
  expect(over.sort(), 'cut these, or list them in LONGER with a reason').toEqual(Object.keys(LONGER).sort())
  for (const [path, reason] of Object.entries(LONGER)) expect(reason.length, path).toBeGreaterThan(10)
})

test(`functions over ${LONG_FUNCTION} lines are counted`, () => {
  const all = sources('src/').flatMap((path) => functionsOf(path, textOf(path)).map((f) => ({ path, ...f })))
  const long = all.filter((f) => f.lines > LONG_FUNCTION).sort((a, b) => b.lines - a.lines)
  const rows = long.map((f) => `${String(f.lines).padStart(5)}  ${f.path}:${f.line} ${f.name}`)
  console.log(
    `${long.length} of ${all.length} functions over ${LONG_FUNCTION} lines${rows.map((r) => `\n${r}`).join('')}`,
  )
  expect(all.length).toBeGreaterThan(0)
  expect(long.length / all.length, 'one in fifty may be long').toBeLessThanOrEqual(0.02)
})

test('functions are measured as they stand', () => {
  const text = 'function a() {\n  return 1\n}\nconst b = () =>\n  2\nconst c = { d() {\n\n\n} }\n'
  expect(functionsOf('x.ts', text)).toEqual([
    { name: 'a', line: 1, lines: 3 },
    { name: 'b', line: 4, lines: 2 },
    { name: 'd', line: 6, lines: 4 },
  ])
})
