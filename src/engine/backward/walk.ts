// A backward ray's way from the lamp's outermost opening down to the emitters: the same zones, surfaces and draws as the forward walk
// (walk.ts), in reverse; differences are stated where they occur. No ledger: only the weight counts.
//
// At a refracting surface the weight stays 1. L/n² is constant along a ray [1]; the ray starts and ends in air, so the factors n²
// cancel over the path, and the share that is refracted (or reflected) is the same from both sides of the same path. Backward rays choose
// between the two by the draw that forward rays use.
// References: [1] E. Veach, Robust Monte Carlo Methods for Light Transport Simulation (1997), 5.2 (non-symmetric scattering by refraction).
import { meetsBoard } from '../../optics/boards.ts'
import { NEVER } from '../../optics/cone.ts'
import { passDirect } from '../../optics/direct.ts'
import { draw } from '../../optics/draws.ts'
import { insideFace } from '../../optics/face.ts'
import { passFresnel } from '../../optics/grooves.ts'
import { passIdeal } from '../../optics/idealLens.ts'
import { lambertian } from '../../optics/interface.ts'
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
import { passSolid } from '../../optics/solidLens.ts'
import { insideSection, sectionAt, toWall } from '../../optics/wall.ts'
import { leaveWallBack } from '../../optics/wallBack.ts'
import type { Scene } from '../../scene/scene.ts'
import type { CollectedRadiance } from './radiance.ts'

const ENDED = 0
const GAP_BELOW = 1
const TUNNEL = 2
const GAP_ABOVE = 3
const LENS_FROM_FACE = 4
const LENS_FROM_TARGET = 5
/** Under this weight the roulette begins; a survivor is doubled. */
const SMALL = 0.01

/** From the outermost opening on; the ray starts in it, pointing down, or on a surface from which light leaves at once (its normal in the axis slots). */
export type BackwardWalk = () => void

