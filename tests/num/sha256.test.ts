// SHA-256 against its published examples, and against another program's at every length about the end of a block.
import { createHash } from 'node:crypto'
import { expect, test } from 'vitest'
import { seededRandom } from '../../src/num/rng.ts'
import { makeSha256, sha256 } from '../../src/num/sha256.ts'

const ascii = (text: string) => new TextEncoder().encode(text)

test('the published examples (NIST, Secure Hash Standard examples: SHA256.pdf; the million letters from memory of FIPS 180-2)', () => {
  expect(sha256(ascii('abc'))).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad')
  expect(sha256(ascii('abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq'))).toBe(
    '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
  )
  expect(sha256(ascii('a'.repeat(1_000_000)))).toBe('cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0')
})

test('every length up to three blocks, as OpenSSL has it', () => {
  const bytes = Uint8Array.from({ length: 200 }, (_, i) => (i * 151 + 43) % 256)
  for (let n = 0; n <= bytes.length; n++) {
    const some = bytes.subarray(0, n)
    expect(sha256(some)).toBe(createHash('sha256').update(some).digest('hex'))
  }
})

test('nothing at all', () => {
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
