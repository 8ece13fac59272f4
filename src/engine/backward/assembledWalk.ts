// A backward ray's way through an assembled lamp: the zones, surfaces and draws of engine/forward/assembledWalk.ts in reverse. As walk.ts, which
// does it for the plain lamp and says why a refracting surface leaves the weight as it is; only the weight counts.
//
// Forward light comes to an element through the outline of its piece in the plane that it meets first, and leaves it by whatever surface it
// reaches. So a backward ray is held to that outline where it leaves an element, and where it comes to one only if it comes by a flat side, which
// ends with the outline.
import { findBoard } from '../../optics/boards.ts'
import { NEVER } from '../../optics/cone.ts'
import { draw } from '../../optics/draws.ts'
import * as ELEMENT from '../../optics/elementRow.ts'
import { insideFace } from '../../optics/face.ts'
import { frameDz, frameZ, intoFrame, intoLocal, outOfFrame, outOfLocal } from '../../optics/frame.ts'
import { lambertian } from '../../optics/interface.ts'
import { outside } from '../../optics/outline.ts'
import * as P from '../../optics/params.ts'
import {
  DX,
  DY,
  DZ,
  LEAVES_FLAT,
  LEAVES_WORKED,
  NX,
  NY,
  NZ,
  RAY_SIZE,
  REACH,
  STEP_LIMIT,
  W,
  X,
  Y,
  Z,
} from '../../optics/records.ts'
import { insideStretch, stretchReflectance } from '../../optics/stretch.ts'
import * as STRETCH from '../../optics/stretchRow.ts'
import { toWall } from '../../optics/wall.ts'
import { leaveWallBack } from '../../optics/wallBack.ts'
import { rowsOf, stepsOf } from '../../scene/assemblyViews.ts'
import type { Assembly, Scene } from '../../scene/scene.ts'
import { passElementBack } from './passElementBack.ts'
import type { CollectedRadiance } from './radiance.ts'
import { leaveStepBack } from './scatterBack.ts'

const ENDED = 0
const GAP_BELOW = 1 // between face and tunnel
const TUNNEL = 2
const GAP = 3 // before the first element, or between two
const ELEMENT_ZONE = 4 // on a plane of an element, in the lamp's frame
/** Under this weight the roulette begins; a survivor is doubled. */
const SMALL = 0.01
/** As in the forward walk: a plane that a ray has passed by less than this, mm, is still before it. */
const SLACK_MM = 1e-3

/** From the outermost opening on; the ray starts in it, pointing back; `zLocal`: its height in the local frame of the last element (frame.ts). */
export type AssembledBackwardWalk = (zLocal: number) => void

