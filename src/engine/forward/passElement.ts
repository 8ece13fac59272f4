// One passage of an element, whatever it is, by the functions of the plain lamp's lens.
import { passCover } from '../../optics/cover.ts'
import { passDirect } from '../../optics/direct.ts'
import * as ELEMENT from '../../optics/elementRow.ts'
import { passFilm } from '../../optics/film.ts'
import { setIndex } from '../../optics/frame.ts'
import { passFresnel } from '../../optics/grooves.ts'
import { passIdeal } from '../../optics/idealLens.ts'
import * as P from '../../optics/params.ts'
import { DZ, LEAVES_FLAT, LEAVES_WORKED, NM_COUNT, Z } from '../../optics/records.ts'
import { passSolid } from '../../optics/solidLens.ts'
import type { Assembly } from '../../scene/scene.ts'

/**
 * Through element e, in the local frame of its lens (optics/frame.ts), whose parameters and ring records are `body` and `rings`; gives how the
 * ray ends its passage (records.ts). `fromSource`: it stands on the side towards the source.
 */
export function passElement(
  ray: Float64Array,
  stream: Int32Array,
  { elements, elementIndex }: Assembly,
  e: number,
  body: Float32Array,
  rings: Float32Array,
  fromSource: boolean,
): number {
  const at = e * ELEMENT.size
  const kind = elements[at + ELEMENT.kind]!
  if (kind === 1) {
    passIdeal(ray, body)
    return fromSource ? LEAVES_WORKED : LEAVES_FLAT
  }
  if (kind === 5) {
    const { transmits, reflects, spread } = ELEMENT
    passFilm(ray, stream, elements[at + transmits]!, elements[at + reflects]!, elements[at + spread]!)
    return ray[DZ]! > 0 ? LEAVES_WORKED : LEAVES_FLAT
  }
  setIndex(ray, elementIndex, e * NM_COUNT)
  const worked = fromSource === body[P.lensSign]! < 0
  if (!worked) ray[Z] = -body[P.lensThickness]!
  if (kind === 4) return passCover(ray, stream, body, elements[at + ELEMENT.surfaceRho]!)
  if (kind === 2) return passSolid(ray, stream, body, worked)
  if (worked) ray[Z] = body[P.lensLayer]!
  else if (passDirect(ray, stream, body, rings)) return LEAVES_WORKED
  return passFresnel(ray, stream, body, rings, worked)
}
