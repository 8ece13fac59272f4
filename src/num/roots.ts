// Roots of a continuous function in a bracket.
// Own code, because fmin only bisects and minimises: slower to a root, and with other last bits.

/**
 * A root of f in [a, b], within `tolerance` + 4 ε |x| of x's unit; null where f(a) and f(b) do not differ in sign
 * (one of them NaN included). At most 200 steps.
 * Brent, Algorithms for Minimization without Derivatives (1973), chapter 4: inverse quadratic or secant steps,
 * halving whenever they gain too little.
 */
export function brent(f: (x: number) => number, a: number, b: number, tolerance = 1e-12): number | null {
  let [x0, x1] = [a, b]
  let [f0, f1] = [f(a), f(b)]
  if (f0 === 0) return x0
  if (f1 === 0) return x1
  if (!(f0 * f1 < 0)) return null
  if (Math.abs(f0) < Math.abs(f1)) {
    ;[x0, x1, f0, f1] = [x1, x0, f1, f0]
  }
  let [x2, f2, halved, x3] = [x0, f0, true, x0]
  for (let i = 0; i < 200 && f1 !== 0; i++) {
    const reach = tolerance + 4 * Number.EPSILON * Math.abs(x1)
    if (Math.abs(x1 - x0) <= reach) break
    let x = f0 !== f2 && f1 !== f2 ? inverseQuadratic(x0, x1, x2, f0, f1, f2) : x1 - (f1 * (x1 - x0)) / (f1 - f0)
    const from = (3 * x0 + x1) / 4
    const last = halved ? Math.abs(x1 - x2) : Math.abs(x2 - x3)
    const outside = x < Math.min(from, x1) || x > Math.max(from, x1)
    halved = outside || Math.abs(x - x1) >= last / 2 || last < reach
    if (halved) x = (x0 + x1) / 2
    const fx = f(x)
    ;[x3, x2, f2] = [x2, x1, f1]
    if (f0 * fx < 0) [x1, f1] = [x, fx]
    else [x0, f0] = [x, fx]
    if (Math.abs(f0) < Math.abs(f1)) [x0, x1, f0, f1] = [x1, x0, f1, f0]
  }
  return x1
}

function inverseQuadratic(x0: number, x1: number, x2: number, f0: number, f1: number, f2: number): number {
  return (
    (x0 * f1 * f2) / ((f0 - f1) * (f0 - f2)) +
    (x1 * f0 * f2) / ((f1 - f0) * (f1 - f2)) +
    (x2 * f0 * f1) / ((f2 - f0) * (f2 - f1))
  )
}
