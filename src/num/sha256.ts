// SHA-256 of bytes that come in pieces (FIPS 180-4).
// Own code, because the browser's digest takes a whole message in memory, and a file of rays may be larger than that.

const K = Uint32Array.from(firstPrimes(64), (p) => fraction(Math.cbrt(p)))
const FIRST = Uint32Array.from(firstPrimes(8), (p) => fraction(Math.sqrt(p)))

/** The first 32 bits behind the point: what the standard's constants are, section 4.2.2 and 5.3.3. */
function fraction(x: number): number {
  return Math.floor((x - Math.floor(x)) * 2 ** 32)
}

function firstPrimes(count: number): number[] {
  const primes: number[] = []
  for (let n = 2; primes.length < count; n++) if (primes.every((p) => n % p !== 0)) primes.push(n)
  return primes
}

const BLOCK = 64

export interface Sha256 {
  add(bytes: Uint8Array): void
  /** The digest of all bytes added, 64 hexadecimal digits; nothing may be added after it. */
  hex(): string
}

/** Hashes pieces of any size, 2⁵³ bytes at most together. FIPS 180-4, section 6.2. */
export function makeSha256(): Sha256 {
  const state = FIRST.slice()
  const w = new Uint32Array(64)
  const room = new Uint8Array(BLOCK)
  let filled = 0
  let length = 0

  function block(bytes: Uint8Array, at: number): void {
    for (let t = 0; t < 16; t++) {
      const i = at + 4 * t
      w[t] = (bytes[i]! << 24) | (bytes[i + 1]! << 16) | (bytes[i + 2]! << 8) | bytes[i + 3]!
    }
    for (let t = 16; t < 64; t++) {
      const x = w[t - 15]!
      const y = w[t - 2]!
      const s0 = ((x >>> 7) | (x << 25)) ^ ((x >>> 18) | (x << 14)) ^ (x >>> 3)
      const s1 = ((y >>> 17) | (y << 15)) ^ ((y >>> 19) | (y << 13)) ^ (y >>> 10)
      w[t] = (w[t - 16]! + s0 + w[t - 7]! + s1) | 0
    }
    let [a, b, c, d, e, f, g, h] = state as unknown as [number, number, number, number, number, number, number, number]
    for (let t = 0; t < 64; t++) {
      const s1 = ((e >>> 6) | (e << 26)) ^ ((e >>> 11) | (e << 21)) ^ ((e >>> 25) | (e << 7))
      const t1 = (h + s1 + ((e & f) ^ (~e & g)) + K[t]! + w[t]!) | 0
      const s0 = ((a >>> 2) | (a << 30)) ^ ((a >>> 13) | (a << 19)) ^ ((a >>> 22) | (a << 10))
      const t2 = (s0 + ((a & b) ^ (a & c) ^ (b & c))) | 0
      h = g
      g = f
      f = e
      e = (d + t1) | 0
      d = c
      c = b
      b = a
      a = (t1 + t2) | 0
    }
    for (const [i, more] of [a, b, c, d, e, f, g, h].entries()) state[i] = (state[i]! + more) | 0
  }

  function add(bytes: Uint8Array): void {
    length += bytes.length
    let at = 0
    if (filled > 0) {
      at = Math.min(BLOCK - filled, bytes.length)
      room.set(bytes.subarray(0, at), filled)
      filled += at
      if (filled < BLOCK) return
      block(room, 0)
      filled = 0
    }
    for (; at + BLOCK <= bytes.length; at += BLOCK) block(bytes, at)
    room.set(bytes.subarray(at))
    filled = bytes.length - at
  }

  return {
    add,
    hex() {
      const bits = new DataView(new ArrayBuffer(8))
      bits.setBigUint64(0, 8n * BigInt(length))
      const zeros = (2 * BLOCK - 9 - (length % BLOCK)) % BLOCK
      add(Uint8Array.of(0x80, ...new Uint8Array(zeros), ...new Uint8Array(bits.buffer)))
      return [...state].map((word) => word.toString(16).padStart(8, '0')).join('')
    },
  }
}
