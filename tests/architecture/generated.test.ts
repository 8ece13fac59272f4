// Files that a script writes are as it would write them now.
import { expect, test } from 'vitest'
import { jsonSchemaText } from '../../src/lamp/jsonSchema.ts'
import { writeLampText } from '../../src/lamp/read.ts'
import { DEMOS } from '../../src/library/demos.ts'
import { files, textOf } from './tree.ts'

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
