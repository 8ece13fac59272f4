// Twin of src/engine/forward/kernel.ts and walk.ts for a plain lamp, its own light and the sun's. Solid lenses are the host's. Every number has the reference's bits: tests/engine/forward/wasm.test.ts.
import * as C from './constants'
import { passDirect } from '../../../optics/wasm/direct'
import { draw, runKey } from '../../../optics/wasm/draws'
import { passFresnel } from '../../../optics/wasm/grooves'
import { passIdeal } from '../../../optics/wasm/idealLens'
import { lambertian } from '../../../optics/wasm/interface'
import { sobolStep } from '../../../optics/wasm/sobol'
import { placeSun } from '../../../optics/wasm/sun'
import { insideFace, insideSection, leaveWall, sectionAt, toWall } from '../../../optics/wasm/wall'
import { emitRay, emitSun } from './emission'
import { solidHost } from './host'
import { exitAt, exits, param, ray, segmentAt, segments, set, setSegmentAt, startExits } from './memory'
import { BYTES, corner, goOn, startPath } from './recorder'
import { book, deliver, enter, onFace, onLens, onWall, setRecord } from './tally'

export { place } from './memory'

const ENDED = 0
const GAP_BELOW = 1
const TUNNEL = 2
const GAP_ABOVE = 3
const LENS = 4
const TUNNEL_WALL = 5
const SMALL: f64 = 0.01

let rOut: f64 = 0
let sun = false
/** Weight with which the last ray went on into the open, and whether where no beam should be. */
let leaving: f64 = 0
let leaks = false

function lose(line: i32): void {
  book(ray(C.RETURNED) > 0 ? C.F_lensReturnedLost : line)
}

function endAt(line: i32): i32 {
  set(C.LOSS, ray(C.W))
  leaving = (C.OPEN_LINES >> line) & 1 ? ray(C.W) : 0
  leaks = true
  if (line == C.F_limit || line == C.F_lost) book(line)
  else lose(line)
  set(C.W, 0)
  return ENDED
}

function leave(): i32 {
  leaving = ray(C.W)
  leaks = false
  deliver()
  set(C.W, 0)
  return ENDED
}

function moveTo(z: f64): void {
  const s = (z - ray(C.Z)) / ray(C.DZ)
  set(C.X, ray(C.X) + s * ray(C.DX))
  set(C.Y, ray(C.Y) + s * ray(C.DY))
  set(C.Z, z)
}

function roulette(): bool {
  const w = ray(C.W)
  if (w >= SMALL || w == 0) return true
  if (draw() < 0.5) {
    set(C.LOSS, w)
    book(C.F_roulette)
    set(C.W, 0)
    return false
  }
  set(C.LOSS, -w)
  book(C.F_roulette)
  set(C.W, 2 * w)
  return true
}

function hitFace(): i32 {
  moveTo(0)
  if (!insideFace(ray(C.X), ray(C.Y))) return endAt(C.F_behindFace)
  onFace()
  const rho = param(C.P_faceRho)
  set(C.LOSS, ray(C.W) * (1 - rho))
  lose(C.F_face)
  set(C.W, ray(C.W) * rho)
  if (ray(C.W) == 0 || !roulette()) return ENDED
  set(C.NX, 0)
  set(C.NY, 0)
  set(C.NZ, 1)
  lambertian()
  return param(C.P_hasTunnel) == 0 && param(C.P_lensKind) == 0 ? leave() : GAP_BELOW
}

function arriveAtLens(): i32 {
  const x = ray(C.X)
  const y = ray(C.Y)
  const half = param(C.P_lensHalf)
  const inside =
    param(C.P_lensSquare) > 0 ? Math.abs(x) <= half && Math.abs(y) <= half : x * x + y * y <= half * half
  if (!inside) return endAt(C.F_outsideLens)
  onLens()
  return LENS
}

function reachLens(): i32 {
  moveTo(param(C.P_lensFront))
  return arriveAtLens()
}

