// A straight line through readings by weighted least squares.
// Own code: simple-statistics has no weights and no covariance.

export interface StraightLine {
  /** y = offset + slope · x. */
  offset: number
  slope: number
  /** Standard uncertainties, from the stated ones of the points, and the correlation of the two. */
  uOffset: number
  uSlope: number
  correlation: number
  /** Σ ((y − line)/u)². */
  chi2: number
  /** Points less the two numbers fitted. */
  freedom: number
}

/**
 * Weighted least squares: weights 1/u², solved about the weighted mean of x (GUM, JCGM 100:2008, H.3, with weights; textbook rule). Null with fewer
 * than two different x. Every u > 0, in the unit of y.
 */
export function fitStraightLine(points: readonly { x: number; y: number; u: number }[]): StraightLine | null {
  let [s, sx, sy] = [0, 0, 0]
  for (const { x, y, u } of points) {
    const w = 1 / u ** 2
    s += w
    sx += w * x
    sy += w * y
  }
  const [mx, my] = [sx / s, sy / s]
  let [sxx, sxy] = [0, 0]
  for (const { x, y, u } of points) {
    sxx += (x - mx) ** 2 / u ** 2
    sxy += ((x - mx) * (y - my)) / u ** 2
  }
  if (!(sxx > 0)) return null
  const slope = sxy / sxx
  const offset = my - slope * mx
  const chi2 = points.reduce((sum, { x, y, u }) => sum + ((y - offset - slope * x) / u) ** 2, 0)
  const uSlope = 1 / Math.sqrt(sxx)
  const uOffset = Math.sqrt(1 / s + mx ** 2 / sxx)
  return {
    offset,
    slope,
    uOffset,
    uSlope,
    correlation: -mx / sxx / (uOffset * uSlope),
    chi2,
    freedom: points.length - 2,
  }
}
