// The hottest disc near a place in the air: found by a compass search, square to the net flux, and moved to the waist of its light.
import type { Segments } from '../../run/segments.ts'
import {
  type Crossings,
  type CrossingsRoom,
  crossAxes,
  crowdOn,
  makeCrossingsRoom,
  powerOn,
  projectNear,
  readDirection,
  readWaist,
  type SearchBounds,
} from './crossings.ts'
import type { FacingDisc } from './disc.ts'
import { dot, gatherNear, makeNearRoom, type Near, type Place, powerThrough, startDirection, type V3 } from './near.ts'

const moved = (c: V3, by: V3, step: number): V3 => [c[0] + step * by[0], c[1] + step * by[1], c[2] + step * by[2]]

/** How far about a place segments are gathered, and how far the disc may move before they are gathered anew: radii of the disc. */
const REACH = 5
const MOST_MOVED = 2.5
/** Steps begin at half a radius, and end at this share of it. */
const LAST_STEP = 1 / 16
const TURNS = 3
/** Light that runs together more slowly than this is followed no faster along its way, rad. */
const LEAST_SPREAD = 0.002
/** More segments than these add little to where the disc comes to lie. */
const MOST_NEAR = 3000

export interface ClimbOptions {
  /** The disc's centre keeps to places where this holds. */
  mayLie?: (xMm: number, yMm: number, zMm: number) => boolean
  /** The disc's centre keeps to the plane through its start that is square to this unit vector. */
  across?: readonly [number, number, number]
  /** It climbs on so many of the segments near by. */
  mostNear?: number
}

/**
 * The disc of this diameter near a place that the most power crosses, square to the mean direction of what crosses it: compass search over
 * three axes (steps halved until R/16), the direction read anew after each. Null: no light there.
 * The step along the light is as much longer as its rays run together slowly.
 */
export function climbDisc(
  segments: Segments,
  start: Place,
  discMm: number,
  { mayLie = () => true, across, mostNear = MOST_NEAR }: ClimbOptions = {},
): (FacingDisc & { spread: number }) | null {
  const radius = discMm / 2
  let at: Place = start
  for (let gathered = 0; ; gathered++) {
    const near = gatherNear(segments, at, REACH * radius, mostNear, climbRoom)
    const n = startDirection(near, radius)
    if (!n) return null
    const { xMm, yMm, zMm } = at
    const allowed = (c: V3) => mayLie(xMm + c[0], yMm + c[1], zMm + c[2])
    const top = climbNear({ near, radius, mayLie: allowed, across: across as V3 | undefined }, n)
    const [x, y, z] = top.c
    at = { xMm: at.xMm + x, yMm: at.yMm + y, zMm: at.zMm + z }
    if (!top.farOff || gathered >= 4) return { ...at, dx: top.n[0], dy: top.n[1], dz: top.n[2], spread: top.spread }
  }
}

interface Climb {
  near: Near
  radius: number
  mayLie: (c: V3) => boolean
  across: V3 | undefined
}

/** Of the direction at the start, which both climbs begin with, and of the one that was read last: used again from climb to climb. */
const climbRoom = makeNearRoom()
const waistRoom = makeNearRoom()
let rooms: [CrossingsRoom, CrossingsRoom] = [makeCrossingsRoom(0), makeCrossingsRoom(0)]

function roomsFor(count: number): typeof rooms {
  if (rooms[0].a.length < count) rooms = [makeCrossingsRoom(count), makeCrossingsRoom(count)]
  return rooms
}

/**
 * From the start, and from where the light within two radii lies closest: two spots that just fit into the disc, each beside its edge, are
 * found from between them only. The better of both.
 */
function climbNear(climb: Climb, first: V3): { c: V3; n: V3; spread: number; farOff: boolean } {
  const { near, radius } = climb
  const [room] = roomsFor(near.count)
  const crossings = projectNear(near, first, boundsFor([0, 0, 0], first, 0, radius, 2 * radius), room)
  const start: V3 = [0, 0, 0]
  const between = compass(climb, crossings, start, 0, crowdOn)
  let top = climbFrom(climb, start, crossings)
  if (between !== start) {
    const other = climbFrom(climb, between, crossings)
    const through = ({ c, n }: typeof top) => powerThrough(near, c, n, radius)
    if (through(other) > through(top)) top = other
  }
  return { ...top, farOff: Math.hypot(...top.c) > 1.5 * radius }
}

function climbFrom(climb: Climb, start: V3, first: Crossings): { c: V3; n: V3; spread: number } {
  const { near, radius } = climb
  const [, room] = roomsFor(near.count)
  let [c, crossings, spread] = [start, first, 0]
  for (let turn = 0; turn <= TURNS; turn++) {
    const direction = readDirection(near, crossings, c, radius)
    if (direction) {
      spread = direction.spread
      crossings = projectNear(near, direction.n, boundsFor(c, direction.n, spread, radius, radius), room)
    }
    if (turn < TURNS) c = compass(climb, crossings, c, spread, powerOn)
  }
  return { c, n: crossings.n, spread }
}

