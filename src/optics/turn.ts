// Sine and cosine of a share of a turn, and back: short series instead of library calls, the same in a shader.
// References: [1] Taylor series on ±π/4, next term below 4e-10; [2] atan on [0, 1] by its odd minimax polynomial of degree 11 (error below 2e-6 rad, used for bins only).
import { TX, TY } from './records.ts'

/** Cosine and sine of whole quarters of a turn. */
const QUARTER_COS = Float64Array.of(1, 0, -1, 0)
const QUARTER_SIN = Float64Array.of(0, 1, 0, -1)

/** Cosine and sine of 2π·u, u in [0, 1], into TX and TY [1]. No branches: which quarter it is can't be foretold. */
export function turnOf(ray: Float64Array, u: number): void {
  const quarter = (4 * u + 0.5) | 0
  quarterTurn(ray, (4 * u - quarter) * 1.5707963267948966)
  const c = ray[TX]!
  const s = ray[TY]!
  const cos = QUARTER_COS[quarter & 3]!
  const sin = QUARTER_SIN[quarter & 3]!
  ray[TX] = c * cos - s * sin
  ray[TY] = c * sin + s * cos
}

/** Cosine and sine of x, |x| ≤ π/4, into TX and TY [1]. */
export function quarterTurn(ray: Float64Array, x: number): void {
  const q = x * x
  ray[TX] = 1 + q * (-1 / 2 + q * (1 / 24 + q * (-1 / 720 + q * (1 / 40320 - q * (1 / 3628800)))))
  ray[TY] = x * (1 + q * (-1 / 6 + q * (1 / 120 + q * (-1 / 5040 + q * (1 / 362880 - q * (1 / 39916800))))))
}

/**
 * Share of a turn, [0, 1), of the direction (x, y) from +x anticlockwise: for bins [2], error below 2e-6 rad. 0 for
 * (0, 0).
 */
export function shareOfTurn(x: number, y: number): number {
  const ax = x < 0 ? -x : x
  const ay = y < 0 ? -y : y
  const steep = ay > ax
  const big = steep ? ay : ax
  if (big === 0) return 0
  const t = (steep ? ax : ay) / big
  const q = t * t
  let a =
    t *
    (0.99997726 + q * (-0.33262347 + q * (0.19354346 + q * (-0.11643287 + q * (0.05265332 - 0.0117212 * q))))) *
    0.15915494309189535
  if (steep) a = 0.25 - a
  if (x < 0) a = 0.5 - a
  return y < 0 ? (a === 0 ? 0 : 1 - a) : a
}
