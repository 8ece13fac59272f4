// A solid lens in the plainest form, to hold src/optics/solidLens.ts: the conic by ISO 10110-12 as F = c (r² + (1 + K) z²) + 2 z, its roots
// by q = −(b ± √(b² − 4ac))/2, q/a and c/q (Press et al., Numerical Recipes, 5.6), its normal by its gradient; draws in the same order.
import { draw } from '../../src/optics/draws.ts'
import { fresnelMean } from '../../src/optics/interface.ts'
import { ENDS_AT_LIMIT, ENDS_AT_RIM, LEAVES_FLAT, LEAVES_WORKED } from '../../src/optics/records.ts'
import type { SolidCurve } from './lensBench.ts'
import { along, bent, dot, mirrored, unitOf, type V } from './vectors.ts'

export interface SolidEnd {
  outcome: number
  at: V
  d: V
  path: number
}

export function slowSolid(
  lens: SolidCurve,
  n: number,
  from: V,
  towards: V,
  stream: Int32Array,
  curved: boolean,
): SolidEnd {
  const [c, k] = [1 / lens.radiusMm, 1 + lens.conic]
  let [at, d, path, glass] = [from, towards, 0, false]
  const end = (outcome: number): SolidEnd => ({ outcome, at, d, path })
  const excess = ([x, y, z]: V) => c * (x * x + y * y + k * z * z) + 2 * z
  /** Both roots of F along the ray. */
  function conic(): number[] {
    const qa = c * (d[0] ** 2 + d[1] ** 2 + k * d[2] ** 2)
    const qb = 2 * (c * (at[0] * d[0] + at[1] * d[1] + k * at[2] * d[2]) + d[2])
    const qc = excess(at)
    const disc = qb * qb - 4 * qa * qc
    if (disc < 0) return []
    const sum = -(qb + Math.sign(qb) * Math.sqrt(disc)) / 2
    return [sum / qa, qc / sum].filter(Number.isFinite).sort((a, b) => a - b)
  }
  function meet(normal: V): void {
    const cos = Math.abs(dot(d, normal))
    const away = bent(d, normal, glass ? n : 1 / n)
    if (away && draw(stream) >= fresnelMean(cos, glass ? n : 1, glass ? 1 : n)) {
      d = away
      glass = !glass
    } else d = mirrored(d, normal)
  }
  const gradient = (): V => unitOf([c * at[0], c * at[1], c * k * at[2] + 1])

  if (curved) {
    const s = conic().find((root) => root > 0)
    if (s === undefined) return end(ENDS_AT_RIM)
    at = along(at, d, s)
    if (Math.hypot(at[0], at[1]) > lens.halfMm) return end(ENDS_AT_RIM)
    meet(gradient())
    if (!glass) return end(LEAVES_WORKED)
  } else {
    meet([0, 0, 1])
    if (!glass) return end(LEAVES_FLAT)
  }
  for (let step = 0; step < 300; step++) {
    const curve = conic().find((root) => root > 1e-9) ?? Number.POSITIVE_INFINITY
    const flat = d[2] < 0 ? (-lens.thicknessMm - at[2]) / d[2] : Number.POSITIVE_INFINITY
    const dr2 = d[0] ** 2 + d[1] ** 2
    const rd = at[0] * d[0] + at[1] * d[1]
    const rim = (-rd + Math.sqrt(rd * rd - dr2 * (at[0] ** 2 + at[1] ** 2 - lens.halfMm ** 2))) / dr2
    const s = Math.min(curve, flat)
    if (rim < s || s === Number.POSITIVE_INFINITY) {
      path += rim < s ? rim : 0
      return end(ENDS_AT_RIM)
    }
    at = along(at, d, s)
    path += s
    meet(flat < curve ? [0, 0, 1] : gradient())
    if (!glass) return end(flat < curve ? LEAVES_FLAT : LEAVES_WORKED)
  }
  return end(ENDS_AT_LIMIT)
}
