// Files that a script writes are as it would write them now.
import { readdirSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { handbookPictures } from '../../scripts/handbookPictures.ts'
import { jsonSchemaText } from '../../src/lamp/jsonSchema.ts'
import { writeLampText } from '../../src/lamp/read.ts'
import { DEMOS } from '../../src/library/demos.ts'
import { files, ROOT, textOf } from './tree.ts'

test('public/lamp.schema.json is current (else: npm run schema)', () => {
  expect(textOf('public/lamp.schema.json')).toBe(jsonSchemaText())
})

test('public/examples holds every example as it is, and no other (else: npm run examples)', () => {
  const written = files().filter((path) => path.startsWith('public/examples/'))
  expect(written).toEqual(
    Object.keys(DEMOS)
      .map((id) => `public/examples/${id}.lamp.json`)
      .sort(),
  )
  for (const [id, lamp] of Object.entries(DEMOS))
    expect(textOf(`public/examples/${id}.lamp.json`), id).toBe(writeLampText(lamp()))
})

test('the handbook’s pictures are as the script would draw them now (else: npm run pictures)', async () => {
  const folder = 'src/app/handbook/pages/pictures'
  const drawn = await handbookPictures()
  expect(
    Object.keys(drawn)
      .map((name) => `${name}.svg`)
      .sort(),
  ).toEqual(readdirSync(join(ROOT, folder)).sort())
  for (const [name, svg] of Object.entries(drawn)) expect(textOf(`${folder}/${name}.svg`), name).toBe(svg)
})