function crossGapBelow(): i32 {
  const dz = ray(C.DZ)
  if (dz < 0) return hitFace()
  if (dz == 0) return endAt(C.F_leakedFaceGap)
  if (param(C.P_hasTunnel) == 0) return reachLens()
  const zIn = param(C.P_zIn)
  const zOut = param(C.P_zOut)
  const along = 1 / dz
  const sx = ray(C.DX) * along
  const sy = ray(C.DY) * along
  const x = ray(C.X) + (zIn - ray(C.Z)) * sx
  const y = ray(C.Y) + (zIn - ray(C.Z)) * sy
  set(C.X, x)
  set(C.Y, y)
  set(C.Z, zIn)
  if (!insideSection(x, y, param(C.P_rIn))) return endAt(C.F_leakedFaceGap)
  const xOut = x + (zOut - zIn) * sx
  const yOut = y + (zOut - zIn) * sy
  if (!insideSection(xOut, yOut, rOut)) return TUNNEL_WALL
  if (param(C.P_lensKind) == 0) {
    set(C.X, xOut)
    set(C.Y, yOut)
    set(C.Z, zOut)
    return leave()
  }
  const lensFront = param(C.P_lensFront)
  set(C.X, x + (lensFront - zIn) * sx)
  set(C.Y, y + (lensFront - zIn) * sy)
  set(C.Z, lensFront)
  return arriveAtLens()
}

function meetWall(): i32 {
  const zIn = param(C.P_zIn)
  const zOut = param(C.P_zOut)
  const dz = ray(C.DZ)
  toWall()
  const s = ray(C.REACH)
  const z = ray(C.Z) + s * dz
  if (!(z >= zIn - 1e-3 && z <= zOut + 1e-3)) return endAt(C.F_lost)
  set(C.X, ray(C.X) + s * ray(C.DX))
  set(C.Y, ray(C.Y) + s * ray(C.DY))
  set(C.Z, Math.min(Math.max(z, zIn), zOut))
  onWall()
  const rho = param(C.P_wallRho)
  set(C.LOSS, ray(C.W) * (1 - rho))
  lose(C.F_wall)
  set(C.W, ray(C.W) * rho)
  if (ray(C.W) == 0 || !roulette()) return ENDED
  leaveWall()
  return TUNNEL
}

function crossTunnel(): i32 {
  const dz = ray(C.DZ)
  if (dz != 0) {
    const zEnd = dz > 0 ? param(C.P_zOut) : param(C.P_zIn)
    const s = (zEnd - ray(C.Z)) / dz
    const x = ray(C.X) + s * ray(C.DX)
    const y = ray(C.Y) + s * ray(C.DY)
    if (insideSection(x, y, dz > 0 ? rOut : param(C.P_rIn))) {
      set(C.X, x)
      set(C.Y, y)
      set(C.Z, zEnd)
      if (dz < 0) return GAP_BELOW
      return param(C.P_lensKind) > 0 ? GAP_ABOVE : leave()
    }
  }
  return meetWall()
}

function crossGapAbove(): i32 {
  const dz = ray(C.DZ)
  if (dz > 0) return reachLens()
  if (dz == 0) return endAt(C.F_leakedLensGap)
  if (param(C.P_hasTunnel) == 0) return GAP_BELOW
  moveTo(param(C.P_zOut))
  if (insideSection(ray(C.X), ray(C.Y), rOut)) return TUNNEL
  return endAt(C.F_leakedLensGap)
}

function crossLens(): i32 {
  const kind = param(C.P_lensKind)
  const sign = param(C.P_lensSign)
  const fromFace = ray(C.DZ) > 0
  const before = ray(C.W)
  let towardsTarget: bool
  if (kind == 1) {
    passIdeal()
    towardsTarget = fromFace
  } else {
    const worked = fromFace == sign < 0
    set(C.Z, worked ? (kind == 3 ? param(C.P_lensLayer) : 0) : -param(C.P_lensThickness))
    set(C.DZ, sign * ray(C.DZ))
    let outcome = C.LEAVES_WORKED
    if (kind == 2) outcome = solidHost(worked ? 1 : 0)
    else if (worked || !passDirect()) outcome = passFresnel(worked, false)
    set(C.Z, param(C.P_lensZ) + sign * ray(C.Z))
    set(C.DZ, sign * ray(C.DZ))
    set(C.LOSS, before - ray(C.W))
    if (ray(C.LOSS) > 0) lose(C.F_lensAbsorbed)
    if (outcome == C.ENDS_AT_RIM) return endAt(C.F_lensRim)
    if (outcome != C.LEAVES_WORKED && outcome != C.LEAVES_FLAT) return endAt(C.F_limit)
    towardsTarget = (outcome == C.LEAVES_WORKED) == sign > 0
  }
  if (towardsTarget) return ray(C.DZ) > 0 ? leave() : passRim()
  if (ray(C.DZ) > 0) return passRim()
  if (!sun) set(C.RETURNED, 1)
  else if (ray(C.ENTERED) == 0) {
    set(C.ENTERED, 1)
    enter()
  }
  return param(C.P_hasTunnel) > 0 ? GAP_ABOVE : GAP_BELOW
}

