// A Fresnel lens walked the slow way, to compare with: at each step the ray meets all rings' facets and risers, the flats and the border, and
// takes the nearest. It knows no rings in order and keeps no state but "in glass" or "in air". Local frame as in src/optics/grooves.ts.
import { draw } from '../../src/optics/draws.ts'
import { fresnelMean } from '../../src/optics/interface.ts'
import * as P from '../../src/optics/params.ts'
import { ENDS_AT_LIMIT, ENDS_AT_RIM, LEAVES_FLAT, LEAVES_WORKED } from '../../src/optics/records.ts'
import * as RING from '../../src/optics/ringRow.ts'
import type { LensTables, Passed } from './lensBench.ts'
import { inFrameAbout } from './vectors.ts'

type V = [number, number, number]
type Hit = 'flat' | 'valley' | 'rest' | 'top' | 'border' | 'facet' | 'riser'

interface Meeting {
  s: number
  what: Hit
  ring: number
}

/** All distances at which a ray meets the cone r = q0 + q1 z, z within [z0, z1]. */
function coneMeetings(o: V, d: V, q0: number, q1: number, z0: number, z1: number): number[] {
  const q = q0 + q1 * o[2]
  const dq = q1 * d[2]
  const a = d[0] ** 2 + d[1] ** 2 - dq ** 2
  const b = o[0] * d[0] + o[1] * d[1] - q * dq
  const c = o[0] ** 2 + o[1] ** 2 - q ** 2
  const disc = b * b - a * c
  if (disc < 0) return []
  const root = Math.sqrt(disc)
  const roots = Math.abs(a) < 1e-14 ? [-c / (2 * b)] : [(-b - root) / a, (-b + root) / a]
  return roots.filter((s) => {
    const z = o[2] + s * d[2]
    return z >= z0 && z <= z1 && q + s * dq >= 0
  })
}

export interface SlowRay {
  at: V
  towards: V
  index: number
}

export interface SlowPassed extends Omit<Passed, 'weight'> {
  /** What the tips make of the weight of a ray traced backwards; 1 forwards. */
  tipWeight: number
}

