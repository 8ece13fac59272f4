// A small seeded generator for tests and for searching layouts. The tracer has its own (src/optics/draws.ts).

/** Uniform in [0, 1): the 32-bit mixer "splitmix" run as a counter. The same seed gives the same numbers for ever. */
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
