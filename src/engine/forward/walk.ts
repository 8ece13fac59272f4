// A ray's way between face, wall and lens: from zone to zone until its weight has ended somewhere. Nothing is allocated per ray.

import { meetsBoard } from '../../optics/boards.ts'
import { passDirect } from '../../optics/direct.ts'
import { draw } from '../../optics/draws.ts'
import { leaveSun } from '../../optics/emission.ts'
import { insideFace } from '../../optics/face.ts'
import { passFresnel } from '../../optics/grooves.ts'
import { passIdeal } from '../../optics/idealLens.ts'
import { lambertian } from '../../optics/interface.ts'
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
  RISER,
  STEP_LIMIT,
  W,
  X,
  Y,
  Z,
} from '../../optics/records.ts'
import { passSolid } from '../../optics/solidLens.ts'
import { insideSection, leaveWall, sectionAt, toWall } from '../../optics/wall.ts'
import type { Scene } from '../../scene/scene.ts'
import type { Tally } from './tally.ts'
import { ENDED, fate, GAP_ABOVE, GAP_BELOW, goesOn, LENS, SMALL, TUNNEL, TUNNEL_WALL } from './zones.ts'

/** Hears of a path's corners. */
export interface Trail {
  /** At the start of each segment and at the end of the path; `inLens`: the segment that begins here lies inside the lens. */
  point(x: number, y: number, z: number, inLens: boolean): void
  /** Whether a drawn path ends where it loses this share of its weight: a drawing has no weights. */
  stops(share: number): boolean
  end(fate: number, emitter: number): void
}

export interface Walk {
  /** Zone of an emitter's ray as it stands; ENDED where it begins outside the lamp. */
  begin(t: Tally): number
  /** Place and direction of a ray of the sun on the outermost opening. */
  leaveSun(first: Float64Array): void
  /** Its zone. */
  beginSun(t: Tally): number
  /** Follow the ray from a zone to its end. */
  follow(t: Tally, start: number, trail: Trail | null): void
  /** End the ray with all its weight on one line; gives ENDED. */
  endAt(t: Tally, line: number): number
  /** The ray leaves the lamp; gives ENDED. */
  deliver(t: Tally): number
  /** Line on which the last ray ended. */
  lastFate(): number
  /** Weight with which the last ray went on into the open, from where it stands and in its direction; 0: it was absorbed. */
  lastEscape(): number
}

/** mm. */
const OFF_BOARD = 1e-3

