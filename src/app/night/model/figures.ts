// The standing person and the kayak: a signed distance field of round cones with smooth unions. One table serves the picture (as
// uniforms) and the reading under the pointer.
import type { Place, Triple } from './scene.ts'

/** Diffuse reflectance in linear sRGB; the clothes and hulls are invented. */
export const PAINTS = {
  skin: [0.46, 0.29, 0.21],
  jacket: [0.42, 0.13, 0.07],
  trousers: [0.07, 0.09, 0.14],
  boots: [0.05, 0.045, 0.04],
  hair: [0.06, 0.045, 0.035],
  hull: [0.62, 0.22, 0.04],
  vest: [0.66, 0.52, 0.06],
  sleeve: [0.1, 0.13, 0.2],
  paddle: [0.5, 0.5, 0.5],
} as const satisfies Record<string, Triple>
type Paint = keyof typeof PAINTS

export interface Limb {
  a: Triple
  b: Triple
  /** Radius at either end, m. */
  ra: number
  rb: number
  paint: Paint
}

export const PERSON_M = 1.75
export const KAYAK_M = 4.6
/** Blend radius of the smooth union. */
export const MELT_M = 0.035

const limb = (paint: Paint, a: Triple, ra: number, b: Triple, rb: number): Limb => ({ paint, a, b, ra, rb })
const mirrored = (l: Limb, axis: 0 | 2): Limb[] => {
  const over = (p: Triple): Triple => (axis === 0 ? [-p[0], p[1], p[2]] : [p[0], p[1], -p[2]])
  return [l, { ...l, a: over(l.a), b: over(l.b) }]
}

/** Feet at the origin, facing the lamp (-Z). Proportions are rounded. */
const PERSON: readonly Limb[] = [
  limb('skin', [0, 1.595, -0.01], 0.075, [0, 1.64, 0], 0.088),
  limb('hair', [0, 1.652, 0.022], 0.088, [0, 1.672, 0.012], 0.078),
  limb('skin', [0, 1.46, 0.015], 0.052, [0, 1.55, 0.005], 0.05),
  limb('jacket', [-0.15, 1.405, 0.015], 0.07, [0.15, 1.405, 0.015], 0.07),
  ...mirrored(limb('jacket', [0.075, 1.34, 0], 0.118, [0.06, 1.02, 0], 0.104), 0),
  limb('trousers', [-0.065, 0.93, 0], 0.112, [0.065, 0.93, 0], 0.112),
  ...mirrored(limb('trousers', [0.088, 0.87, 0], 0.092, [0.102, 0.49, -0.005], 0.06), 0),
  ...mirrored(limb('trousers', [0.102, 0.49, -0.005], 0.06, [0.118, 0.1, 0.015], 0.045), 0),
  ...mirrored(limb('boots', [0.118, 0.05, 0.025], 0.048, [0.142, 0.036, -0.15], 0.036), 0),
  ...mirrored(limb('jacket', [0.205, 1.39, 0.015], 0.058, [0.262, 1.1, 0.03], 0.046), 0),
  ...mirrored(limb('jacket', [0.262, 1.1, 0.03], 0.046, [0.272, 0.85, -0.05], 0.036), 0),
  ...mirrored(limb('skin', [0.272, 0.83, -0.055], 0.036, [0.268, 0.75, -0.075], 0.026), 0),
]

/** Water at 0, bow towards +X. */
const KAYAK: readonly Limb[] = [
  limb('hull', [-0.75, -0.03, 0], 0.27, [0.75, -0.03, 0], 0.27),
  limb('hull', [0.75, -0.03, 0], 0.27, [KAYAK_M / 2 - 0.03, 0.2, 0], 0.03),
  limb('hull', [-0.75, -0.03, 0], 0.27, [-KAYAK_M / 2 + 0.03, 0.15, 0], 0.03),
  limb('vest', [-0.12, 0.3, 0], 0.15, [-0.08, 0.66, 0], 0.155),
  limb('sleeve', [-0.07, 0.76, -0.15], 0.07, [-0.07, 0.76, 0.15], 0.07),
  limb('skin', [-0.06, 0.83, 0], 0.05, [-0.05, 0.9, 0], 0.05),
  limb('skin', [-0.03, 0.965, 0], 0.078, [-0.04, 1.0, 0], 0.088),
  limb('hair', [-0.065, 1.02, 0], 0.086, [-0.055, 1.035, 0], 0.078),
  limb('sleeve', [-0.06, 0.75, -0.2], 0.052, [0.13, 0.55, -0.3], 0.043),
  limb('sleeve', [0.13, 0.55, -0.3], 0.043, [0.36, 0.6, -0.28], 0.033),
  limb('sleeve', [-0.06, 0.75, 0.2], 0.052, [0.13, 0.6, 0.32], 0.043),
  limb('sleeve', [0.13, 0.6, 0.32], 0.043, [0.36, 0.77, 0.3], 0.033),
  limb('skin', [0.37, 0.6, -0.28], 0.04, [0.39, 0.61, -0.28], 0.04),
  limb('skin', [0.37, 0.78, 0.3], 0.04, [0.39, 0.785, 0.3], 0.04),
  limb('paddle', [0.39, 0.39, -1.0], 0.017, [0.39, 0.98, 1.0], 0.017),
  limb('paddle', [0.39, 0.36, -1.08], 0.06, [0.39, 0.27, -1.38], 0.075),
  limb('paddle', [0.39, 1.01, 1.08], 0.06, [0.39, 1.1, 1.38], 0.075),
]

