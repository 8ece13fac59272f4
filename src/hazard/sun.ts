// The sun falling into the lamp: where the lens throws it, on boards, face, wall, or in the air of the tunnel.
import { boardTypeOf, lampFromBoard } from '../lamp/place.ts'
import type { Board, BoardType, Lamp } from '../lamp/schema.ts'
import { rayColumns } from '../run/exits.ts'
import type { HotSpot } from '../run/figure.ts'
import type { Run } from '../run/types.ts'
import { readFaceSpot, readWallSpot, upperKWm2 } from './discs.ts'
import { climbDensity, makeCrowdFinder, measureDisc, type Passing, takeSample } from './planes.ts'

/** Half angle of the sun's disc, degrees: IAU nominal radius over the astronomical unit, rounded up (memory). */
export const SUN_HALF_DEG = 0.2666
const RAD = Math.PI / 180

/** A run of sunlight: emittedW is what falls on the lens, exits are the rays that have just come through it, heading for -z. */
export interface SunRun {
  tiltDeg: number
  run: Run
}

export interface SunAtTilt extends HotSpot {
  tiltDeg: number
  lands: 'board' | 'face' | 'wall' | 'air'
}

/** Light in the air must be so much stronger than on any part to count as a focus in the air. */
const AIR_FOCUS_RATIO = 2.5

/**
 * The worst spot inside at this tilt, kW/m², by the upper end of ±; null when nothing comes in.
 * Light that grazes a wall is stronger in the air just before it, on a plane across the axis, than on the wall; what
 * is mounted there (a screw, a seam, a bead of glue) faces it. So unless there is a real focus in the air, the spot
 * is where it lands, with the stronger of the two figures. Our choice.
 */
export function readSun({ tiltDeg, run }: SunRun, lamp: Lamp): SunAtTilt | null {
  const { air, parts } = readSunSpots({ tiltDeg, run }, lamp)
  const part = findWorstSun(parts)
  if (!air || !part) return air ?? part
  if (upperKWm2(air) > AIR_FOCUS_RATIO * upperKWm2(part)) return air
  return upperKWm2(air) > upperKWm2(part) ? { ...part, kWm2: air.kWm2, se: air.se } : part
}

/** The hottest spots, kW/m², one by one: on face or board, on the wall, and in the air. */
function readSunSpots({ tiltDeg, run }: SunRun, lamp: Lamp): { parts: SunAtTilt[]; air: SunAtTilt | null } {
  const discMm = lamp.reading.hotDiscMm
  const parts: SunAtTilt[] = []
  const face = readFaceSpot(run, discMm)
  if (face) parts.push({ ...face, tiltDeg, lands: isOnBoard(lamp, face) ? 'board' : 'face' })
  const wall = readWallSpot(run, discMm)
  if (wall) parts.push({ ...wall, tiltDeg, lands: 'wall' })
  const air = findAirSpot(run, lamp, discMm)
  return { parts, air: air && { ...air, tiltDeg, lands: 'air' } }
}

/** The spot with the greatest upper end of all: what the sheet calls "sun inside"; null for an empty list. */
export const findWorstSun = (suns: readonly SunAtTilt[]): SunAtTilt | null =>
  suns.reduce<SunAtTilt | null>((worst, s) => (worst && upperKWm2(worst) >= upperKWm2(s) ? worst : s), null)

/** Index of the board that any of the disc (mm) touches, or −1. A star counts as its full disc. */
export const findBoardUnder = (lamp: Lamp, { xMm, yMm, discMm }: Pick<HotSpot, 'xMm' | 'yMm' | 'discMm'>): number =>
  lamp.boards.findIndex((board: Board) => {
    const turned = { xMm: 0, yMm: 0, turnDeg: -board.turnDeg }
    const [x, y] = lampFromBoard(turned, xMm - board.xMm, yMm - board.yMm)
    return isInsideOutline(boardTypeOf(lamp, board).outline, x, y, discMm / 2)
  })

const isOnBoard = (lamp: Lamp, spot: HotSpot): boolean => findBoardUnder(lamp, spot) >= 0

function isInsideOutline(outline: BoardType['outline'], x: number, y: number, grow: number): boolean {
  if (outline.shape === 'rectangle')
    return Math.abs(x) <= outline.widthMm / 2 + grow && Math.abs(y) <= outline.heightMm / 2 + grow
  if (outline.shape === 'hexagon') {
    const across = (deg: number) => Math.abs(x * Math.cos(deg * RAD) + y * Math.sin(deg * RAD))
    return [0, 60, 120].every((deg) => across(deg) <= outline.acrossMm / 2 + grow)
  }
  return Math.hypot(x, y) <= (outline.shape === 'disc' ? outline.diameterMm : outline.acrossMm) / 2 + grow
}

