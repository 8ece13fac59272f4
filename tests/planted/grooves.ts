// A Fresnel lens, ring by ring: physics.md, section 5. Ring k spans [k p, (k+1) p]; its facet is the cone r = (k+1) p − z cot α, its riser
// the cone r = k p + z tan δ. Both are cones r = a + b z, which one routine meets.
import type { FresnelLens } from '../../src/lamp/schema.ts'
import { cutIndex, lensAbsorption, lensIndex } from '../../src/library/lensMaterial.ts'
import type { Body, BodyOut } from './lenses.ts'
import { cross, moveBy, type Ray, rootsOf, type Vec } from './ray.ts'
import { type Split, splitRay } from './split.ts'

type Where = 'body' | 'glass' | 'air'
/** The surface that the ray stands on. */
type On = 'none' | 'facet' | 'riser' | 'inner' | 'outer'

interface Inside {
  ray: Ray
  where: Where
  ring: number
  on: On
  steps: number
}

interface Next {
  s: number
  what: 'facet' | 'riser' | 'inner' | 'outer' | 'floor' | 'top'
}

interface Rings {
  count: number
  pitch: number
  tanDraft: number
  tan: Float64Array
  tip: Float64Array
  layer: number
}

const NEVER = Number.POSITIVE_INFINITY
const MOST_STEPS = 400

/** Slope of the facet for the ray from the design point through its middle (physics.md, section 5; check-values.md 2d). */
export function facetSlope(lens: FresnelLens, r: number): number {
  const n = cutIndex(lens)
  const f = lens.focalMm
  if (lens.grooves === 'source') {
    const w = Math.atan(r / f)
    return Math.atan(Math.sin(w) / (n - Math.cos(w)))
  }
  // f tan w + t tan w' = r with sin w' = sin w / n, by halving.
  let [low, high] = [0, Math.atan(r / f)]
  for (let i = 0; i < 60; i++) {
    const w = (low + high) / 2
    if (f * Math.tan(w) + lens.thicknessMm * Math.tan(Math.asin(Math.sin(w) / n)) < r) low = w
    else high = w
  }
  const sin = Math.sin((low + high) / 2)
  return Math.atan(sin / (Math.sqrt(n * n - sin * sin) - 1))
}

function ringsOf(lens: FresnelLens): Rings {
  const pitch = lens.pitchMm
  const count = Math.floor(lens.diameterMm / (2 * pitch) + 1e-9)
  if (Math.abs(count * 2 * pitch - lens.diameterMm) > 1e-6 || !(lens.draftDeg > 0) || lens.tipShare > 0)
    throw new Error('planted: whole rings, some draft and sharp tips')
  const tanDraft = Math.tan((lens.draftDeg * Math.PI) / 180)
  const tan = Float64Array.from({ length: count }, (_, k) => Math.tan(facetSlope(lens, (k + 0.5) * pitch)))
  const tip = tan.map((t, k) => (pitch * t) / (1 + (k > 0 ? t * tanDraft : 0)))
  return { count, pitch, tanDraft, tan, tip, layer: tip.reduce((a, b) => Math.max(a, b), 0) }
}

/** Distance to the cone r = a + b z between z = 0 and `top`. */
function toCone({ x, y, z, dx, dy, dz }: Ray, a: number, b: number, top: number): number {
  const [r, dr] = [a + b * z, b * dz]
  const roots = rootsOf(dx * dx + dy * dy - dr * dr, x * dx + y * dy - r * dr, x * x + y * y - r * r)
  const good = (t: number) => {
    const h = z + t * dz
    return t > 1e-9 && h > -1e-9 && h < top + 1e-9 && r + t * dr >= 0
  }
  return roots.find(good) ?? NEVER
}

function toCylinder({ x, y, dx, dy }: Ray, radius: number, on: boolean, outwards: boolean): number {
  const [a, b] = [dx * dx + dy * dy, x * dx + y * dy]
  if (on) return outwards && b < 0 ? (-2 * b) / a : NEVER
  const [t1, t2] = rootsOf(a, b, x * x + y * y - radius * radius)
  const t = outwards ? t2 : t1
  return t > 0 ? t : NEVER
}

/** What a ray in a ring's glass or air meets first. */
function nextOf({ ray, where, ring, on }: Inside, g: Rings): Next {
  const { pitch } = g
  const [inner, outer, tip] = [ring * pitch, (ring + 1) * pitch, g.tip[ring]!]
  let best: Next = { s: NEVER, what: 'top' }
  const offer = (s: number, what: Next['what']) => {
    if (s < best.s) best = { s, what }
  }
  if (on !== 'facet') offer(toCone(ray, outer, -1 / g.tan[ring]!, tip), 'facet')
  if (ring > 0 && on !== 'riser') offer(toCone(ray, inner, g.tanDraft, tip), 'riser')
  if (where === 'glass') {
    if (ray.dz < 0) offer(Math.max(0, -ray.z / ray.dz), 'floor')
    return best
  }
  offer(toCylinder(ray, outer, on === 'outer', true), 'outer')
  if (ring > 0) offer(toCylinder(ray, inner, on === 'inner', false), 'inner')
  if (ray.dz > 0) offer((g.layer - ray.z) / ray.dz, 'top')
  return best
}

