// The handbook's pages and pictures: all there and linked (none out of date: tests/architecture/generated.test.ts).
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { BUILDER_PAGES, HANDBOOK_PAGES } from '../../../src/app/store/handbook.ts'

const FOLDER = join(import.meta.dirname, '../../../src/app/handbook/pages')
const names = readdirSync(FOLDER).filter((name) => name.endsWith('.md'))
const textOf = (name: string) => readFileSync(join(FOLDER, name), 'utf8')

test('the contents name every page by its own title', () => {
  expect(HANDBOOK_PAGES.map(([name]) => `${name}.md`).sort()).toEqual([...names].sort())
  for (const [name, title] of HANDBOOK_PAGES) expect(textOf(`${name}.md`).split('\n')[0]).toBe(`# ${title}`)
})

test('fifteen pages for a builder, each with a picture; those on physics with a source', () => {
  for (const name of names) {
    const pictures = textOf(name).match(/!\[[^\]]+\]\(pictures\/[\w-]+\.svg\)/g) ?? []
    if (/^\d/.test(name)) expect(pictures, name).toHaveLength(1)
    else expect(textOf(name), name).toMatch(/^Sources?: /m)
  }
  expect(BUILDER_PAGES).toBe(15)
  expect(names.filter((name) => /^\d/.test(name))).toHaveLength(BUILDER_PAGES)
})

test('each picture stands on a page', () => {
  const shown = names.flatMap((name) => [...textOf(name).matchAll(/pictures\/([\w-]+\.svg)/g)].map((m) => m[1]))
  expect(readdirSync(join(FOLDER, 'pictures')).sort()).toEqual(shown.sort())
})
