// Comparisons that always say how far off is too far, and why.

/** How far `actual` may be from `expected`. There is no default: a comparison without a reason is a type error. */
export type Tolerance =
  /** So many standard errors of the difference. */
  | { sigmas: number; se: number }
  /** So many steps of the double just below or above `expected`. */
  | { ulps: number }
  | { abs: number; because: string }
  | { rel: number; because: string }

/** Throws, with all the numbers, unless `actual` is finite and within the tolerance of `expected`. */
export function expectWithin(actual: number, expected: number, tolerance: Tolerance): void {
  const [allowed, how] = allowance(expected, tolerance)
  const off = Math.abs(actual - expected)
  if (Number.isFinite(actual) && Number.isFinite(expected) && off <= allowed) return
  const error = new Error(`got ${actual}, expected ${expected}: off by ${off}, allowed ${allowed} (${how})`)
  Error.captureStackTrace?.(error, expectWithin)
  throw error
}

function allowance(expected: number, t: Tolerance): [number, string] {
  if ('sigmas' in t) {
    if (!(t.se > 0) || !(t.sigmas > 0)) throw new Error('expectWithin: sigmas and se must be above zero')
    return [t.sigmas * t.se, `${t.sigmas} standard errors of ${t.se}`]
  }
  if ('ulps' in t) return [t.ulps * ulp(expected), `${t.ulps} ulps`]
  if (t.because.trim() === '') throw new Error('expectWithin: say because of what')
  if ('abs' in t) return [t.abs, t.because]
  return [t.rel * Math.abs(expected), t.because]
}

/** Distance from |x| to the next double above it. */
export function ulp(x: number): number {
  const bits = new DataView(new ArrayBuffer(8))
  bits.setFloat64(0, Math.abs(x))
  bits.setBigUint64(0, bits.getBigUint64(0) + 1n)
  return bits.getFloat64(0) - Math.abs(x)
}

/** Seeds for `test.each(seeds(n))('…, seed %i')`: the title then says how to repeat a failure. */
export const seeds = (n: number): number[] => Array.from({ length: n }, (_, i) => i + 1)
