// The handbook's pages and pictures: all there, linked, none out of date.
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { handbookPictures } from '../../../scripts/handbookPictures.ts'
import { HANDBOOK_PAGES } from '../../../src/app/store/handbook.ts'

const FOLDER = join(import.meta.dirname, '../../../src/app/handbook/pages')
const names = readdirSync(FOLDER).filter((name) => name.endsWith('.md'))
const textOf = (name: string) => readFileSync(join(FOLDER, name), 'utf8')

test('the contents name every page by its own title', () => {
  expect(HANDBOOK_PAGES.map(([name]) => `${name}.md`).sort()).toEqual([...names].sort())
  for (const [name, title] of HANDBOOK_PAGES) expect(textOf(`${name}.md`).split('\n')[0]).toBe(`# ${title}`)
})

test('twelve pages for a builder, each with a picture; those on physics with a source', () => {
  for (const name of names) {
    const pictures = textOf(name).match(/!\[[^\]]+\]\(pictures\/[\w-]+\.svg\)/g) ?? []
    if (/^\d/.test(name)) expect(pictures, name).toHaveLength(1)
    else expect(textOf(name), name).toMatch(/^Sources?: /m)
  }
  expect(names.filter((name) => /^\d/.test(name))).toHaveLength(12)
})

test('pictures are as the script would draw them now (else: npm run pictures), and each stands on a page', async () => {
  const drawn = await handbookPictures()
  const shown = names.flatMap((name) => [...textOf(name).matchAll(/pictures\/([\w-]+)\.svg/g)].map((m) => m[1]))
  expect(Object.keys(drawn).sort()).toEqual(shown.sort())
  for (const [name, svg] of Object.entries(drawn))
    expect(readFileSync(join(FOLDER, 'pictures', `${name}.svg`), 'utf8'), name).toBe(svg)
}, 120_000)
