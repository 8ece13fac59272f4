// Rounded tips, for a ray traced backwards through the grooves. Forward, a share s of the light is scattered there
// (grooves.ts): of what comes up through the plane of the valleys, into the air above the tips; of what comes down
// onto a facet, into the body under it. The place stays, the direction is Lambertian. The radiance that leaves is s
// E/π of the irradiance E that arrives; the rest, 1 − s, goes on as if there were no tip.
// So a backward ray that stands where scattered light starts has two ways back, by the tip and by the groove, and
// their radiances add. It takes one of them by a draw, about as often as each one weighs.
// What is followed is L/n² (src/engine/backward/walk.ts): light that the tip turns from glass into air gains n², the
// other way it loses as much.
// References: [1] E. Veach, Robust Monte Carlo Methods for Light Transport Simulation (1997), 5.2 (radiance across an
// interface).
import { draw } from './draws.ts'
import { lambertian } from './interface.ts'
import { outside } from './outline.ts'
import * as P from './params.ts'
import { INDEX, NX, NY, NZ, W, X, Y, Z } from './records.ts'
import * as RING from './ringRow.ts'

/**
 * For a ray in the plane of the tips. True when it goes on down in the body, by way of a tip: it then stands in the
 * plane of the valleys with a new direction. Its weight is corrected either way [1].
 */
export function backThroughTip(ray: Float64Array, stream: Int32Array, p: Float32Array): boolean {
  const share = p[P.lensTipShare]!
  if (p[P.lensSquare]! > 0 && outside(p, ray[X]!, ray[Y]!)) return false // no body below
  const scattered = share * ray[INDEX]! * ray[INDEX]!
  const groove = Math.max(1 - share, 0.1) // all of it at the facets, none beside them: some rays must go there
  const both = scattered + groove
  if (draw(stream) * both >= scattered) {
    ray[W]! *= both / groove // into the body, grooves.ts takes the share off again
    return false
  }
  ray[W]! *= both
  ray[NX] = 0
  ray[NY] = 0
  ray[NZ] = -1
  lambertian(ray, stream)
  ray[Z] = 0
  return true
}

/**
 * For a ray that comes up through the plane of the valleys under ring `ring`. True when it goes on from the facet
 * above, by way of its tip, with a new place and direction. Its weight is corrected either way [1].
 */
export function backOntoTip(
  ray: Float64Array,
  stream: Int32Array,
  p: Float32Array,
  rings: Float32Array,
  ring: number,
): boolean {
  const at = ring * RING.size
  const r = Math.max(Math.sqrt(ray[X]! * ray[X]! + ray[Y]! * ray[Y]!), 1e-12)
  const z = ((ring + 1) * p[P.lensPitch]! - r) * rings[at + RING.tan]!
  if (z > rings[at + RING.tip]!) return false // the riser stands here
  const scattered = p[P.lensTipShare]! / (ray[INDEX]! * ray[INDEX]! * rings[at + RING.cos]!)
  ray[W]! *= 1 + scattered
  if (draw(stream) * (1 + scattered) >= scattered) return false
  const sin = rings[at + RING.sin]! / r
  ray[NX] = sin * ray[X]!
  ray[NY] = sin * ray[Y]!
  ray[NZ] = rings[at + RING.cos]!
  lambertian(ray, stream)
  ray[Z] = Math.max(0, z)
  return true
}
