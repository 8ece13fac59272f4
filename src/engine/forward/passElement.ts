// One passage of an element, whatever it is, by the functions of the plain lamp's lens.
import { passCover } from '../../optics/cover.ts'
import { passDirect } from '../../optics/direct.ts'
import { COVER, DIFFUSER, IDEAL, SOLID } from '../../optics/elementKinds.ts'
import * as ELEMENT from '../../optics/elementRow.ts'
import { passFilm } from '../../optics/film.ts'
import { intoFrame, intoLocal, outOfFrame, outOfLocal, setIndex } from '../../optics/frame.ts'
import { passFresnel } from '../../optics/grooves.ts'
import { passIdeal } from '../../optics/idealLens.ts'
import * as P from '../../optics/params.ts'
import { DZ, LEAVES_FLAT, LEAVES_WORKED, NM_COUNT, X, Y, Z } from '../../optics/records.ts'
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
  if (kind === IDEAL) {
    passIdeal(ray, body)
    return fromSource ? LEAVES_WORKED : LEAVES_FLAT
  }
  if (kind === DIFFUSER) {
    const { transmits, reflects, spread } = ELEMENT
    passFilm(ray, stream, elements[at + transmits]!, elements[at + reflects]!, elements[at + spread]!)
    return ray[DZ]! > 0 ? LEAVES_WORKED : LEAVES_FLAT
  }
  setIndex(ray, elementIndex, e * NM_COUNT)
  const worked = fromSource === body[P.lensSign]! < 0
  if (!worked) ray[Z] = -body[P.lensThickness]!
  if (kind === COVER) return passCover(ray, stream, body, elements[at + ELEMENT.surfaceRho]!)
  if (kind === SOLID) return passSolid(ray, stream, body, worked)
  if (worked) ray[Z] = body[P.lensLayer]!
  else if (passDirect(ray, stream, body, rings)) return LEAVES_WORKED
  return passFresnel(ray, stream, body, rings, worked)
}

/** The ray, on a plane of the element's body, from the lamp into the local frame of its lens, in place: mm from the optical axis. */
export function enterElement(
  ray: Float64Array,
  elements: Float32Array,
  at: number,
  body: Float32Array,
  fromSource: boolean,
): void {
  const sign = body[P.lensSign]!
  if (elements[at + ELEMENT.turned]! > 0) {
    intoFrame(ray, elements, at)
    intoLocal(ray, body)
  } else {
    ray[X]! += body[P.lensMidX]! - elements[at + ELEMENT.x]!
    ray[Y]! += body[P.lensMidY]! - elements[at + ELEMENT.y]!
    ray[DZ] = sign * ray[DZ]!
  }
  ray[Z] = sign * (elements[at + (fromSource ? ELEMENT.front : ELEMENT.back)]! - body[P.lensZ]!)
}

/** The way back, in place. */
export function leaveElement(ray: Float64Array, elements: Float32Array, at: number, body: Float32Array): void {
  if (elements[at + ELEMENT.turned]! > 0) {
    outOfLocal(ray, body)
    outOfFrame(ray, elements, at)
    return
  }
  const sign = body[P.lensSign]!
  ray[X]! -= body[P.lensMidX]! - elements[at + ELEMENT.x]!
  ray[Y]! -= body[P.lensMidY]! - elements[at + ELEMENT.y]!
  ray[Z] = elements[at + ELEMENT.z]! + body[P.lensZ]! + sign * ray[Z]!
  ray[DZ] = sign * ray[DZ]!
}