/** Steps along light that runs together slowly are so many times as long. */
const lengthening = (spread: number): number => 1 / Math.max(LEAST_SPREAD, Math.min(1, spread || 1))

/** What a compass search from c looks at (`isBeyond`), in discs of this reach. */
function boundsFor(c: V3, n: V3, spread: number, radius: number, reach: number): SearchBounds {
  const along = Math.abs(dot(c, n))
  const across = Math.sqrt(Math.max(0, dot(c, c) - along * along))
  return {
    acrossMm: 1.0001 * (Math.max(MOST_MOVED * radius, across) + reach),
    alongMm: 1.0001 * Math.max(MOST_MOVED * radius * lengthening(spread), along),
  }
}

/** Numbers of positions on the lattice of the least step, which reaches less than this far either way. */
const LATTICE = 128

/** Compass search for the most of `strength`; steps along the light are as much longer as its rays run together slowly. */
function compass(
  { radius, mayLie, across }: Climb,
  crossings: Crossings,
  start: V3,
  spread: number,
  strength: (crossings: Crossings, c: V3, radius: number) => number,
): V3 {
  const { n } = crossings
  const [u, v] = across ? crossAxes(across) : [crossings.u, crossings.v]
  const long = lengthening(spread)
  let c = start
  let most = strength(crossings, c, radius)
  // What was less once is never more: a place is looked at once.
  const seen = new Set<number>()
  let at = (LATTICE * 2 * LATTICE + LATTICE) * 2 * LATTICE + LATTICE
  seen.add(at)
  const axes: [V3, number, number][] = [
    [u, 1, 1],
    [v, 1, 2 * LATTICE],
    [n, long, 4 * LATTICE * LATTICE],
  ]
  if (across) axes.pop()
  let units = 0.5 / LAST_STEP
  for (let step = radius / 2; step >= radius * LAST_STEP; step /= 2, units /= 2) {
    for (let better = true; better; ) {
      better = false
      for (const [by, stretch, stride] of axes)
        for (const sign of [1, -1]) {
          const number = at + sign * units * stride
          if (seen.has(number)) continue
          seen.add(number)
          const there = moved(c, by, sign * step * stretch)
          if (isBeyond(there, n, radius, long) || !mayLie(there)) continue
          const value = strength(crossings, there, radius)
          if (value > most * (1 + 1e-6)) {
            ;[c, most, better, at] = [there, value, true, number]
          }
        }
    }
  }
  return c
}

/** Beyond this the gathered segments are no longer all. */
function isBeyond(c: V3, n: V3, radius: number, long: number): boolean {
  const along = Math.abs(dot(c, n))
  return Math.sqrt(Math.max(0, dot(c, c) - along * along)) + along / long > MOST_MOVED * radius
}

const ANYWHERE: SearchBounds = { acrossMm: Number.POSITIVE_INFINITY, alongMm: Number.POSITIVE_INFINITY }

/** Where a small focus lies in the disc over a depth, no more of its power may be lost than this on the way to its waist. */
const WAIST_LOSS = 0.01

/**
 * The disc moved to where its rays lie closest together, t = −cov(place, direction)/var(direction) along the light, and onto their middle,
 * as long as it holds them there. With all segments: a place chosen so is no hotter by chance.
 */
export function moveToWaist<T extends FacingDisc & { spread: number }>(
  segments: Segments,
  disc: T,
  discMm: number,
  mayLie: ClimbOptions['mayLie'] = () => true,
): T {
  const radius = discMm / 2
  const near = gatherNear(segments, disc, REACH * radius, Number.POSITIVE_INFINITY, waistRoom)
  const [room] = roomsFor(near.count)
  const crossings = projectNear(near, [disc.dx, disc.dy, disc.dz], ANYWHERE, room)
  const { n, u, v } = crossings
  let c: V3 = [0, 0, 0]
  const most = powerOn(crossings, c, radius)
  const reach = (MOST_MOVED * radius) / Math.max(LEAST_SPREAD, disc.spread)
  for (let round = 0; round < 4; round++) {
    const waist = readWaist(crossings, c, radius)
    const step = Math.max(-reach, Math.min(reach, waist.ahead))
    const there = moved(moved(moved(c, u, waist.offU), v, waist.offV), n, step)
    const at = { xMm: disc.xMm + there[0], yMm: disc.yMm + there[1], zMm: disc.zMm + there[2] }
    if (!mayLie(at.xMm, at.yMm, at.zMm) || powerOn(crossings, there, radius) < (1 - WAIST_LOSS) * most) break
    c = there
    if (Math.abs(step) + Math.abs(waist.offU) + Math.abs(waist.offV) < 0.01 * radius) break
  }
  return { ...disc, xMm: disc.xMm + c[0], yMm: disc.yMm + c[1], zMm: disc.zMm + c[2] }
}
