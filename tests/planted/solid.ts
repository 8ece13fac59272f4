// A plano-convex lens with a spherical or conic side: c (r² + (1 + K) w²) − 2 w = 0 with w = −z (ISO 10110-12), flat side at z = −t.
import type { SolidLens } from '../../src/lamp/schema.ts'
import { lensAbsorption, lensIndex } from '../../src/library/lensMaterial.ts'
import type { Body, BodyOut } from './lenses.ts'
import { cross, moveBy, type Ray, rootsOf, type Vec } from './ray.ts'
import { type Split, splitRay } from './split.ts'

interface Inside {
  ray: Ray
  onConic: boolean
  steps: number
}

const NEVER = Number.POSITIVE_INFINITY
const MOST_STEPS = 200

export function makeSolid(lens: SolidLens): Body {
  const c = 1 / lens.radiusMm
  const k = 1 + lens.conic
  const half = lens.diameterMm / 2
  const thickness = lens.thicknessMm
  const absorbs = lensAbsorption(lens)
  const absorptionAt = (nm: number) => (typeof absorbs === 'number' ? absorbs : absorbs(nm))
  const sag = (c * half * half) / (1 + Math.sqrt(1 - k * c * c * half * half))

  /** To the conic within its rim; a ray that stands on it looks for the other root. */
  function toConic({ x, y, z, dx, dy, dz }: Ray, onConic: boolean): number {
    const [w, dw] = [-z, -dz]
    const qa = c * (dx * dx + dy * dy + k * dw * dw)
    const qb = c * (x * dx + y * dy + k * w * dw) - dw
    const qc = onConic ? 0 : c * (x * x + y * y + k * w * w) - 2 * w
    const roots = onConic ? [(-2 * qb) / qa] : rootsOf(qa, qb, qc)
    const good = (t: number) => {
      const depth = w + t * dw
      return t > 1e-9 && depth > -1e-7 && depth < sag + 1e-7 && Math.hypot(x + t * dx, y + t * dy) < half + 1e-7
    }
    return roots.find(good) ?? NEVER
  }

  /** Out of the glass. */
  function normalAt({ x, y, z }: Ray): Vec {
    const [a, b, d] = [c * x, c * y, 1 + c * k * z]
    const scale = 1 / Math.hypot(a, b, d)
    return [a * scale, b * scale, d * scale]
  }

  const turned = ([x, y, z]: Vec): Vec => [-x, -y, -z]

  /** One stretch in the glass; puts what stays inside on the stack. */
  function step(at: Inside, stack: Inside[], split: Split, out: BodyOut, n: number) {
    const { ray } = at
    const toSide = toConic(ray, at.onConic)
    const toFlat = ray.dz < 0 ? (-thickness - ray.z) / ray.dz : NEVER
    const a = ray.dx * ray.dx + ray.dy * ray.dy
    const rim = a > 0 ? rootsOf(a, ray.x * ray.dx + ray.y * ray.dy, ray.x ** 2 + ray.y ** 2 - half * half)[1] : NEVER
    const s = Math.min(toSide, toFlat)
    if (!(s < NEVER) || rim < s - 1e-9) {
      const lost = ray.watts * (1 - Math.exp(-absorptionAt(ray.nm) * (rim < NEVER ? rim : 0)))
      out.ends('lensAbsorbed', lost)
      return out.ends('lensRim', ray.watts - lost)
    }
    moveBy(ray, s)
    const lost = ray.watts * (1 - Math.exp(-absorptionAt(ray.nm) * s))
    out.ends('lensAbsorbed', lost)
    ray.watts -= lost
    const atSide = toSide <= toFlat
    const normal: Vec = atSide ? turned(normalAt(ray)) : [0, 0, 1]
    const [reflected, refracted] = splitRay(ray, cross(ray, normal, n, 1), split)
    if (reflected) stack.push({ ray: reflected, onConic: atSide, steps: at.steps + 1 })
    if (refracted) out.leaves(refracted, atSide)
  }

  return {
    thickness,
    layer: 0,
    pass(ray, fromWorked, split, out) {
      const n = lensIndex(lens, ray.nm)
      if (fromWorked) {
        const s = toConic(ray, false)
        if (!(s < NEVER)) return out.ends('lensRim', ray.watts)
        moveBy(ray, s)
      }
      const normal: Vec = fromWorked ? normalAt(ray) : [0, 0, -1]
      const [reflected, refracted] = splitRay(ray, cross(ray, normal, 1, n), split)
      if (reflected) out.leaves(reflected, fromWorked)
      const stack: Inside[] = refracted ? [{ ray: refracted, onConic: fromWorked, steps: 0 }] : []
      for (let at = stack.pop(); at; at = stack.pop()) {
        if (at.steps > MOST_STEPS) out.ends('limit', at.ray.watts)
        else step(at, stack, split, out, n)
      }
    },
  }
}
