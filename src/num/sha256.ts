// SHA-256 of bytes that come in pieces (FIPS 180-4).
// Own code, because the browser's digest takes a whole message in memory, a file of rays may be larger than that, and a page that was not
// fetched over https or from its own machine has none.

const K = words(firstPrimes(64).map((p) => fraction(Math.cbrt(p))))
const FIRST = firstPrimes(8).map((p) => fraction(Math.sqrt(p)))

/** The first 32 bits behind the point: what the standard's constants are, section 4.2.2 and 5.3.3. */
function fraction(x: number): number {
  return Math.floor((x - Math.floor(x)) * 2 ** 32)
}

function firstPrimes(count: number): number[] {
  const primes: number[] = []
  for (let n = 2; primes.length < count; n++) if (primes.every((p) => n % p !== 0)) primes.push(n)
  return primes
}

function words(values: readonly number[]): DataView {
  const view = new DataView(new ArrayBuffer(4 * values.length))
  for (const [i, value] of values.entries()) view.setUint32(4 * i, value)
  return view
}

const BLOCK = 64

export interface Sha256 {
  add(bytes: Uint8Array): void
  /** The digest of all bytes added, 64 hexadecimal digits; nothing may be added after it. */
  hex(): string
}

/** Hashes pieces of any size, 2⁵³ bytes at most together. FIPS 180-4, section 6.2. */
export function makeSha256(): Sha256 {
  let state = FIRST
  /** The message's schedule, words by their place in bytes. */
  const w = new DataView(new ArrayBuffer(256))
  const room = new Uint8Array(BLOCK)
  let filled = 0
  let length = 0

  function block(bytes: Uint8Array, at: number): void {
    const view = new DataView(bytes.buffer, bytes.byteOffset + at, BLOCK)
    for (let t = 0; t < 64; t += 4) w.setInt32(t, view.getInt32(t))
    for (let t = 64; t < 256; t += 4) {
      const x = w.getInt32(t - 60)
      const y = w.getInt32(t - 8)
      const s0 = ((x >>> 7) | (x << 25)) ^ ((x >>> 18) | (x << 14)) ^ (x >>> 3)
      const s1 = ((y >>> 17) | (y << 15)) ^ ((y >>> 19) | (y << 13)) ^ (y >>> 10)
      w.setInt32(t, (w.getInt32(t - 64) + s0 + w.getInt32(t - 28) + s1) | 0)
    }
    let [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, g = 0, h = 0] = state
    for (let t = 0; t < 256; t += 4) {
      const s1 = ((e >>> 6) | (e << 26)) ^ ((e >>> 11) | (e << 21)) ^ ((e >>> 25) | (e << 7))
      const t1 = (h + s1 + ((e & f) ^ (~e & g)) + K.getInt32(t) + w.getInt32(t)) | 0
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
    const more = [a, b, c, d, e, f, g, h]
    state = state.map((word, i) => (word + (more[i] ?? 0)) | 0)
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
      return state.map((word) => (word >>> 0).toString(16).padStart(8, '0')).join('')
    },
  }
}

/** Of bytes that are there at once: 64 hexadecimal digits. */
export function sha256(bytes: Uint8Array): string {
  const hash = makeSha256()
  hash.add(bytes)
  return hash.hex()
}
