// Gauss–Legendre quadrature.
// Own code, because another rule's nodes differ in the last bit, and this one is twenty lines.

export interface Rule {
  /** In (−1, 1), rising. */
  nodes: Float64Array
  /** They sum to 2. */
  weights: Float64Array
}

/**
 * Nodes and weights of n points on (−1, 1), nodes rising; exact for polynomials to degree 2n − 1. n ≥ 1.
 * Nodes are the roots of the Legendre polynomial Pₙ, by Newton's method; weights 2/((1 − x²) Pₙ'(x)²): textbook rule,
 * no source.
 */
export function gaussLegendre(n: number): Rule {
  const nodes = new Float64Array(n)
  const weights = new Float64Array(n)
  for (let i = 0; i < n; i++) {
    let x = -Math.cos((Math.PI * (i + 0.75)) / (n + 0.5))
    let slope = 1
    for (let turn = 0; turn < 100; turn++) {
      let [p, before] = [1, 0]
      for (let k = 1; k <= n; k++) [p, before] = [((2 * k - 1) * x * p - (k - 1) * before) / k, p]
      slope = (n * (x * p - before)) / (x * x - 1)
      const step = p / slope
      x -= step
      if (Math.abs(step) < 1e-15) break
    }
    nodes[i] = x
    weights[i] = 2 / ((1 - x * x) * slope * slope)
  }
  return { nodes, weights }
}

/** ∫ f over [a, b] by a rule from `gaussLegendre`, in f's unit times x's. b < a gives the negative. */
export function integrate(f: (x: number) => number, a: number, b: number, rule: Rule): number {
  const half = (b - a) / 2
  let sum = 0
  for (let i = 0; i < rule.nodes.length; i++) sum += rule.weights[i]! * f(a + half * (1 + rule.nodes[i]!))
  return half * sum
}