export function makeBackwardWalk(
  scene: Scene,
  ray: Float64Array,
  stream: Int32Array,
  score: CollectedRadiance,
): BackwardWalk {
  const { params: p, rings, frames, boards } = scene
  const framed = frames.length > 0
  const before = new Float64Array(RAY_SIZE)
  const hasTunnel = p[P.hasTunnel]! > 0
  const zIn = p[P.zIn]!
  const zOut = p[P.zOut]!
  const rIn = p[P.rIn]!
  const sides = p[P.sides]!
  const rOut = hasTunnel ? sectionAt(p, zOut) : 0
  const lensKind = p[P.lensKind]!
  const lensFront = p[P.lensFront]!
  const lensHalf = p[P.lensHalf]!
  const lensSquare = p[P.lensSquare]! > 0
  const lensSign = p[P.lensSign]!
  const lensLayer = p[P.lensLayer]!

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

  function onLens(): boolean {
    const x = ray[X]!
    const y = ray[Y]!
    return lensSquare ? Math.abs(x) <= lensHalf && Math.abs(y) <= lensHalf : x * x + y * y <= lensHalf * lensHalf
  }

  function hitFace(): number {
    score.descend(0)
    moveTo(0)
    if (!insideFace(ray[X]!, ray[Y]!, p[P.faceShape]!, p[P.faceHalf]!)) return ENDED
    ray[W]! *= p[P.faceRho]!
    if (!survives()) return ENDED
    ray[NX] = 0
    ray[NY] = 0
    ray[NZ] = 1
    lambertian(ray, stream)
    return GAP_BELOW
  }

  function crossGapBelow(): number {
    if (ray[DZ]! < 0) return hitFace()
    if (ray[DZ] === 0) return ENDED
    if (!hasTunnel) return reachLens()
    moveTo(zIn)
    return insideSection(ray[X]!, ray[Y]!, rIn, sides) ? TUNNEL : ENDED
  }

  function reachLens(): number {
    if (lensKind === 0) return ENDED // out of the lamp: no light comes in there
    moveTo(lensFront)
    return onLens() ? LENS_FROM_FACE : ENDED
  }

  function crossTunnel(): number {
    const dz = ray[DZ]!
    if (dz !== 0) {
      const zEnd = dz > 0 ? zOut : zIn
      const s = (zEnd - ray[Z]!) / dz
      const x = ray[X]! + s * ray[DX]!
      const y = ray[Y]! + s * ray[DY]!
      if (insideSection(x, y, dz > 0 ? rOut : rIn, sides)) {
        if (dz < 0) score.descend(zIn)
        ray[X] = x
        ray[Y] = y
        ray[Z] = zEnd
        return dz < 0 ? GAP_BELOW : GAP_ABOVE
      }
    }
    return meetWall()
  }

  function meetWall(): number {
    toWall(ray, p)
    const s = ray[REACH]!
    const z = ray[Z]! + s * ray[DZ]!
    if (!(z >= zIn - 1e-3 && z <= zOut + 1e-3)) return ENDED
    const zWall = Math.min(Math.max(z, zIn), zOut)
    if (ray[DZ]! < 0) score.descend(zWall)
    ray[X]! += s * ray[DX]!
    ray[Y]! += s * ray[DY]!
    ray[Z] = zWall
    ray[W]! *= p[P.wallRho]!
    if (!survives()) return ENDED
    leaveWallBack(ray, stream, p)
    return ray[W]! > 0 ? TUNNEL : ENDED
  }

  function crossGapAbove(): number {
    if (ray[DZ]! > 0) return reachLens()
    if (ray[DZ] === 0) return ENDED
    if (!hasTunnel) return GAP_BELOW
    score.descend(zOut)
    moveTo(zOut)
    return insideSection(ray[X]!, ray[Y]!, rOut, sides) ? TUNNEL : ENDED
  }

  function crossLens(fromFace: boolean): number {
    if (lensKind === 1) {
      if (fromFace) return ENDED
      // The ideal lens maps slopes, not solid angles: cosθ dω = cos⁴θ du dv in slopes u, v, and du dv is constant. So L goes as cos⁴θ.
      const before = ray[DZ]!
      passIdeal(ray, p)
      ray[W]! *= (ray[DZ]! / before) ** 4
      return below()
    }
    const worked = fromFace === lensSign < 0
    ray[Z] = lensSign * (ray[Z]! - p[P.lensZ]!)
    ray[DZ] = lensSign * ray[DZ]!
    if (fromFace) ray[Z] = worked ? (lensKind === 3 ? lensLayer : 0) : -p[P.lensThickness]!
    let outcome = LEAVES_WORKED
    if (lensKind === 2) outcome = passSolid(ray, stream, p, worked)
    else if (worked || !passDirect(ray, stream, p, rings)) outcome = passFresnel(ray, stream, p, rings, worked, true)
    ray[Z] = p[P.lensZ]! + lensSign * ray[Z]!
    ray[DZ] = lensSign * ray[DZ]!
    if (outcome !== LEAVES_WORKED && outcome !== LEAVES_FLAT) return ENDED
    if ((outcome === LEAVES_WORKED) === lensSign > 0 || !(ray[DZ]! < 0)) return ENDED // towards the target
    // Forward light comes in through the aperture in the front plane.
    moveTo(lensFront)
    if (!onLens()) return ENDED
    return survives() ? below() : ENDED
  }

  const below = () => (hasTunnel ? GAP_ABOVE : GAP_BELOW)

  const cross = (zone: number) =>
    zone === TUNNEL ? crossTunnel() : zone === GAP_ABOVE ? crossGapAbove() : crossGapBelow()

  /** A zone of a lamp with tilted emitters, which may be met on any straight way, up or down; boards may end it. */
  function crossTilted(zone: number): number {
    before.set(ray)
    if (boards.length > 0 && meetsBoard(ray, p, boards)) {
      const s = ray[REACH]!
      score.collect(before, s)
      ray[X]! += s * ray[DX]!
      ray[Y]! += s * ray[DY]!
      ray[Z]! += s * ray[DZ]!
      return leaveSurface()
    }
    if (lensKind === 0 && ray[DZ]! > 0 && (!hasTunnel || zone === GAP_ABOVE)) {
      score.collect(before, NEVER)
      return ENDED
    }
    const next = cross(zone)
    score.collect(before, Math.hypot(ray[X]! - before[X]!, ray[Y]! - before[Y]!, ray[Z]! - before[Z]!))
    return next
  }

  /** The ray stands on the face or on a board, whose normal is in the axis slots. */
  function leaveSurface(): number {
    ray[W]! *= p[P.faceRho]!
    if (!survives()) return ENDED
    lambertian(ray, stream)
    if (!hasTunnel || ray[Z]! < zIn) return GAP_BELOW
    return ray[Z]! > zOut ? GAP_ABOVE : TUNNEL
  }

  return () => {
    let zone = lensKind > 0 ? LENS_FROM_TARGET : hasTunnel ? TUNNEL : leaveSurface()
    for (let step = 0; zone !== ENDED && step < STEP_LIMIT; step++) {
      if (zone === LENS_FROM_FACE || zone === LENS_FROM_TARGET) zone = crossLens(zone === LENS_FROM_FACE)
      else zone = framed ? crossTilted(zone) : cross(zone)
    }
  }
}