function passRim(): i32 {
  const w = ray(C.W)
  endAt(C.F_lensRim)
  leaving = w
  return ENDED
}

/** Where a ray begins; it may end at once. */
function firstZone(): i32 {
  const leaves = param(C.P_lensKind) == 0 && (param(C.P_byRays) == 0 || ray(C.DZ) > 0)
  if (param(C.P_hasTunnel) > 0 && ray(C.Z) >= param(C.P_zIn)) {
    if (ray(C.Z) >= param(C.P_zOut)) return leaves ? leave() : GAP_ABOVE
    return insideSection(ray(C.X), ray(C.Y), sectionAt(ray(C.Z))) ? TUNNEL : endAt(C.F_blocked)
  }
  return param(C.P_hasTunnel) == 0 && leaves ? leave() : GAP_BELOW
}

/** The same of a ray of the sun. */
function firstZoneOfSun(): i32 {
  if (param(C.P_lensKind) > 0) return LENS
  if (param(C.P_hasTunnel) == 0) return GAP_BELOW
  return insideSection(ray(C.X), ray(C.Y), rOut) ? TUNNEL : endAt(C.F_outsideLens)
}

function cross(zone: i32): i32 {
  if (zone == TUNNEL) return crossTunnel()
  if (zone == LENS) return crossLens()
  if (zone == TUNNEL_WALL) return meetWall()
  if (zone == GAP_ABOVE) return crossGapAbove()
  return crossGapBelow()
}

function follow(start: i32): void {
  let zone = start
  for (let step = 0; zone != ENDED; step++) {
    if (step >= C.STEP_LIMIT) {
      endAt(C.F_limit)
      return
    }
    zone = cross(zone)
  }
}

/** As follow, and keeps the segments in air. */
function followRecorded(start: i32): void {
  let zone = start
  if (zone != ENDED) leaving = 0
  startPath()
  for (let step = 0; zone != ENDED; step++) {
    if (step >= C.STEP_LIMIT) {
      endAt(C.F_limit)
      break
    }
    corner(zone == LENS)
    zone = cross(zone)
  }
  corner(false)
  if (leaving > 0) goOn(leaving, leaks)
}

function begin(): void {
  sun = param(C.P_source) > 0
  if (sun) placeSun()
  rOut = param(C.P_hasTunnel) > 0 ? sectionAt(param(C.P_zOut)) : 0
}

/** Zone of the ray with this index, which the sequence stands at. */
function startRay(run: i32, batch: i32, index: i32, emitters: i32): i32 {
  if (sun) {
    emitSun(run, index)
    return firstZoneOfSun()
  }
  return emitRay(run, batch, index, emitters) ? firstZone() : endAt(C.F_blocked)
}

/**
 * Rays [from, to) of a batch; the host has put point `from` in place. Rays before `recordBelow` leave exit records. Gives the bytes of those.
 */
export function trace(seed: i32, batch: i32, from: i32, to: i32, recordBelow: i32): usize {
  const emitters = <i32>param(C.P_emitters)
  const run = runKey(seed, batch)
  begin()
  startExits()
  for (let j = from; j < to; j++) {
    if (j != from) sobolStep(j)
    setRecord(!sun && j < recordBelow, sun && j < recordBelow)
    follow(startRay(run, batch, j, emitters))
  }
  return exitAt - exits
}

/** Bytes of the segments of one path: one for each step and one into the open. */
const ONE_PATH: usize = (<usize>C.STEP_LIMIT + 2) * BYTES

export function startSegments(): void {
  setSegmentAt(segments)
}
/** Bytes of all that were kept since. */
export function segmentBytes(): usize {
  return segmentAt - segments
}

/** As trace, keeping segments in place of exit records; gives the first ray for which the memory, which ends at `end`, might have no room. */
export function record(seed: i32, batch: i32, from: i32, to: i32, end: usize): i32 {
  const emitters = <i32>param(C.P_emitters)
  const run = runKey(seed, batch)
  begin()
  setRecord(false, false)
  let j = from
  for (; j < to && segmentAt + ONE_PATH <= end; j++) {
    if (j != from) sobolStep(j)
    followRecorded(startRay(run, batch, j, emitters))
  }
  return j
}