/** `back`: traced backwards; the ways past the tips and their weights as the head of src/optics/groovesBack.ts says. */
export function slowGrooves(
  { p, rings }: LensTables,
  ray: SlowRay,
  stream: Int32Array,
  fromGrooves: boolean,
  back = false,
): SlowPassed {
  const count = p[P.lensRings]!
  const pitch = p[P.lensPitch]!
  const layer = p[P.lensLayer]!
  const thickness = p[P.lensThickness]!
  const tanDraft = p[P.lensTanDraft]!
  const half = p[P.lensHalf]!
  const tips = p[P.lensTipShare]!
  const tanOf = (k: number) => rings[k * RING.size + RING.tan]!
  const tipOf = (k: number) => rings[k * RING.size + RING.tip]!
  const n = ray.index
  let at: V = [...ray.at]
  let d: V = [...ray.towards]
  let glass = false
  let pathMm = 0
  let riser = false
  let left: Meeting | null = null
  let tipWeight = 1
  const scatters = back ? 0 : tips

  const done = (outcome: number): SlowPassed => ({ outcome, at, towards: d, pathMm, riser, tipWeight })
  const inAperture = () =>
    p[P.lensSquare]! > 0 ? Math.max(Math.abs(at[0]), Math.abs(at[1])) <= half : Math.hypot(at[0], at[1]) <= half

  /** A piece of so many mm up to where it last lay within the outline, by small steps back from its end and bisection. */
  function lengthInside(from: V, s: number): number {
    const isIn = (t: number) => {
      const [x, y] = [from[0] + t * d[0], from[1] + t * d[1]]
      return p[P.lensSquare]! > 0 ? Math.max(Math.abs(x), Math.abs(y)) <= half : Math.hypot(x, y) <= half
    }
    let k = 4096
    while (k >= 0 && !isIn((s * k) / 4096)) k--
    if (k < 0) return 0
    let [low, high] = [(s * k) / 4096, (s * Math.min(4096, k + 1)) / 4096]
    for (let i = 0; i < 60; i++) {
      const mid = (low + high) / 2
      if (isIn(mid)) low = mid
      else high = mid
    }
    return low
  }

  function meetings(): Meeting[] {
    const all: Meeting[] = []
    const add = (s: number, what: Hit, ring = -1) => {
      // Just left: only the far meeting with a curved face counts, none with a plane.
      if (s > (left && left.what === what && left.ring === ring ? 1e-7 : 0)) all.push({ s, what, ring })
    }
    if (glass && d[2] < 0 && at[2] > -thickness) add((-thickness - at[2]) / d[2], 'flat')
    if (glass && d[2] > 0 && at[2] < 0) add(-at[2] / d[2], 'valley')
    if (glass && d[2] < 0 && at[2] > 0) add(-at[2] / d[2], 'valley')
    if (!glass && d[2] > 0) add((layer - at[2]) / d[2], 'top')
    if (!glass && d[2] < 0) {
      const s = -at[2] / d[2]
      if (Math.hypot(at[0] + s * d[0], at[1] + s * d[1]) >= count * pitch) add(s, 'rest')
    }
    if (!glass) for (const s of coneMeetings(at, d, count * pitch, 0, -1, layer)) add(s, 'border')
    for (let k = 0; k < count; k++) {
      const q = (k + 1) * pitch
      for (const s of coneMeetings(at, d, q, -1 / tanOf(k), 0, tipOf(k))) add(s, 'facet', k)
      if (k > 0) for (const s of coneMeetings(at, d, k * pitch, tanDraft, 0, tipOf(k))) add(s, 'riser', k)
    }
    return all
  }

  /** Refracts or reflects; `normal` on either side. */
  function meet(normal: V): void {
    let cos = -(d[0] * normal[0] + d[1] * normal[1] + d[2] * normal[2])
    const m: V = cos < 0 ? [-normal[0], -normal[1], -normal[2]] : normal
    cos = Math.abs(cos)
    const eta = glass ? n : 1 / n
    const sin2 = eta * eta * (1 - cos * cos)
    if (sin2 < 1 && draw(stream) >= fresnelMean(cos, glass ? n : 1, glass ? 1 : n)) {
      const out = Math.sqrt(1 - sin2)
      d = [0, 1, 2].map((k) => eta * (d[k]! + cos * m[k]!) - out * m[k]!) as V
      glass = !glass
    } else d = [0, 1, 2].map((k) => d[k]! + 2 * cos * m[k]!) as V
  }

  /** A rounded tip: Lambertian ahead. */
  function scatter(up: boolean): void {
    const u = draw(stream)
    const turn = draw(stream) * 2 * Math.PI
    // The frame of Duff et al. about ±z: x stays or stays, y turns over with z.
    d = [
      Math.sqrt(1 - u) * Math.cos(turn),
      Math.sqrt(1 - u) * Math.sin(turn) * (up ? 1 : -1),
      Math.sqrt(u) * (up ? 1 : -1),
    ]
  }

  /** Lambertian about a unit normal. */
  function lambert(normal: V): void {
    const u = draw(stream)
    const turn = draw(stream) * 2 * Math.PI
    const sin = Math.sqrt(1 - u)
    d = [...inFrameAbout(normal, [sin * Math.cos(turn), sin * Math.sin(turn), Math.sqrt(u)])]
  }

  /** Backwards from the plane of the tips: some of the rays go on below a tip that sent this light up. */
  function fromTip(): void {
    const scattered = tips * n * n
    const groove = Math.max(1 - tips, 0.1)
    if (draw(stream) < scattered / (scattered + groove)) {
      tipWeight *= scattered + groove
      lambert([0, 0, -1])
      at[2] = 0
      glass = true
    } else tipWeight *= (scattered + groove) / groove
  }

  /** Backwards, up through the valleys: some go on above the facet whose tip sent this light down. */
  function ontoTip(r: number): void {
    const ring = Math.floor(r / pitch)
    const alpha = Math.atan(tanOf(ring))
    const z = ((ring + 1) * pitch - r) * tanOf(ring)
    if (z > tipOf(ring)) return
    const scattered = tips / (n * n * Math.cos(alpha))
    tipWeight *= 1 + scattered
    if (draw(stream) >= scattered / (1 + scattered)) return
    at[2] = z
    lambert([(Math.sin(alpha) * at[0]) / r, (Math.sin(alpha) * at[1]) / r, Math.cos(alpha)])
    glass = false
    left = { s: 0, what: 'facet', ring }
  }

  if (back && tips > 0 && fromGrooves && Math.hypot(at[0], at[1]) < count * pitch && inAperture()) fromTip()
  if (!fromGrooves) {
    meet([0, 0, -1])
    if (!glass) return done(LEAVES_FLAT)
  }
  for (let step = 0; step < 2000; step++) {
    const next = meetings().reduce<Meeting | null>((best, m) => (best && best.s <= m.s ? best : m), null)
    if (!next) return done(ENDS_AT_LIMIT)
    const from = at
    at = [0, 1, 2].map((k) => at[k]! + next.s * d[k]!) as V
    if (glass) pathMm += next.s
    // Of the piece that ends beside the lens only the part within it absorbs.
    const beside = () => {
      if (glass) pathMm -= next.s - lengthInside(from, next.s)
      return done(ENDS_AT_RIM)
    }
    left = next
    const r = Math.hypot(at[0], at[1])
    if (next.what === 'top') return done(LEAVES_WORKED)
    if (next.what === 'border') {
      const outward = at[0] * d[0] + at[1] * d[1] > 0
      if (outward && d[2] > 0) return done(LEAVES_WORKED)
      continue
    }
    if (next.what === 'rest') {
      at[2] = 0
      if (!inAperture()) return done(ENDS_AT_RIM)
      meet([0, 0, 1])
      continue
    }
    if (next.what === 'flat') {
      if (!inAperture()) return beside()
      at[2] = -thickness
      meet([0, 0, 1])
      if (!glass) return done(LEAVES_FLAT)
    } else if (next.what === 'valley') {
      at[2] = 0
      if (back && d[2] < 0) tipWeight *= 1 - tips
      if (!inAperture()) return beside()
      if (d[2] < 0) continue
      if (r >= count * pitch) meet([0, 0, 1])
      else if (back && tips > 0) ontoTip(r)
      else if (scatters > 0 && draw(stream) < scatters) {
        at[2] = layer
        riser = true
        scatter(true)
        return done(LEAVES_WORKED)
      }
    } else if (next.what === 'facet') {
      if (!glass && scatters > 0 && draw(stream) < scatters) {
        at[2] = 0
        riser = true
        scatter(false)
        if (!inAperture()) return done(ENDS_AT_RIM)
        glass = true
        left = null
        continue
      }
      const tan = tanOf(next.ring)
      const scale = 1 / Math.hypot(1, tan)
      meet([(tan * scale * at[0]) / r, (tan * scale * at[1]) / r, scale])
      if (!glass && back) tipWeight *= 1 - tips
    } else {
      riser = true
      const scale = 1 / Math.hypot(1, tanDraft)
      meet([(-at[0] / r) * scale, (-at[1] / r) * scale, tanDraft * scale])
    }
  }
  return done(ENDS_AT_LIMIT)
}
