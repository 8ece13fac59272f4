// The way of a ray through an assembled lamp: between face, a tunnel of stretches and elements that may stand tilted, from zone to zone until
// its weight has ended somewhere. As walk.ts, which traces the plain lamp; nothing is allocated per ray.
import { findBoard } from '../../optics/boards.ts'
import { NEVER } from '../../optics/cone.ts'
import { COVER } from '../../optics/elementKinds.ts'
import * as ELEMENT from '../../optics/elementRow.ts'
import { aimSun, placeSun, leaveSun as sunOnOpening } from '../../optics/emission.ts'
import { insideFace } from '../../optics/face.ts'
import { frameDz, frameZ, outOfFrame } from '../../optics/frame.ts'
import { lambertian } from '../../optics/interface.ts'
import { outside } from '../../optics/outline.ts'
import * as P from '../../optics/params.ts'
import {
  DX,
  DY,
  DZ,
  ENDS_AT_RIM,
  ENTERED,
  LEAVES_FLAT,
  LEAVES_WORKED,
  LOSS,
  NX,
  NY,
  NZ,
  REACH,
  RETURNED,
  STEP_LIMIT,
  W,
  X,
  Y,
  Z,
} from '../../optics/records.ts'
import { insideStretch, leaveStep, shareOfStep, shareRound, stretchReflectance } from '../../optics/stretch.ts'
import * as STRETCH from '../../optics/stretchRow.ts'
import { leaveWall, toWall } from '../../optics/wall.ts'
import * as PART from '../../run/parts.ts'
import { endsOf, rowsOf, stepsOf } from '../../scene/assemblyViews.ts'
import type { Assembly, Scene } from '../../scene/scene.ts'
import { makeBooking, NO_PART } from './booking.ts'
import { enterElement, leaveElement, passElement } from './passElement.ts'
import type { Tally } from './tally.ts'
import type { Trail, Walk } from './walk.ts'
import { ENDED, fate, GAP_ABOVE, GAP_BELOW, LENS, TUNNEL } from './zones.ts'

/** A plane that a ray has passed by less than this, mm, is still before it: rounding, where two bodies touch. */
const SLACK_MM = 1e-3

