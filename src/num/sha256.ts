// SHA-256. Own code: a page that was not fetched over https or from its own machine has no crypto.subtle, and a package for sixty lines would
// be one more to trust.

/** SHA-256 (FIPS 180-4, sections 4.1.2, 5.1.1, 6.2), hexadecimal. For up to 2²⁹ bytes. */
export function sha256(bytes: Uint8Array): string {
  const state = Uint32Array.from(firstWords())
  const words = new Uint32Array(64)
  const padded = withPadding(bytes)
  for (let at = 0; at < padded.byteLength; at += 64) addBlock(state, words, padded, at)
  return Array.from(state, (word) => word.toString(16).padStart(8, '0')).join('')
}

/** A bit 1, zeros, and the length in bits, so that whole blocks of 64 bytes come out (5.1.1). */
function withPadding(bytes: Uint8Array): DataView {
  const padded = new Uint8Array(64 * Math.ceil((bytes.length + 9) / 64))
  padded.set(bytes)
  padded[bytes.length] = 0x80
  const view = new DataView(padded.buffer)
  view.setUint32(padded.length - 4, 8 * bytes.length)
  return view
}

function addBlock(state: Uint32Array, w: Uint32Array, block: DataView, at: number): void {
  for (let t = 0; t < 16; t++) w[t] = block.getUint32(at + 4 * t)
  for (let t = 16; t < 64; t++) {
    const [a, b] = [w[t - 15]!, w[t - 2]!]
    const s0 = turned(a, 7) ^ turned(a, 18) ^ (a >>> 3)
    const s1 = turned(b, 17) ^ turned(b, 19) ^ (b >>> 10)
    w[t] = w[t - 16]! + s0 + w[t - 7]! + s1
  }
  const v = Int32Array.from(state)
  for (let t = 0; t < 64; t++) {
    const [a, b, c, e] = [v[0]!, v[1]!, v[2]!, v[4]!]
    const choice = (e & v[5]!) ^ (~e & v[6]!)
    const majority = (a & b) ^ (a & c) ^ (b & c)
    const t1 = v[7]! + (turned(e, 6) ^ turned(e, 11) ^ turned(e, 25)) + choice + ROUND_WORDS[t]! + w[t]!
    v.copyWithin(1, 0, 7)
    v[4]! += t1
    v[0] = t1 + (turned(a, 2) ^ turned(a, 13) ^ turned(a, 22)) + majority
  }
  for (let i = 0; i < 8; i++) state[i]! += v[i]!
}

const turned = (x: number, bits: number): number => (x >>> bits) | (x << (32 - bits))

/** The first `count` primes. */
function primes(count: number): number[] {
  const found: number[] = []
  for (let n = 2; found.length < count; n++) if (found.every((p) => n % p !== 0)) found.push(n)
  return found
}

/** First 32 bits of a number’s fraction. Double precision holds them: the integer part takes at most five of its 53. */
const fraction = (x: number): number => Math.floor((x - Math.floor(x)) * 2 ** 32)

/** Of the square roots of the first eight primes (5.3.3). */
const firstWords = (): number[] => primes(8).map((p) => fraction(Math.sqrt(p)))

/** Of the cube roots of the first 64 primes (4.2.2). */
const ROUND_WORDS = Uint32Array.from(primes(64), (p) => fraction(Math.cbrt(p)))
