// A small seeded generator for tests and for searching layouts. The tracer has its own (src/optics/draws.ts).
// Own code, because the layouts that a fill finds depend on these numbers: seedrandom or pure-rand would place other boards.

/**
 * A generator of uniform numbers in [0, 1) with 32 bits; `seed` any 32-bit integer. The same seed gives the same
 * numbers on every machine.
 * "splitmix32": a 32-bit mixer of low bias (C. Wellons, "Hash Function Prospector") over a counter; common practice,
 * no other source.
 */
export function seededRandom(seed: number): () => number {
  let state = seed | 0
  return () => {
    state = (state + 0x9e3779b9) | 0
    let z = state
    z = Math.imul(z ^ (z >>> 16), 0x21f0aaad)
    z = Math.imul(z ^ (z >>> 15), 0x735a2d97)
    return ((z ^ (z >>> 15)) >>> 0) / 2 ** 32
  }
}

/**
 * Independent normal numbers of mean 0 and variance 1 from uniform ones, by pairs: G. E. P. Box, M. E. Muller, Annals of Mathematical Statistics 29
 * (1958) 610.
 */
export function normalFrom(random: () => number): () => number {
  let second: number | null = null
  return () => {
    if (second !== null) {
      const value = second
      second = null
      return value
    }
    const radius = Math.sqrt(-2 * Math.log(1 - random()))
    const angle = 2 * Math.PI * random()
    second = radius * Math.sin(angle)
    return radius * Math.cos(angle)
  }
}

/**
 * Draws by number: true for a share (0 to 1) of all numbers, the same at every call, without a pattern (the finalizer of MurmurHash3, A.
 * Appleby, public domain).
 */
export function makeSampler(share: number): (i: number) => boolean {
  const below = share * 2 ** 32
  return (i) => {
    let h = i + 0x9e3779b9
    h = Math.imul(h ^ (h >>> 16), 0x85ebca6b)
    h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35)
    return (h ^ (h >>> 16)) >>> 0 < below
  }
}