export function makeAssembledWalk(scene: Scene, assembly: Assembly, ray: Float64Array, stream: Int32Array): Walk {
  const { params: p, boards, faceCorners } = scene
  /** Some boards stop light: each straight piece of a way is asked whether it meets one. */
  const boardsStop = boards.length > 0
  const { elements, rings } = assembly
  const stretches = rowsOf(assembly.stretches, STRETCH.size)
  const bodies = rowsOf(assembly.elementParams, P.size)
  const ringsOf = bodies.map((_, e) => rings.subarray(elements[e * ELEMENT.size + ELEMENT.ringsAt]!))
  /** 1 where the stretch above a joint is of another size. */
  const steps = stepsOf(stretches)
  /** Of each stretch at its lower and its upper end: z, and of a round one the square of the radius. */
  const ends = endsOf(stretches)
  const round = stretches.length > 0 && stretches[0]![STRETCH.sides]! === 0
  const count = bodies.length
  const maps = Int32Array.from(bodies, (_, e) => elements[e * ELEMENT.size + ELEMENT.map]!)
  const top = stretches.length - 1
  const hasTunnel = top >= 0
  const zIn = p[P.zIn]!
  const zOut = p[P.zOut]!
  const faceShape = p[P.faceShape]!
  const faceHalf = p[P.faceHalf]!
  const faceHalfY = p[P.faceHalfY]!
  const faceRho = p[P.faceRho]!
  const sun = p[P.source]! > 0
  const {
    lose,
    endAt,
    escapeAt,
    deliver,
    reflect,
    survives,
    begin: beginBooking,
    stop,
    lastFate,
    lastEscape,
  } = makeBooking(ray, stream)
  /** Stretch that the ray is in; element ahead of the gap that it is in; element in whose frame it stands. */
  let stretch = 0
  let gap = 0
  let element = 0
  /** Listens to the corners of the path now followed. */
  let heard: Trail | null = null

  function move(s: number): void {
    ray[X]! += s * ray[DX]!
    ray[Y]! += s * ray[DY]!
    ray[Z]! += s * ray[DZ]!
  }

  function hitFace(t: Tally): number {
    move(-ray[Z]! / ray[DZ]!)
    ray[Z] = 0
    if (!insideFace(ray[X]!, ray[Y]!, faceShape, faceHalf, faceHalfY, faceCorners))
      return endAt(t, fate.behindFace, PART.PART_BEHIND_FACE)
    t.onFace(ray)
    if (!reflect(t, fate.face, PART.PART_FACE, faceRho)) return ENDED
    ray[NX] = 0
    ray[NY] = 0
    ray[NZ] = 1
    lambertian(ray, stream)
    return aboveFace(t)
  }

  function aboveFace(t: Tally): number {
    if (hasTunnel) return GAP_BELOW
    gap = 0
    return count > 0 ? GAP_ABOVE : deliver(t)
  }

  function crossGapBelow(t: Tally): number {
    const dz = ray[DZ]!
    if (dz < 0) return hitFace(t)
    if (dz === 0) return endAt(t, fate.leakedFaceGap, PART.PART_FACE_GAP)
    move((zIn - ray[Z]!) / dz)
    ray[Z] = zIn
    if (!insideStretch(stretches[0]!, ray[X]!, ray[Y]!, zIn)) return endAt(t, fate.leakedFaceGap, PART.PART_FACE_GAP)
    stretch = 0
    return boardsStop ? TUNNEL : crossTunnel(t)
  }

  /** On through stretches until a wall, a step or an end of the tunnel is met: no corner of the path lies between. */
  function crossTunnel(t: Tally): number {
    const dz = ray[DZ]!
    const up = dz > 0
    const across = dz === 0 ? 0 : 1 / dz
    while (dz !== 0) {
      const end = 2 * stretch + (up ? 1 : 0)
      const zEnd = ends[2 * end]!
      const s = (zEnd - ray[Z]!) * across
      const x = ray[X]! + s * ray[DX]!
      const y = ray[Y]! + s * ray[DY]!
      if (round ? x * x + y * y > ends[2 * end + 1]! : !insideStretch(stretches[stretch]!, x, y, zEnd)) break
      ray[X] = x
      ray[Y] = y
      ray[Z] = zEnd
      if (!up && stretch === 0) return GAP_BELOW
      if (up && stretch === top) return leaveTop(t)
      const next = up ? stretch + 1 : stretch - 1
      const below = up ? stretch : next
      if (steps[below]! > 0 && !insideStretch(stretches[next]!, x, y, zEnd)) return hitStep(t, below)
      stretch = next
      if (boardsStop) return TUNNEL
    }
    return meetWall(t)
  }

  function leaveTop(t: Tally): number {
    gap = 0
    return count > 0 || boardsStop ? GAP_ABOVE : deliver(t)
  }

  function meetWall(t: Tally): number {
    const row = stretches[stretch]!
    toWall(ray, row)
    const s = ray[REACH]!
    const z = ray[Z]! + s * ray[DZ]!
    const from = row[STRETCH.zIn]!
    const to = row[STRETCH.zOut]!
    if (!(z >= from - SLACK_MM && z <= to + SLACK_MM)) return endAt(t, fate.lost, NO_PART)
    ray[X]! += s * ray[DX]!
    ray[Y]! += s * ray[DY]!
    ray[Z] = Math.min(Math.max(z, from), to)
    const share = (ray[Z]! - from) / (to - from)
    t.onUnrolled(ray, row[STRETCH.mapAt]! + share * row[STRETCH.mapShare]!, shareRound(row, ray[X]!, ray[Y]!, ray[Z]!))
    if (!reflect(t, fate.wall, PART.wallPart(stretch), stretchReflectance(ray, row))) return ENDED
    leaveWall(ray, stream, row)
    return TUNNEL
  }

  /** The ray stands on the step above stretch `below`, still within its own, the wider one, whose finish the step has. */
  function hitStep(t: Tally, below: number): number {
    const row = stretches[stretch]!
    const lower = stretches[below]!
    const wide = lower[STRETCH.stepMapShare]!
    const share = wide > 0 ? shareOfStep(lower, stretches[below + 1]!, ray[X]!, ray[Y]!) : 0
    const along = lower[STRETCH.stepMapAt]! + wide * share
    t.onUnrolled(ray, along, shareRound(row, ray[X]!, ray[Y]!, ray[Z]!))
    if (!reflect(t, fate.wall, PART.stepPart(below), stretchReflectance(ray, row))) return ENDED
    leaveStep(ray, stream, row)
    return TUNNEL
  }

  /** Distance to the front of the element ahead; NEVER where the ray does not run towards it, or has passed it. */
  function toFront(e: number): number {
    const at = e * ELEMENT.size
    const dz = frameDz(ray, elements, at)
    if (!(dz > 0)) return NEVER
    const away = elements[at + ELEMENT.front]! - frameZ(ray, elements, at)
    return away < -SLACK_MM ? NEVER : Math.max(0, away) / dz
  }

  /** The same to the back of the element behind. */
  function toBack(e: number): number {
    const at = e * ELEMENT.size
    const dz = frameDz(ray, elements, at)
    if (!(dz < 0)) return NEVER
    const away = frameZ(ray, elements, at) - elements[at + ELEMENT.back]!
    return away < -SLACK_MM ? NEVER : Math.max(0, away) / -dz
  }

  /** Between tunnel or face and the first element, or between two elements: to the nearest plane ahead. */
  function crossGap(t: Tally): number {
    if (count === 0 && ray[DZ]! > 0) return deliver(t)
    const up = gap < count ? toFront(gap) : NEVER
    const down = gap > 0 ? toBack(gap - 1) : toTop()
    ray[REACH] = Math.min(up, down)
    if (up <= down && up < NEVER) return meetElement(t, gap, true)
    if (gap > 0) {
      return down < NEVER ? meetElement(t, gap - 1, false) : endAt(t, fate.outsideLens, lostInGap(gap))
    }
    if (down === NEVER) {
      // Past the first element's plane, beside its piece, or along it.
      if (count > 0 && frameDz(ray, elements, 0) > 0) return endAt(t, fate.outsideLens, PART.PART_OUTSIDE)
      return hasTunnel
        ? endAt(t, fate.leakedLensGap, PART.PART_LENS_GAP)
        : endAt(t, fate.leakedFaceGap, PART.PART_FACE_GAP)
    }
    if (!hasTunnel) return hitFace(t)
    move(down)
    ray[Z] = zOut
    if (!insideStretch(stretches[top]!, ray[X]!, ray[Y]!, zOut)) return endAt(t, fate.leakedLensGap, PART.PART_LENS_GAP)
    stretch = top
    return TUNNEL
  }

  /** Distance to the tunnel's outlet, or without a tunnel to the face. */
  const toTop = (): number => (ray[DZ]! < 0 ? ((hasTunnel ? zOut : 0) - ray[Z]!) / ray[DZ]! : NEVER)

  const lostInGap = (above: number) => PART.gapPart(stretches.length, above - 1)

  /** In the slot's reach lies a plane of element e: through it, or past its piece. */
  function meetElement(t: Tally, e: number, fromSource: boolean): number {
    const at = e * ELEMENT.size
    const body = bodies[e]!
    move(ray[REACH]!)
    enterElement(ray, elements, at, body, fromSource)
    if (outside(body, ray[X]!, ray[Y]!)) {
      leaveElement(ray, elements, at, body)
      if (e === 0 && fromSource) return endAt(t, fate.outsideLens, PART.PART_OUTSIDE)
      return endAt(t, fate.outsideLens, lostInGap(fromSource ? e : e + 1))
    }
    if (fromSource || count > 1) t.onPiece(ray, maps[e]!, body[P.lensMidX]!, body[P.lensMidY]!)
    if (heard) {
      // There and back again would not be the same ray: the rotation is in single precision.
      const own = ray.slice(X, DZ + 1)
      leaveElement(ray, elements, at, body)
      heard.point(ray[X]!, ray[Y]!, ray[Z]!, true)
      ray.set(own, X)
    }
    return crossElement(t, e, fromSource)
  }

  /** Through the element in whose local frame the ray stands, on one of its planes; its absorption is booked here. */
  function crossElement(t: Tally, e: number, fromSource: boolean): number {
    const at = e * ELEMENT.size
    const body = bodies[e]!
    const before = ray[W]!
    const sign = body[P.lensSign]!
    const outcome = passElement(ray, stream, assembly, e, body, ringsOf[e]!, fromSource)
    const along = sign * ray[DZ]!
    leaveElement(ray, elements, at, body)
    ray[LOSS] = before - ray[W]!
    if (ray[LOSS]! > 0) lose(t, fate.lensAbsorbed, PART.absorbedPart(stretches.length, e))
    // Between a film and a mirror light may go to and fro for long; lenses, as in the plain lamp, play no such game.
    if (elements[at + ELEMENT.kind]! >= COVER && (ray[W] === 0 || !survives(t))) {
      if (ray[W] === 0 && ray[LOSS]! > 0) stop()
      return ENDED
    }
    if (outcome === ENDS_AT_RIM) return endAt(t, fate.lensRim, PART.rimPart(stretches.length, e))
    if (outcome !== LEAVES_WORKED && outcome !== LEAVES_FLAT) return endAt(t, fate.limit, NO_PART)
    const towardsTarget = (outcome === LEAVES_WORKED) === sign > 0
    // Light scattered sideways by the outermost grooves may run past the lens; what heads back is no beam.
    if (towardsTarget ? !(along > 0) : along > 0) return escapeAt(t, fate.lensRim, PART.rimPart(stretches.length, e))
    return towardsTarget ? goOn(t, e) : goBack(t, e)
  }

  function goOn(t: Tally, e: number): number {
    gap = e + 1
    if (gap < count) return GAP_ABOVE
    return ray[DZ]! > 0 ? deliver(t) : escapeAt(t, fate.lensRim, lostInGap(gap))
  }

  function goBack(t: Tally, e: number): number {
    gap = e
    if (!sun) ray[RETURNED] = 1
    else if (e === 0 && ray[ENTERED] === 0) {
      ray[ENTERED] = 1
      t.enter(ray)
    }
    return GAP_ABOVE
  }

  /** How far the ray goes in its zone, mm, before it meets a plane or a wall: boards stand between face and first element. */
  function reachIn(zone: number): number {
    const dz = ray[DZ]!
    if (zone === GAP_BELOW) return dz < 0 ? -ray[Z]! / dz : dz > 0 ? (zIn - ray[Z]!) / dz : NEVER
    if (zone === GAP_ABOVE) return Math.min(count > 0 ? toFront(gap) : NEVER, toTop())
    const row = stretches[stretch]!
    toWall(ray, row)
    const zEnd = dz > 0 ? row[STRETCH.zOut]! : row[STRETCH.zIn]!
    return dz === 0 ? ray[REACH]! : Math.min(ray[REACH]!, (zEnd - ray[Z]!) / dz)
  }

  /** A board stops the ray in its zone; −1 where it goes on. What stays on the board is the face's. */
  function meetBoard(t: Tally, zone: number): number {
    const reach = reachIn(zone)
    if (!findBoard(ray, boards) || ray[REACH]! > reach) return -1
    move(ray[REACH]!)
    t.onFace(ray)
    if (!reflect(t, fate.face, PART.PART_FACE, faceRho)) return ENDED
    lambertian(ray, stream)
    return zone
  }

  function crossZone(t: Tally, zone: number): number {
    if (boardsStop && zone !== LENS && (zone !== GAP_ABOVE || gap === 0)) {
      const met = meetBoard(t, zone)
      if (met >= 0) return met
    }
    if (zone === TUNNEL) return crossTunnel(t)
    if (zone === GAP_ABOVE) return crossGap(t)
    if (zone === GAP_BELOW) return crossGapBelow(t)
    return crossSunlit(t)
  }

  function follow(t: Tally, start: number, trail: Trail | null): void {
    let zone = start
    if (zone !== ENDED) beginBooking()
    heard = trail
    for (let step = 0; zone !== ENDED; step++) {
      if (step >= STEP_LIMIT) {
        endAt(t, fate.limit, NO_PART)
        break
      }
      const before = ray[W]!
      if (trail) trail.point(ray[X]!, ray[Y]!, ray[Z]!, zone === LENS)
      zone = crossZone(t, zone)
      if (trail && zone !== ENDED && trail.stops(1 - ray[W]! / before)) {
        stop()
        break
      }
    }
    if (trail) trail.point(ray[X]!, ray[Y]!, ray[Z]!, false)
  }

  function begin(t: Tally): number {
    if (!hasTunnel) return aboveFace(t)
    if (ray[Z]! < zIn) return GAP_BELOW
    if (ray[Z]! >= zOut) {
      gap = 0
      return GAP_ABOVE
    }
    stretch = top
    while (stretch > 0 && ray[Z]! < stretches[stretch]![STRETCH.zIn]!) stretch--
    const inside = insideStretch(stretches[stretch]!, ray[X]!, ray[Y]!, ray[Z]!)
    return inside ? TUNNEL : endAt(t, fate.blocked, PART.PART_BLOCKED)
  }

  function leaveSun(first: Float64Array): void {
    element = count - 1
    if (element < 0) {
      sunOnOpening(ray, p, first)
      return
    }
    const at = element * ELEMENT.size
    placeSun(ray, bodies[element]!, elements[at + ELEMENT.back]!, first)
    outOfFrame(ray, elements, at)
    aimSun(ray, p, first)
  }

  function beginSun(t: Tally): number {
    if (element >= 0) return LENS
    if (!hasTunnel) return GAP_BELOW
    stretch = top
    const inside = insideStretch(stretches[top]!, ray[X]!, ray[Y]!, ray[Z]!)
    return inside ? TUNNEL : endAt(t, fate.outsideLens, PART.PART_OUTSIDE)
  }

  /** Sunlight on the outermost element, which may stand edge-on to some of the sun's disc. */
  function crossSunlit(t: Tally): number {
    const at = element * ELEMENT.size
    if (!(frameDz(ray, elements, at) < 0)) return endAt(t, fate.outsideLens, lostInGap(count))
    enterElement(ray, elements, at, bodies[element]!, false)
    return crossElement(t, element, false)
  }

  /** Before the walk begins: a ray that starts outside the lamp, or that its emitter's optic ended. */
  const end = (t: Tally, line: number) => endAt(t, line, line === fate.blocked ? PART.PART_BLOCKED : NO_PART)
  return { begin, leaveSun, beginSun, follow, endAt: end, deliver, lastFate, lastEscape }
}
