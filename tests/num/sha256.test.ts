import { createHash } from 'node:crypto'
import { expect, test } from 'vitest'
import { seededRandom } from '../../src/num/rng.ts'
import { makeSha256 } from '../../src/num/sha256.ts'

test('"abc", of the standard’s own examples (FIPS 180, appendix), and nothing at all', () => {
  const hash = makeSha256()
  hash.add(new TextEncoder().encode('abc'))
  expect(hash.hex()).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad')
  expect(makeSha256().hex()).toBe('e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855')
})

test('in pieces of any size as Node has it', () => {
  const random = seededRandom(1)
  for (let n = 0; n < 300; n += 7) {
    const bytes = Uint8Array.from({ length: n }, () => 256 * random())
    const hash = makeSha256()
    for (let at = 0; at < n; ) {
      const size = 1 + Math.floor(90 * random())
      hash.add(bytes.subarray(at, at + size))
      at += size
    }
    expect(hash.hex()).toBe(createHash('sha256').update(bytes).digest('hex'))
  }
})