export function makeAssembledBackwardWalk(
  scene: Scene,
  assembly: Assembly,
  ray: Float64Array,
  stream: Int32Array,
  score: CollectedRadiance,
): AssembledBackwardWalk {
  const { params: p, boards, faceCorners } = scene
  const framed = scene.frames.length > 0
  const { elements } = assembly
  const stretches = rowsOf(assembly.stretches, STRETCH.size)
  const bodies = rowsOf(assembly.elementParams, P.size)
  const ringsOf = bodies.map((_, e) => assembly.rings.subarray(elements[e * ELEMENT.size + ELEMENT.ringsAt]!))
  const steps = stepsOf(stretches)
  const before = new Float64Array(RAY_SIZE)
  const count = bodies.length
  const top = stretches.length - 1
  const zIn = p[P.zIn]!
  const zOut = p[P.zOut]!
  /** Stretch that the ray is in; how many elements lie below the gap; element that it comes to, and from which side. */
  let stretch = 0
  let gap = 0
  let element = 0
  let fromFace = false
  let zStart = 0

  function moveTo(z: number): void {
    const s = (z - ray[Z]!) / ray[DZ]!
    ray[X]! += s * ray[DX]!
    ray[Y]! += s * ray[DY]!
    ray[Z] = z
  }

  function survives(): boolean {
    const w = ray[W]!
    if (w >= SMALL) return true
    if (w === 0 || draw(stream) < 0.5) return false
    ray[W] = 2 * w
    return true
  }

  function hitFace(): number {
    score.descend(0)
    moveTo(0)
    if (!insideFace(ray[X]!, ray[Y]!, p[P.faceShape]!, p[P.faceHalf]!, p[P.faceHalfY]!, faceCorners)) return ENDED
    ray[W]! *= p[P.faceRho]!
    if (!survives()) return ENDED
    ray[NX] = 0
    ray[NY] = 0
    ray[NZ] = 1
    lambertian(ray, stream)
    gap = 0
    return top >= 0 ? GAP_BELOW : GAP
  }

  function crossGapBelow(): number {
    if (ray[DZ]! < 0) return hitFace()
    if (ray[DZ] === 0) return ENDED
    moveTo(zIn)
    stretch = 0
    return insideStretch(stretches[0]!, ray[X]!, ray[Y]!, zIn) ? TUNNEL : ENDED
  }

  /** To the end of its stretch, and there on, or onto a step; or to the wall. */
  function crossTunnel(): number {
    const dz = ray[DZ]!
    const row = stretches[stretch]!
    if (dz === 0) return meetWall(row)
    const up = dz > 0
    const zEnd = up ? row[STRETCH.zOut]! : row[STRETCH.zIn]!
    const s = (zEnd - ray[Z]!) / dz
    const x = ray[X]! + s * ray[DX]!
    const y = ray[Y]! + s * ray[DY]!
    if (!insideStretch(row, x, y, zEnd)) return meetWall(row)
    if (!up) score.descend(zEnd)
    ray[X] = x
    ray[Y] = y
    ray[Z] = zEnd
    if (!up && stretch === 0) return GAP_BELOW
    if (up && stretch === top) {
      gap = 0
      return GAP
    }
    const next = up ? stretch + 1 : stretch - 1
    if (steps[up ? stretch : next]! > 0 && !insideStretch(stretches[next]!, x, y, zEnd)) {
      ray[W]! *= stretchReflectance(ray, row)
      if (!survives()) return ENDED
      leaveStepBack(ray, stream, row)
      return ray[W]! > 0 ? TUNNEL : ENDED
    }
    stretch = next
    return TUNNEL
  }

  function meetWall(row: Float32Array): number {
    toWall(ray, row)
    const s = ray[REACH]!
    const z = ray[Z]! + s * ray[DZ]!
    const from = row[STRETCH.zIn]!
    const to = row[STRETCH.zOut]!
    if (!(z >= from - 1e-3 && z <= to + 1e-3)) return ENDED
    const zWall = Math.min(Math.max(z, from), to)
    if (ray[DZ]! < 0) score.descend(zWall)
    ray[X]! += s * ray[DX]!
    ray[Y]! += s * ray[DY]!
    ray[Z] = zWall
    ray[W]! *= stretchReflectance(ray, row)
    if (!survives()) return ENDED
    leaveWallBack(ray, stream, row)
    return ray[W]! > 0 ? TUNNEL : ENDED
  }

  /** On to the element above the gap, or to what is below it. Out of the lamp, where no light comes in, it ends. */
  function crossGap(): number {
    if (gap < count && meetsPlane(gap, true)) return ELEMENT_ZONE
    if (gap > 0) return meetsPlane(gap - 1, false) ? ELEMENT_ZONE : ENDED
    if (!(ray[DZ]! < 0)) return ENDED
    if (top < 0) return hitFace()
    if (ray[Z]! < zOut - SLACK_MM) return ENDED
    score.descend(zOut)
    moveTo(zOut)
    stretch = top
    return insideStretch(stretches[top]!, ray[X]!, ray[Y]!, zOut) ? TUNNEL : ENDED
  }

  /** Distance to the plane of element e on that side, mm; NEVER where the ray does not run towards it, or has passed it. */
  function toPlane(e: number, below: boolean): number {
    const at = e * ELEMENT.size
    const dz = frameDz(ray, elements, at)
    if (below ? !(dz > 0) : !(dz < 0)) return NEVER
    const away = elements[at + (below ? ELEMENT.front : ELEMENT.back)]! - frameZ(ray, elements, at)
    if (below ? away < -SLACK_MM : away > SLACK_MM) return NEVER
    return Math.max(0, away / dz)
  }

  /** Moves the ray to that plane, if there is a way. */
  function meetsPlane(e: number, below: boolean): boolean {
    const s = toPlane(e, below)
    if (!(s < NEVER)) return false
    ray[X]! += s * ray[DX]!
    ray[Y]! += s * ray[DY]!
    ray[Z]! += s * ray[DZ]!
    element = e
    fromFace = below
    zStart = Number.NaN
    return true
  }

  function crossElement(): number {
    const at = element * ELEMENT.size
    const body = bodies[element]!
    const sign = body[P.lensSign]!
    intoFrame(ray, elements, at)
    intoLocal(ray, body)
    const outcome = passElementBack(ray, stream, assembly, element, body, ringsOf[element]!, fromFace, zStart)
    if (outcome !== LEAVES_WORKED && outcome !== LEAVES_FLAT) return ENDED
    const up = (outcome === LEAVES_WORKED) === sign > 0
    // Local z runs out of the body on the worked side; forward light comes towards it.
    if (outcome === LEAVES_WORKED ? !(ray[DZ]! > 0) : !(ray[DZ]! < 0)) return ENDED
    if (up && element === count - 1) return ENDED // no light comes in there
    moveTo(sign * (elements[at + (up ? ELEMENT.back : ELEMENT.front)]! - body[P.lensZ]!))
    if (outside(body, ray[X]!, ray[Y]!) || !survives()) return ENDED
    outOfLocal(ray, body)
    outOfFrame(ray, elements, at)
    gap = up ? element + 1 : element
    return GAP
  }

  /** How far the ray goes in its zone, mm, before it meets a plane or a wall. */
  function reachIn(zone: number): number {
    const dz = ray[DZ]!
    if (zone === GAP_BELOW) return dz < 0 ? -ray[Z]! / dz : dz > 0 ? (zIn - ray[Z]!) / dz : NEVER
    if (zone === GAP) {
      const down = dz < 0 ? ((top >= 0 ? zOut : 0) - ray[Z]!) / dz : NEVER
      return Math.min(count > 0 ? toPlane(0, true) : NEVER, down)
    }
    const row = stretches[stretch]!
    toWall(ray, row)
    const zEnd = dz > 0 ? row[STRETCH.zOut]! : row[STRETCH.zIn]!
    return dz === 0 ? ray[REACH]! : Math.min(ray[REACH]!, (zEnd - ray[Z]!) / dz)
  }

  /** A zone of a lamp with tilted emitters, which may be met on any straight way, up or down; boards may end it. */
  function crossTilted(zone: number): number {
    if (zone === GAP && gap > 0) return crossGap()
    before.set(ray)
    const reach = reachIn(zone)
    if (boards.length > 0 && findBoard(ray, boards) && ray[REACH]! <= reach) {
      const s = ray[REACH]!
      score.collect(before, s)
      ray[X]! += s * ray[DX]!
      ray[Y]! += s * ray[DY]!
      ray[Z]! += s * ray[DZ]!
      ray[W]! *= p[P.faceRho]!
      if (!survives()) return ENDED
      lambertian(ray, stream)
      return zone
    }
    score.collect(before, reach)
    return crossZone(zone)
  }

  const crossZone = (zone: number): number =>
    zone === TUNNEL ? crossTunnel() : zone === GAP ? crossGap() : crossGapBelow()

  return (zLocal) => {
    stretch = top
    element = count - 1
    fromFace = false
    zStart = zLocal
    let zone = count > 0 ? ELEMENT_ZONE : TUNNEL
    for (let step = 0; zone !== ENDED && step < STEP_LIMIT; step++) {
      if (zone === ELEMENT_ZONE) zone = crossElement()
      else zone = framed ? crossTilted(zone) : crossZone(zone)
    }
  }
}
