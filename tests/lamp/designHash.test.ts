// A design's hash: by contents, not by layout.
import { createHash } from 'node:crypto'
import { expect, test, vi } from 'vitest'
import { designHash } from '../../src/lamp/designHash.ts'
import { readLampText } from '../../src/lamp/read.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'

test('is SHA-256 of the JSON in alphabetical order', () => {
  const tiny = { b: [1, { d: 'ö', c: null }], a: true } as unknown as Lamp
  const expected = createHash('sha256').update('{"a":true,"b":[1,{"c":null,"d":"ö"}]}').digest('hex')
  expect(designHash(tiny)).toBe(expected)
})

test('the same lamp from a file laid out otherwise has the same, another lamp another', () => {
  const lamp = gannetHead()
  const turned = readLampText(JSON.stringify(Object.fromEntries(Object.entries(lamp).toReversed()), null, 4))
  if (!turned.ok) throw new Error(turned.why.join())
  expect(designHash(turned.lamp)).toBe(designHash(lamp))
  expect(designHash({ ...lamp, name: 'Gannet Heap' })).not.toBe(designHash(lamp))
})

test('needs no crypto of its host: on plain http a browser has none', () => {
  const known = designHash(gannetHead())
  vi.stubGlobal('crypto', undefined)
  try {
    expect(designHash(gannetHead())).toBe(known)
  } finally {
    vi.unstubAllGlobals()
  }
})
