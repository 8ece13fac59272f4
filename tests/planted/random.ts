// Random numbers of the planted sets: a generator of their own, so that nothing is shared with the program that they check.

export type Random = () => number

/**
 * Uniform numbers in [0, 1) with 32 bits, the same for the same seed. "sfc32", a small chaotic generator of 128 bits of state with a
 * counter (C. Doty-Humphrey, PractRand; from memory).
 */
export function makeRandom(seed: number): Random {
  let [a, b, c, counter] = [seed | 0, Math.imul(seed, 0x9e3779b1) | 0, 0x2545f491, 1]
  const next = () => {
    const t = (((a + b) | 0) + counter) | 0
    counter = (counter + 1) | 0
    a = b ^ (b >>> 9)
    b = (c + (c << 3)) | 0
    c = (c << 21) | (c >>> 11)
    c = (c + t) | 0
    return (t >>> 0) / 2 ** 32
  }
  for (let i = 0; i < 20; i++) next()
  return next
}

export interface Dice {
  between(a: number, b: number): number
  /** Even over the logarithm. */
  ratio(a: number, b: number): number
  whole(a: number, b: number): number
  pick<T>(of: readonly T[]): T
  chance(p: number): boolean
}

export function makeDice(random: Random): Dice {
  return {
    between: (a, b) => a + (b - a) * random(),
    ratio: (a, b) => a * (b / a) ** random(),
    whole: (a, b) => a + Math.floor((b - a + 1) * random()),
    pick: (of) => of[Math.floor(random() * of.length)]!,
    chance: (p) => random() < p,
  }
}