/** Normal of facet or riser, out of the glass. */
function normalOf({ x, y }: Ray, what: 'facet' | 'riser', ring: number, g: Rings): Vec {
  const perR = 1 / Math.max(1e-12, Math.hypot(x, y))
  const slope = what === 'facet' ? g.tan[ring]! : g.tanDraft
  const scale = 1 / Math.sqrt(1 + slope * slope)
  const [flat, up] = what === 'facet' ? [slope * scale, scale] : [-scale, slope * scale]
  return [flat * x * perR, flat * y * perR, up]
}

export function makeGrooves(lens: FresnelLens): Body {
  const g = ringsOf(lens)
  const half = lens.diameterMm / 2
  const thickness = lens.thicknessMm
  const absorbs = lensAbsorption(lens)

  function absorb(ray: Ray, s: number, out: BodyOut): void {
    const absorption = typeof absorbs === 'number' ? absorbs : absorbs(ray.nm)
    const lost = ray.watts * (1 - Math.exp(-absorption * s))
    out.ends('lensAbsorbed', lost)
    ray.watts -= lost
  }

  const ringAt = ({ x, y }: Ray) => Math.min(g.count - 1, Math.floor(Math.hypot(x, y) / g.pitch))

  function inBody(at: Inside, stack: Inside[], split: Split, out: BodyOut, n: number) {
    const { ray } = at
    const steps = at.steps + 1
    const s = ((ray.dz > 0 ? 0 : -thickness) - ray.z) / ray.dz
    if (!(s < NEVER)) return out.ends('lensRim', ray.watts)
    moveBy(ray, s)
    absorb(ray, s, out)
    if (Math.hypot(ray.x, ray.y) > half) return out.ends('lensRim', ray.watts)
    if (ray.dz > 0) {
      ray.z = 0
      stack.push({ ray, where: 'glass', ring: ringAt(ray), on: 'none', steps })
      return
    }
    ray.z = -thickness
    const [reflected, refracted] = splitRay(ray, cross(ray, [0, 0, 1], n, 1), split)
    if (reflected) stack.push({ ray: reflected, where: 'body', ring: 0, on: 'none', steps })
    if (refracted) out.leaves(refracted, false)
  }

  function inLayer(at: Inside, stack: Inside[], split: Split, out: BodyOut, n: number) {
    const { ray, where, ring } = at
    const steps = at.steps + 1
    const { s, what } = nextOf(at, g)
    if (!(s < NEVER)) return out.ends('limit', ray.watts)
    moveBy(ray, s)
    if (where === 'glass') absorb(ray, s, out)
    if (what === 'floor') {
      ray.z = 0
      stack.push({ ray, where: 'body', ring, on: 'none', steps })
    } else if (what === 'top') out.leaves(ray, true)
    else if (what === 'inner') stack.push({ ray, where, ring: ring - 1, on: 'outer', steps })
    else if (what === 'outer') {
      if (ring + 1 < g.count) stack.push({ ray, where, ring: ring + 1, on: 'inner', steps })
      else if (ray.dz > 0) out.leaves(ray, true)
      else out.ends('lensRim', ray.watts)
    } else {
      const normal = normalOf(ray, what, ring, g)
      const inGlass = where === 'glass'
      const own: Vec = inGlass ? [-normal[0], -normal[1], -normal[2]] : normal
      const crossing = inGlass ? cross(ray, own, n, 1) : cross(ray, own, 1, n)
      const [reflected, refracted] = splitRay(ray, crossing, split)
      if (reflected) stack.push({ ray: reflected, where, ring, on: what, steps })
      if (refracted) stack.push({ ray: refracted, where: inGlass ? 'air' : 'glass', ring, on: what, steps })
    }
  }

  return {
    thickness,
    layer: g.layer,
    pass(ray, fromWorked, split, out) {
      const n = lensIndex(lens, ray.nm)
      const stack: Inside[] = []
      if (fromWorked) stack.push({ ray, where: 'air', ring: ringAt(ray), on: 'none', steps: 0 })
      else {
        const [reflected, refracted] = splitRay(ray, cross(ray, [0, 0, -1], 1, n), split)
        if (reflected) out.leaves(reflected, false)
        if (refracted) stack.push({ ray: refracted, where: 'body', ring: 0, on: 'none', steps: 0 })
      }
      for (let at = stack.pop(); at; at = stack.pop()) {
        if (at.steps > MOST_STEPS) out.ends('limit', at.ray.watts)
        else if (at.where === 'body') inBody(at, stack, split, out, n)
        else inLayer(at, stack, split, out, n)
      }
    },
  }
}