const PLANES = 48

/**
 * In the air between lens and face, rays going straight: those the wall has stopped by then don't count (what the wall sends back
 * is on the maps of wall and face). A frustum is convex: a ray that enters its mouth inside and is inside now was inside all the way.
 */
function findAirSpot(run: Run, lamp: Lamp, discMm: number): HotSpot | null {
  const topZ = highestExitZMm(run)
  if (topZ === null) return null
  const rays = rayColumns(run, topZ, -1)
  const passes = makePassing(lamp, rays, topZ)
  const searchSample = takeSample(rays, (b) => b % 2 === 0, 16_384)
  const measureSample = takeSample(rays, (b) => b % 2 === 1, 65_536)
  const find = makeCrowdFinder(rays, searchSample, discMm, passes)
  const reach = Math.max(lamp.lens?.diameterMm ?? 0, lamp.tunnel?.outMm ?? 0, lamp.face.sizeMm) / 2
  let best: { distance: number; xMm: number; yMm: number; crowd: number } | null = null
  const tryAt = (distance: number, from?: { xMm: number; yMm: number }) => {
    const place = from ?? find(distance, reach)
    if (!place) return
    const here = climbDensity(rays, searchSample.index, distance, place, discMm, passes)
    if (!best || here.crowd > best.crowd) best = { ...here, distance }
  }
  for (let k = 1; k < PLANES; k++) tryAt((-topZ * k) / PLANES)
  const coarse = best as { distance: number; xMm: number; yMm: number; crowd: number } | null
  if (!coarse) return null
  for (let k = -6; k <= 6; k++) tryAt(Math.max(-topZ, Math.min(0, coarse.distance + (k * topZ) / (6 * PLANES))), coarse)
  const spot = best ?? coarse
  const { kWm2, se } = measureDisc(rays, measureSample, spot.distance, spot, discMm, 0, passes)
  return { kWm2, se, xMm: spot.xMm, yMm: spot.yMm, zMm: topZ + spot.distance, discMm }
}

function highestExitZMm({ exits }: Run): number | null {
  let top = Number.NEGATIVE_INFINITY
  for (let i = 0; i < exits.count; i++) top = Math.max(top, exits.data[9 * i + 2]!)
  return Number.isFinite(top) && top > 0 ? top : null
}

function makePassing(lamp: Lamp, rays: ReturnType<typeof rayColumns>, topZ: number): Passing | undefined {
  const { tunnel } = lamp
  if (!tunnel) return undefined
  const half = (z: number) =>
    (tunnel.inMm + ((tunnel.outMm - tunnel.inMm) * (z - tunnel.zInMm)) / (tunnel.zOutMm - tunnel.zInMm)) / 2
  const across = (x: number, y: number) => {
    if (tunnel.sides === 0) return Math.hypot(x, y)
    const step = (2 * Math.PI) / tunnel.sides
    const azimuth = Math.atan2(y, x)
    return Math.hypot(x, y) * Math.cos(azimuth - step * Math.round(azimuth / step))
  }
  const inside = (i: number, z: number) =>
    across(rays.xMm[i]! + rays.slopeX[i]! * (z - topZ), rays.yMm[i]! + rays.slopeY[i]! * (z - topZ)) < half(z)
  return (i, x, y, distance) => {
    const z = topZ + distance
    if (z >= tunnel.zOutMm) return true
    if (!inside(i, tunnel.zOutMm)) return false
    return z >= tunnel.zInMm ? across(x, y) < half(z) : inside(i, tunnel.zInMm)
  }
}

/** Diameter of the sun's image on the axis, mm: 2 f tan(half angle) (geometrical optics, textbook). */
export const sunImageDiameterMm = (focalMm: number, sunHalfDeg = SUN_HALF_DEG): number =>
  2 * focalMm * Math.tan(sunHalfDeg * RAD)

/**
 * Greatest concentration by a lens in air, (sin rim/sin sun)²: Winston and Welford, the étendue limit. sinRim in [0,
 * 1].
 */
export const concentrationLimit = (sinRim: number, sunHalfDeg = SUN_HALF_DEG): number =>
  (sinRim / Math.sin(sunHalfDeg * RAD)) ** 2
