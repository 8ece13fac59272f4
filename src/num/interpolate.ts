// Interpolation in tables.
// Own code, because d3-shape's monotone curve only draws (other slopes, Steffen's), and a search by d3-array saves five lines.

/**
 * Index i of the cell that holds x: xs[i] ≤ x < xs[i + 1]. xs rising, at least one value; below and above the table
 * the first and the last cell (0 for a single value). Bisection.
 */
export function cellOf(xs: ArrayLike<number>, x: number): number {
  let low = 0
  let high = xs.length - 1
  while (high - low > 1) {
    const mid = (low + high) >> 1
    if (xs[mid]! <= x) low = mid
    else high = mid
  }
  return low
}

/**
 * y at x by straight lines between the points; the end values outside. xs rising, as many ys as xs, at least one; y
 * in the unit of ys.
 */
export function linear(xs: ArrayLike<number>, ys: ArrayLike<number>, x: number): number {
  const last = xs.length - 1
  if (last === 0 || x <= xs[0]!) return ys[0]!
  if (x >= xs[last]!) return ys[last]!
  const i = cellOf(xs, x)
  const t = (x - xs[i]!) / (xs[i + 1]! - xs[i]!)
  return ys[i]! + t * (ys[i + 1]! - ys[i]!)
}

/**
 * A function y(x): cubic Hermite through the points, monotone wherever the points are; the end values outside. xs
 * rising, as many ys as xs; one or two points give a constant or a straight line.
 * Slopes limited as in Fritsch and Carlson, SIAM J. Numer. Anal. 17 (1980) 238–246 (the circle of radius 3 on the
 * pair of slope ratios).
 */
export function monotoneCubic(xs: readonly number[], ys: readonly number[]): (x: number) => number {
  const n = xs.length
  if (n < 3) return (x) => linear(xs, ys, x)
  const slope = monotoneSlopes(xs, ys)
  return (x) => {
    if (x <= xs[0]!) return ys[0]!
    if (x >= xs[n - 1]!) return ys[n - 1]!
    const i = cellOf(xs, x)
    const h = xs[i + 1]! - xs[i]!
    const t = (x - xs[i]!) / h
    const u = 1 - t
    const ends = ys[i]! + t * t * (3 - 2 * t) * (ys[i + 1]! - ys[i]!)
    return ends + h * t * u * (u * slope[i]! - t * slope[i + 1]!)
  }
}

function monotoneSlopes(xs: readonly number[], ys: readonly number[]): Float64Array {
  const n = xs.length
  const secant = new Float64Array(n - 1)
  for (let i = 0; i < n - 1; i++) secant[i] = (ys[i + 1]! - ys[i]!) / (xs[i + 1]! - xs[i]!)
  const slope = new Float64Array(n)
  slope[0] = secant[0]!
  slope[n - 1] = secant[n - 2]!
  for (let i = 1; i < n - 1; i++) {
    slope[i] = secant[i - 1]! * secant[i]! <= 0 ? 0 : (secant[i - 1]! + secant[i]!) / 2
  }
  for (let i = 0; i < n - 1; i++) {
    if (secant[i] === 0) {
      slope[i] = 0
      slope[i + 1] = 0
      continue
    }
    // Both slopes over the secant, as a pair, may be 3 long; without dividing, since a secant may be next to nothing.
    const size = Math.hypot(slope[i]!, slope[i + 1]!)
    const most = 3 * Math.abs(secant[i]!)
    if (size <= most) continue
    slope[i]! *= most / size
    slope[i + 1]! *= most / size
  }
  return slope
}

/**
 * Index and fraction of `at` in an ascending list, for linear interpolation between its entries: index i with xs[i] ≤ at, and the part of the step to
 * xs[i + 1], 0 to 1. Below the list the first entry, above it the last; where entries are equal, the last of them. The list must not be empty.
 */
export function fractionalIndex(xs: ArrayLike<number>, at: number): [number, number] {
  let i = 0
  while (i + 1 < xs.length && xs[i + 1]! <= at) i++
  if (i + 1 >= xs.length) return [xs.length - 1, 0]
  return [i, Math.max(0, (at - xs[i]!) / (xs[i + 1]! - xs[i]!))]
}
