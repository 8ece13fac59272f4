// The 32-bit integers of src/optics/draws.ts and sobol.ts once more, in unbounded integers taken modulo 2³².

const M = 1n << 32n
const mod = (x: bigint): bigint => ((x % M) + M) % M
const signed = (x: bigint): number => Number(BigInt.asIntN(32, x))

/** The two-round mixer: x ^= x >> 16, × 0x7feb352d, x ^= x >> 15, × 0x846ca68b, x ^= x >> 16 (C. Wellons, 2018). */
export function slowMix(x: number | bigint): number {
  let v = mod(BigInt(x))
  for (const [shift, factor] of [
    [16n, 0x7feb352dn],
    [15n, 0x846ca68bn],
  ] as const)
    v = ((v ^ (v >> shift)) * factor) % M
  return signed(v ^ (v >> 16n))
}

const xor = (...values: (number | bigint)[]): bigint => values.reduce<bigint>((a, b) => a ^ mod(BigInt(b)), 0n)
const times = (a: number, b: bigint): bigint => mod(BigInt(a) * b)

/** Key and odd step of a ray's stream: keys by golden ratio (batch) and √2 (step), each mixed. */
export function slowStream(seed: number, batch: number, index: number): [number, number] {
  const key = slowMix(xor(index, slowMix(xor(seed, times(batch + 1, 0x9e3779b1n)))))
  return [key, signed(mod(BigInt(slowMix(BigInt(key) + 0x6a09e667n))) | 1n)]
}

/** Draw number k of a stream, 24 bits. */
export function slowDraw24(seed: number, batch: number, index: number, k: number): number {
  const [key, step] = slowStream(seed, batch, index)
  return Number(mod(BigInt(slowMix(BigInt(key) + BigInt(k) * BigInt(step)))) >> 8n)
}

/** Degrees, coefficients and first m of S. Joe, F. Y. Kuo, SIAM J. Sci. Comput. 30 (2008) 2635, dimensions 2 to 6. */
const POLYNOMIALS = [
  { s: 1, a: [], m: [1] },
  { s: 2, a: [1], m: [1, 3] },
  { s: 3, a: [0, 1], m: [1, 3, 1] },
  { s: 3, a: [1, 0], m: [1, 1, 1] },
  { s: 4, a: [0, 0, 1], m: [1, 1, 3, 3] },
]

/** Direction number i (from 0) of dimension d as 32 bits: m_k = 2 a₁ m_(k−1) ⊕ … ⊕ 2ˢ m_(k−s) ⊕ m_(k−s), v_k = m_k 2^(32−k). */
export function slowDirections(d: number): bigint[] {
  const m: bigint[] = []
  const { s, a, m: first } = d === 0 ? { s: 0, a: [], m: [] } : POLYNOMIALS[d - 1]!
  for (let k = 0; k < 32; k++) {
    if (d === 0) m.push(1n)
    else if (k < s) m.push(BigInt(first[k]!))
    else {
      let next = m[k - s]! ^ (m[k - s]! << BigInt(s))
      for (const [j, coefficient] of a.entries()) if (coefficient === 1) next ^= m[k - 1 - j]! << BigInt(j + 1)
      m.push(next)
    }
  }
  return m.map((value, k) => value << BigInt(31 - k))
}

/** One batch's rows as src/optics/sobol.ts lays them out: Matoušek's lower-triangular matrix by bits, then the shift. */
export function slowScramble(seed: number, batch: number): number[] {
  let state = BigInt(slowMix(xor(seed, 0x51ed270b, times(batch + 1, 0x85ebca6bn))))
  const next = () => {
    state = mod(state + 0x9e3779b9n)
    return mod(BigInt(slowMix(state)))
  }
  const out = new Array<number>(33 * 6).fill(0)
  for (let d = 0; d < 6; d++) {
    const plain = slowDirections(d)
    const columns = plain.map(() => 0n)
    for (let row = 0; row < 32; row++) {
      const random = next()
      for (const [i, v] of plain.entries()) {
        // Σ over columns from the most significant down to the diagonal, which is 1, modulo 2.
        let sum = (v >> BigInt(31 - row)) & 1n
        for (let column = 0; column < row; column++) sum += ((random & v) >> BigInt(31 - column)) & 1n
        if (sum % 2n === 1n) columns[i]! |= 1n << BigInt(31 - row)
      }
    }
    for (const [i, v] of columns.entries()) out[i * 6 + d] = signed(v)
    out[32 * 6 + d] = signed(next())
  }
  return out
}

/** Coordinate d of point `index`: the shift and the columns of the bits set in the Gray code of the index. */
export function slowPoint(rows: ArrayLike<number>, index: number, d: number): number {
  const i = BigInt(index)
  let bits = BigInt(rows[32 * 6 + d]!)
  const gray = (i ^ (i >> 1n)).toString(2)
  for (let k = 0; k < gray.length; k++) if (gray[gray.length - 1 - k] === '1') bits ^= BigInt(rows[k * 6 + d]!)
  return signed(mod(bits))
}