export function makeWalk(scene: Scene, ray: Float64Array, stream: Int32Array): Walk {
  const { params: p, frames, rings, boards, faceCorners } = scene
  /** Rays may start downwards, or be stopped by a board. */
  const plain = frames.length === 0 && p[P.byRays] === 0
  /** Some boards stop light: none leaves the lamp before it has been asked whether it meets one. */
  const boardsStop = boards.length > 0
  const hasTunnel = p[P.hasTunnel]! > 0
  const zIn = p[P.zIn]!
  const zOut = p[P.zOut]!
  const rIn = p[P.rIn]!
  const sides = p[P.sides]!
  const rOut = hasTunnel ? sectionAt(p, zOut) : 0
  const wallRho = p[P.wallRho]!
  const faceShape = p[P.faceShape]!
  const faceHalf = p[P.faceHalf]!
  const faceHalfY = p[P.faceHalfY]!
  const faceRho = p[P.faceRho]!
  const lensKind = p[P.lensKind]!
  const lensFront = p[P.lensFront]!
  const lensHalf = p[P.lensHalf]!
  const lensSquare = p[P.lensSquare]! > 0
  const lensSign = p[P.lensSign]!
  const lensZ = p[P.lensZ]!
  const lensThickness = p[P.lensThickness]!
  const lensLayer = p[P.lensLayer]!
  const sun = p[P.source]! > 0

  /** Book a loss under its own line, or under the lens's returned light once the lens has sent the ray back. */
  function lose(t: Tally, line: number): void {
    lastLine = ray[RETURNED]! > 0 ? fate.lensReturnedLost : line
    t.book(ray, lastLine)
  }

  /** End the path with all its weight on one line. */
  function endAt(t: Tally, line: number): number {
    ray[LOSS] = ray[W]!
    leaving = goesOn[line] ? ray[W]! : 0
    // What the tracer itself gave up keeps its own line, so that the check on it sees all of it.
    if (line === fate.limit || line === fate.lost) t.book(ray, line)
    else lose(t, line)
    ray[W] = 0
    lastFate = ray[RETURNED]! > 0 && line !== fate.limit && line !== fate.lost ? fate.lensReturnedLost : line
    return ENDED
  }
  let lastFate = 0
  let lastLine = 0
  let leaving = 0

  function deliver(t: Tally): number {
    leaving = ray[W]!
    t.deliver(ray, ray[RISER]! > 0 ? fate.deliveredViaRiser : fate.delivered)
    lastFate = ray[RISER]! > 0 ? fate.deliveredViaRiser : fate.delivered
    ray[W] = 0
    return ENDED
  }

  function moveTo(z: number): void {
    const s = (z - ray[Z]!) / ray[DZ]!
    ray[X]! += s * ray[DX]!
    ray[Y]! += s * ray[DY]!
    ray[Z] = z
  }

  /** After a loss: the game of survival under a small weight, booked so that the ledger closes exactly. */
  function roulette(t: Tally): number {
    if (ray[W]! >= SMALL || ray[W]! === 0) return 1
    const w = ray[W]!
    if (draw(stream) < 0.5) {
      ray[LOSS] = w
      t.book(ray, fate.roulette)
      ray[W] = 0
      lastFate = fate.roulette
      return 0
    }
    ray[LOSS] = -w
    t.book(ray, fate.roulette)
    ray[W] = 2 * w
    return 1
  }

  function hitFace(t: Tally): number {
    moveTo(0)
    if (!insideFace(ray[X]!, ray[Y]!, faceShape, faceHalf, faceHalfY, faceCorners)) return endAt(t, fate.behindFace)
    t.onFace(ray)
    ray[LOSS] = ray[W]! * (1 - faceRho)
    lose(t, fate.face)
    ray[W]! *= faceRho
    lastFate = ray[RETURNED]! > 0 ? fate.lensReturnedLost : fate.face
    if (ray[W]! === 0 || roulette(t) === 0) return ENDED
    ray[NX] = 0
    ray[NY] = 0
    ray[NZ] = 1
    lambertian(ray, stream)
    return !hasTunnel && lensKind === 0 && !boardsStop ? deliver(t) : GAP_BELOW
  }

  /** A board stops the ray, or the ray leaves the lamp past all of them; −1 where it goes on through its zone. */
  function meetBoard(t: Tally, zone: number): number {
    if (!meetsBoard(ray, p, boards)) {
      const past = lensKind === 0 && ray[DZ]! > 0 && (zone === GAP_ABOVE || (zone === GAP_BELOW && !hasTunnel))
      return past ? deliver(t) : -1
    }
    const s = ray[REACH]!
    ray[X]! += s * ray[DX]!
    ray[Y]! += s * ray[DY]!
    ray[Z]! += s * ray[DZ]!
    t.onFace(ray)
    ray[LOSS] = ray[W]! * (1 - faceRho)
    lose(t, fate.face)
    ray[W]! *= faceRho
    lastFate = ray[RETURNED]! > 0 ? fate.lensReturnedLost : fate.face
    if (ray[W]! === 0 || roulette(t) === 0) return ENDED
    // Off the plane by more than single precision rounds, so that it isn't met again at once.
    ray[X]! += OFF_BOARD * ray[NX]!
    ray[Y]! += OFF_BOARD * ray[NY]!
    ray[Z]! += OFF_BOARD * ray[NZ]!
    lambertian(ray, stream)
    if (!hasTunnel || ray[Z]! < zIn) return GAP_BELOW
    return ray[Z]! > zOut ? GAP_ABOVE : TUNNEL
  }

  function crossGapBelow(t: Tally): number {
    const dz = ray[DZ]!
    if (dz < 0) return hitFace(t)
    if (dz === 0) return endAt(t, fate.leakedFaceGap)
    if (!hasTunnel) return reachLens(t)
    // Straight up: through the mouth, and if the outlet is clear too (a frustum is convex: nothing stands in between), past it.
    const along = 1 / dz
    const sx = ray[DX]! * along
    const sy = ray[DY]! * along
    const x = ray[X]! + (zIn - ray[Z]!) * sx
    const y = ray[Y]! + (zIn - ray[Z]!) * sy
    ray[X] = x
    ray[Y] = y
    ray[Z] = zIn
    if (!insideSection(x, y, rIn, sides)) return endAt(t, fate.leakedFaceGap)
    const xOut = x + (zOut - zIn) * sx
    const yOut = y + (zOut - zIn) * sy
    if (!insideSection(xOut, yOut, rOut, sides)) return TUNNEL_WALL
    if (lensKind === 0) {
      ray[X] = xOut
      ray[Y] = yOut
      ray[Z] = zOut
      return deliver(t)
    }
    ray[X] = x + (lensFront - zIn) * sx
    ray[Y] = y + (lensFront - zIn) * sy
    ray[Z] = lensFront
    return arriveAtLens(t)
  }

  function reachLens(t: Tally): number {
    moveTo(lensFront)
    return arriveAtLens(t)
  }

  function arriveAtLens(t: Tally): number {
    const x = ray[X]!
    const y = ray[Y]!
    const inside = lensSquare
      ? Math.abs(x) <= lensHalf && Math.abs(y) <= lensHalf
      : x * x + y * y <= lensHalf * lensHalf
    if (!inside) return endAt(t, fate.outsideLens)
    t.onLens(ray)
    return LENS
  }

  function crossTunnel(t: Tally): number {
    const dz = ray[DZ]!
    if (dz !== 0) {
      const zEnd = dz > 0 ? zOut : zIn
      const s = (zEnd - ray[Z]!) / dz
      const x = ray[X]! + s * ray[DX]!
      const y = ray[Y]! + s * ray[DY]!
      if (insideSection(x, y, dz > 0 ? rOut : rIn, sides)) {
        ray[X] = x
        ray[Y] = y
        ray[Z] = zEnd
        if (dz < 0) return GAP_BELOW
        return lensKind > 0 ? GAP_ABOVE : deliver(t)
      }
    }
    return meetWall(t)
  }

  function meetWall(t: Tally): number {
    const dz = ray[DZ]!
    toWall(ray, p)
    const s = ray[REACH]!
    const z = ray[Z]! + s * dz
    if (!(z >= zIn - 1e-3 && z <= zOut + 1e-3)) return endAt(t, fate.lost)
    ray[X]! += s * ray[DX]!
    ray[Y]! += s * ray[DY]!
    ray[Z] = Math.min(Math.max(z, zIn), zOut)
    t.onWall(ray)
    ray[LOSS] = ray[W]! * (1 - wallRho)
    lose(t, fate.wall)
    ray[W]! *= wallRho
    lastFate = ray[RETURNED]! > 0 ? fate.lensReturnedLost : fate.wall
    if (ray[W]! === 0 || roulette(t) === 0) return ENDED
    leaveWall(ray, stream, p)
    return TUNNEL
  }

  function crossGapAbove(t: Tally): number {
    const dz = ray[DZ]!
    if (dz > 0) return reachLens(t)
    if (dz === 0) return endAt(t, fate.leakedLensGap)
    if (!hasTunnel) return GAP_BELOW
    moveTo(zOut)
    if (insideSection(ray[X]!, ray[Y]!, rOut, sides)) return TUNNEL
    return endAt(t, fate.leakedLensGap)
  }

  /** Through the lens, from whichever side the ray comes; its absorption is booked here. */
  function crossLens(t: Tally): number {
    const fromFace = ray[DZ]! > 0
    const before = ray[W]!
    let towardsTarget: boolean
    if (lensKind === 1) {
      passIdeal(ray, p)
      towardsTarget = fromFace
    } else {
      const worked = fromFace === lensSign < 0
      ray[Z] = worked ? (lensKind === 3 ? lensLayer : 0) : -lensThickness
      ray[DZ] = lensSign * ray[DZ]!
      let outcome = LEAVES_WORKED
      if (lensKind === 2) outcome = passSolid(ray, stream, p, worked)
      else if (worked || !passDirect(ray, stream, p, rings)) outcome = passFresnel(ray, stream, p, rings, worked)
      ray[Z] = lensZ + lensSign * ray[Z]!
      ray[DZ] = lensSign * ray[DZ]!
      ray[LOSS] = before - ray[W]!
      if (ray[LOSS]! > 0) lose(t, fate.lensAbsorbed)
      if (outcome === ENDS_AT_RIM) return endAt(t, fate.lensRim)
      if (outcome !== LEAVES_WORKED && outcome !== LEAVES_FLAT) return endAt(t, fate.limit)
      towardsTarget = (outcome === LEAVES_WORKED) === lensSign > 0
    }
    if (towardsTarget) {
      // Light scattered sideways by the outermost grooves may run past the lens; what heads back is no beam.
      return ray[DZ]! > 0 ? deliver(t) : passRim(t)
    }
    if (ray[DZ]! > 0) return passRim(t)
    if (sun) {
      if (ray[ENTERED] === 0) {
        ray[ENTERED] = 1
        t.enter(ray)
      }
    } else ray[RETURNED] = 1
    return hasTunnel ? GAP_ABOVE : GAP_BELOW
  }

  /** Scattered past the lens's rim: it ends there in the ledger, and goes on in the air. */
  function passRim(t: Tally): number {
    const w = ray[W]!
    endAt(t, fate.lensRim)
    leaving = w
    return ENDED
  }

  function follow(t: Tally, start: number, trail: Trail | null): void {
    let zone = start
    if (zone !== ENDED) leaving = 0
    for (let step = 0; zone !== ENDED; step++) {
      if (step >= STEP_LIMIT) {
        endAt(t, fate.limit)
        break
      }
      const before = ray[W]!
      if (trail) trail.point(ray[X]!, ray[Y]!, ray[Z]!, zone === LENS)
      const met = boardsStop && zone !== LENS ? meetBoard(t, zone) : -1
      if (met >= 0) zone = met
      else if (zone === TUNNEL) zone = crossTunnel(t)
      else if (zone === LENS) zone = crossLens(t)
      else if (zone === TUNNEL_WALL) zone = meetWall(t)
      else if (zone === GAP_ABOVE) zone = crossGapAbove(t)
      else zone = crossGapBelow(t)
      if (trail && zone !== ENDED && trail.stops(1 - ray[W]! / before)) {
        lastFate = lastLine
        break
      }
    }
    if (trail) trail.point(ray[X]!, ray[Y]!, ray[Z]!, false)
  }

  function begin(t: Tally): number {
    const leaves = lensKind === 0 && (plain || (ray[DZ]! > 0 && !boardsStop))
    if (hasTunnel && ray[Z]! >= zIn) {
      if (ray[Z]! >= zOut) return leaves ? deliver(t) : GAP_ABOVE
      return insideSection(ray[X]!, ray[Y]!, sectionAt(p, ray[Z]!), sides) ? TUNNEL : endAt(t, fate.blocked)
    }
    return !hasTunnel && leaves ? deliver(t) : GAP_BELOW
  }

  function beginSun(t: Tally): number {
    if (lensKind > 0) return LENS
    if (!hasTunnel) return GAP_BELOW
    return insideSection(ray[X]!, ray[Y]!, rOut, sides) ? TUNNEL : endAt(t, fate.outsideLens)
  }

  const placeAndAim = (first: Float64Array) => leaveSun(ray, p, first)
  return {
    begin,
    leaveSun: placeAndAim,
    beginSun,
    follow,
    endAt,
    deliver,
    lastFate: () => lastFate,
    lastEscape: () => leaving,
  }
}