/** Turned so that the bow points away to the right. */
const KAYAK_TURN = (24 * Math.PI) / 180

export interface Figure {
  limbs: readonly Limb[]
  /** Bounding sphere. */
  ball: { centre: Triple; radius: number }
}

/** The figure at its place, or null where the target is a surface. */
export function figureIn(p: Place): Figure | null {
  if (p.kind !== 'person' && p.kind !== 'boat') return null
  const turn = p.kind === 'boat' ? KAYAK_TURN : 0
  const [c, s] = [Math.cos(turn), Math.sin(turn)]
  const put = ([x, y, z]: Triple): Triple => [c * x - s * z, y - p.lampM, p.centre[2] + s * x + c * z]
  const limbs = (p.kind === 'boat' ? KAYAK : PERSON).map((l) => ({ ...l, a: put(l.a), b: put(l.b) }))
  const middle = put([0, p.kind === 'boat' ? 0.4 : PERSON_M / 2, 0])
  const reach = (l: Limb) => Math.max(far(middle, l.a) + l.ra, far(middle, l.b) + l.rb)
  return { limbs, ball: { centre: middle, radius: Math.max(...limbs.map(reach)) + MELT_M } }
}

const far = (a: Triple, b: Triple) => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2])

/** Approximate distance to a limb, whose radius varies linearly along it. */
function distanceToLimb(l: Limb, p: Triple): number {
  const ba: Triple = [l.b[0] - l.a[0], l.b[1] - l.a[1], l.b[2] - l.a[2]]
  const pa: Triple = [p[0] - l.a[0], p[1] - l.a[1], p[2] - l.a[2]]
  const along = (pa[0] * ba[0] + pa[1] * ba[1] + pa[2] * ba[2]) / (ba[0] ** 2 + ba[1] ** 2 + ba[2] ** 2)
  const h = Math.min(1, Math.max(0, along))
  return Math.hypot(pa[0] - h * ba[0], pa[1] - h * ba[1], pa[2] - h * ba[2]) - (l.ra + h * (l.rb - l.ra))
}

/** Signed distance to the figure, and the limb that is nearest. */
export function distanceToFigure(f: Figure, p: Triple): { m: number; limb: Limb } {
  let m = 1e9
  let nearest = 1e9
  let of = f.limbs[0]!
  for (const l of f.limbs) {
    const d = distanceToLimb(l, p)
    if (d < nearest) {
      nearest = d
      of = l
    }
    const h = Math.max(MELT_M - Math.abs(m - d), 0) / MELT_M
    m = Math.min(m, d) - (h * h * MELT_M) / 4
  }
  return { m, limb: of }
}

/** Distance along the ray to the figure; null for a miss. */
export function hitFigure(f: Figure, from: Triple, way: Triple, most = Number.POSITIVE_INFINITY): number | null {
  const { centre, radius } = f.ball
  const o: Triple = [from[0] - centre[0], from[1] - centre[1], from[2] - centre[2]]
  const b = o[0] * way[0] + o[1] * way[1] + o[2] * way[2]
  const under = b * b - (o[0] ** 2 + o[1] ** 2 + o[2] ** 2 - radius * radius)
  if (under <= 0) return null
  const end = Math.min(most, -b + Math.sqrt(under))
  let t = Math.max(0, -b - Math.sqrt(under))
  for (let i = 0; i < 120 && t < end; i++) {
    const { m } = distanceToFigure(f, [from[0] + t * way[0], from[1] + t * way[1], from[2] + t * way[2]])
    if (m < 1e-4) return t
    t += 0.85 * m
  }
  return null
}

export function normalOn(f: Figure, p: Triple): Triple {
  const e = 1e-3
  const slope = (dx: number, dy: number, dz: number) =>
    distanceToFigure(f, [p[0] + dx, p[1] + dy, p[2] + dz]).m - distanceToFigure(f, [p[0] - dx, p[1] - dy, p[2] - dz]).m
  const n = [slope(e, 0, 0), slope(0, e, 0), slope(0, 0, e)] as const
  const l = Math.hypot(...n) || 1
  return [n[0] / l, n[1] / l, n[2] / l]
}
