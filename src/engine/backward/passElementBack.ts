// One passage of an element, whatever it is, for a ray traced backwards.
import { passCover } from '../../optics/cover.ts'
import { passDirect } from '../../optics/direct.ts'
import { COVER, DIFFUSER, FRESNEL, IDEAL, SOLID } from '../../optics/elementKinds.ts'
import * as ELEMENT from '../../optics/elementRow.ts'
import { setIndex } from '../../optics/frame.ts'
import { passFresnel } from '../../optics/grooves.ts'
import { passIdeal } from '../../optics/idealLens.ts'
import { outside } from '../../optics/outline.ts'
import * as P from '../../optics/params.ts'
import { DX, DY, DZ, ENDS_AT_RIM, LEAVES_FLAT, LEAVES_WORKED, NM_COUNT, W, X, Y, Z } from '../../optics/records.ts'
import { passSolid } from '../../optics/solidLens.ts'
import type { Assembly } from '../../scene/scene.ts'
import { passFilmBack } from './scatterBack.ts'

/**
 * Through element e, in the local frame of its lens (optics/frame.ts), whose parameters and ring records are `body` and `rings`, with the weight
 * corrected; gives how the ray ends its passage (records.ts). `fromFace`: it stands on the side towards the face. `zStart`: of a ray that starts on
 * the grooved side its height there, exact; NaN for one that comes through the plane of the tips.
 */
export function passElementBack(
  ray: Float64Array,
  stream: Int32Array,
  { elements, elementIndex }: Assembly,
  e: number,
  body: Float32Array,
  rings: Float32Array,
  fromFace: boolean,
  zStart: number,
): number {
  const at = e * ELEMENT.size
  const kind = elements[at + ELEMENT.kind]!
  const worked = fromFace === body[P.lensSign]! < 0
  const grooved = worked && kind === FRESNEL
  const curved = worked && kind === SOLID
  if (!grooved && !curved) {
    ray[Z] = worked ? 0 : -body[P.lensThickness]!
    if (outside(body, ray[X]!, ray[Y]!)) return ENDS_AT_RIM
  }
  if (kind === IDEAL) {
    // Maps slopes, not solid angles: cosθ dω = cos⁴θ du dv in slopes u, v about its own axis, and du dv is constant. So L goes as cos⁴θ.
    const before = ray[DZ]!
    passIdeal(ray, body)
    ray[W]! *= (ray[DZ]! / before) ** 4
    return fromFace ? LEAVES_WORKED : LEAVES_FLAT
  }
  if (kind === DIFFUSER) {
    passFilmBack(ray, stream, elements, at)
    return ray[DZ]! > 0 ? LEAVES_WORKED : LEAVES_FLAT
  }
  setIndex(ray, elementIndex, e * NM_COUNT)
  if (kind === COVER) return passCover(ray, stream, body, elements[at + ELEMENT.surfaceRho]!)
  if (kind === SOLID) {
    if (curved) toVertex(ray)
    return passSolid(ray, stream, body, curved)
  }
  if (grooved) {
    ray[Z] = Number.isNaN(zStart) ? body[P.lensLayer]! : zStart
    return passFresnel(ray, stream, body, rings, true, true)
  }
  if (passDirect(ray, stream, body, rings)) return LEAVES_WORKED
  return passFresnel(ray, stream, body, rings, false, true)
}

/** Into the vertex plane, where passSolid takes a ray; the conic is convex, so that nothing lies between. */
function toVertex(ray: Float64Array): void {
  const s = -ray[Z]! / ray[DZ]!
  ray[X]! += s * ray[DX]!
  ray[Y]! += s * ray[DY]!
  ray[Z] = 0
}
