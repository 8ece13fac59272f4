// The tunnel's wall in the plainest form, to hold src/optics/wall.ts and wallBack.ts: normals as vectors, angles as angles.
import { NEVER } from '../../src/optics/cone.ts'
import { draw } from '../../src/optics/draws.ts'
import * as P from '../../src/optics/params.ts'
import { doubles } from './lensBench.ts'
import { dot, inFrameAbout, mirrored, type V } from './vectors.ts'

export interface Wall {
  /** 0 round, else a regular polygon, first flat to +x. */
  sides: number
  rIn: number
  zIn: number
  tan: number
  specular: number
  sigma: number
}

export function wallParams(w: Wall): Float32Array {
  const p = doubles(P.size)
  p[P.hasTunnel] = 1
  p[P.sides] = w.sides
  p[P.rIn] = w.rIn
  p[P.zIn] = w.zIn
  p[P.zOut] = 100
  p[P.tanFlare] = w.tan
  p[P.wallSpecular] = w.specular
  p[P.wallScatter] = w.sigma
  return p
}

/** Unit normal into the tunnel: the flare leans it forward by its own angle. */
export function slowNormal(w: Wall, at: V, side: number): V {
  const flare = Math.atan(w.tan)
  const phi = w.sides === 0 ? Math.atan2(at[1], at[0]) : (2 * Math.PI * side) / w.sides
  return [-Math.cos(phi) * Math.cos(flare), -Math.sin(phi) * Math.cos(flare), Math.sin(flare)]
}

/** The nearest wall from inside. Flats: (at − point of the flat) · normal falls to 0. Cone: the least positive root at which q > 0. */
export function slowReach(w: Wall, at: V, d: V): { s: number; side: number } {
  let best = { s: NEVER, side: -1 }
  const half = w.rIn + (at[2] - w.zIn) * w.tan
  if (w.sides > 0) {
    for (let side = 0; side < w.sides; side++) {
      const normal = slowNormal(w, at, side)
      const phi = (2 * Math.PI * side) / w.sides
      const point: V = [half * Math.cos(phi), half * Math.sin(phi), at[2]]
      const closing = -dot(d, normal)
      const s = (dot(at, normal) - dot(point, normal)) / closing
      if (closing > 1e-12 && s < best.s) best = { s, side }
    }
    return best
  }
  const dHalf = d[2] * w.tan
  const a = d[0] ** 2 + d[1] ** 2 - dHalf ** 2
  const b = at[0] * d[0] + at[1] * d[1] - half * dHalf
  const c = at[0] ** 2 + at[1] ** 2 - half ** 2
  const root = Math.sqrt(b * b - a * c)
  for (const s of [(-b - root) / a, (-b + root) / a])
    if (s > 0 && s < best.s && half + s * dHalf > 0) best = { s, side: -1 }
  return best
}

/** The new direction: one draw for mirror or Lambertian where both can be, then two a try (Box and Muller 1958), sixteen tries at most. */
export function leavesSlowly(w: Wall, d: V, normal: V, stream: Int32Array): V {
  if (w.specular < 1 && draw(stream) >= w.specular) {
    const u = draw(stream)
    const turn = 2 * Math.PI * draw(stream)
    const [sin, cos] = [Math.sqrt(1 - u), Math.sqrt(u)]
    return inFrameAbout(normal, [sin * Math.cos(turn), sin * Math.sin(turn), cos])
  }
  const mirror = mirrored(d, normal)
  if (w.sigma === 0) return mirror
  for (let tries = 0; tries < 16; tries++) {
    const slope = w.sigma * Math.sqrt(-2 * Math.log(draw(stream)))
    const turn = 2 * Math.PI * draw(stream)
    const off = Math.atan(slope)
    const out = inFrameAbout(mirror, [Math.sin(off) * Math.cos(turn), Math.sin(off) * Math.sin(turn), Math.cos(off)])
    if (dot(out, normal) > 0) return out
  }
  return mirror
}

/** Normal distribution function by the series Φ(x) = ½ + φ(x) Σ x^(2k+1) / (1·3·…·(2k+1)) (Abramowitz & Stegun 26.2.11); beyond |x| = 8 the last digit of 1. */
export function normalBySeries(x: number): number {
  if (Math.abs(x) > 8) return x > 0 ? 1 : 0
  let term = x
  let sum = x
  for (let k = 1; k < 400; k++) {
    term *= (x * x) / (2 * k + 1)
    sum += term
  }
  return 0.5 + (sum * Math.exp((-x * x) / 2)) / Math.sqrt(2 * Math.PI)
}

/**
 * Weight of the backward choice `next` after `before`, both as the backward ray travels (head of src/optics/wallBack.ts): the light comes in
 * along −next and goes out along −before. ρ [q(o|i) cosθ_i] / [q(i|o) cosθ_o] with the density of both shares together, reflectance left out.
 */
export function weightBack(w: Wall, before: V, next: V, normal: V): number {
  const cosO = -dot(before, normal)
  const cosI = dot(next, normal)
  const delta = Math.acos(Math.min(1, dot(next, mirrored(before, normal))))
  const slopes =
    Math.exp(-(Math.tan(delta) ** 2) / (2 * w.sigma ** 2)) / (2 * Math.PI * w.sigma ** 2 * Math.cos(delta) ** 3)
  const off = (cos: number) => normalBySeries(1 / Math.tan(Math.acos(cos)) / w.sigma)
  const density = (cosFrom: number, cosTo: number) =>
    ((1 - w.specular) * cosTo) / Math.PI + (delta < Math.PI / 2 ? (w.specular * slopes) / off(cosFrom) : 0)
  return (density(cosI, cosO) * cosI) / (density(cosO, cosI) * cosO)
}
