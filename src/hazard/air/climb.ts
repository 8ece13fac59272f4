// The hottest disc near a place in the air: found by a compass search, square to the net flux, and moved to the waist of its light.
import type { Segments } from '../../run/segments.ts'
import type { FacingDisc } from './disc.ts'
import {
  crowdWithin,
  dot,
  forCrossing,
  gatherNear,
  type Near,
  type Place,
  powerThrough,
  readDirection,
  startDirection,
  type V3,
} from './near.ts'

function crossAxes(n: V3): [V3, V3] {
  const other: V3 = Math.abs(n[0]) < 0.6 ? [1, 0, 0] : [0, 1, 0]
  const u: V3 = [
    n[1] * other[2] - n[2] * other[1],
    n[2] * other[0] - n[0] * other[2],
    n[0] * other[1] - n[1] * other[0],
  ]
  const length = Math.hypot(...u)
  const a = u.map((x) => x / length) as V3
  return [a, [n[1] * a[2] - n[2] * a[1], n[2] * a[0] - n[0] * a[2], n[0] * a[1] - n[1] * a[0]]]
}

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
  { mayLie = () => true, across }: ClimbOptions = {},
): (FacingDisc & { spread: number }) | null {
  const radius = discMm / 2
  let at: Place = start
  for (let gathered = 0; ; gathered++) {
    const near = gatherNear(segments, at, REACH * radius, MOST_NEAR)
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

/**
 * From the start, and from where the light within two radii lies closest: two spots that just fit into the disc, each beside its edge, are
 * found from between them only. The better of both.
 */
function climbNear(climb: Climb, first: V3): { c: V3; n: V3; spread: number; farOff: boolean } {
  const { near, radius } = climb
  const between = compass(climb, [0, 0, 0], first, 0, crowdWithin)
  const tops = [[0, 0, 0] as V3, between].map((start) => climbFrom(climb, start, first))
  const powers = tops.map(({ c, n }) => powerThrough(near, c, n, radius))
  const top = tops[powers[1]! > powers[0]! ? 1 : 0]!
  return { ...top, farOff: Math.hypot(...top.c) > 1.5 * radius }
}

function climbFrom(climb: Climb, start: V3, first: V3): { c: V3; n: V3; spread: number } {
  const { near, radius } = climb
  let [c, n, spread] = [start, first, 0]
  for (let turn = 0; turn <= TURNS; turn++) {
    const direction = readDirection(near, c, n, radius)
    if (direction) ({ n, spread } = direction)
    if (turn < TURNS) c = compass(climb, c, n, spread, powerThrough)
  }
  return { c, n, spread }
}

/** Compass search for the most of `strength`; steps along the light are as much longer as its rays run together slowly. */
function compass(
  { near, radius, mayLie, across }: Climb,
  start: V3,
  n: V3,
  spread: number,
  strength: (near: Near, c: V3, n: V3, radius: number) => number,
): V3 {
  const [u, v] = crossAxes(across ?? n)
  const long = 1 / Math.max(LEAST_SPREAD, Math.min(1, spread || 1))
  let c = start
  let most = strength(near, c, n, radius)
  for (let step = radius / 2; step >= radius * LAST_STEP; step /= 2) {
    for (let better = true; better; ) {
      better = false
      for (const [by, size] of [
        [u, step],
        [u, -step],
        [v, step],
        [v, -step],
        ...(across
          ? []
          : ([
              [n, step * long],
              [n, -step * long],
            ] as const)),
      ] as const) {
        const there = moved(c, by, size)
        if (isBeyond(there, n, radius, long) || !mayLie(there)) continue
        const value = strength(near, there, n, radius)
        if (value > most * (1 + 1e-6)) {
          ;[c, most, better] = [there, value, true]
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
  const near = gatherNear(segments, disc, REACH * radius)
  const n: V3 = [disc.dx, disc.dy, disc.dz]
  let c: V3 = [0, 0, 0]
  const most = powerThrough(near, c, n, radius)
  const reach = (MOST_MOVED * radius) / Math.max(LEAST_SPREAD, disc.spread)
  for (let round = 0; round < 4; round++) {
    const waist = readWaist(near, c, n, radius)
    const step = Math.max(-reach, Math.min(reach, waist.ahead))
    const there = moved(moved(moved(c, waist.u, waist.offU), waist.v, waist.offV), n, step)
    const at = { xMm: disc.xMm + there[0], yMm: disc.yMm + there[1], zMm: disc.zMm + there[2] }
    if (!mayLie(at.xMm, at.yMm, at.zMm) || powerThrough(near, there, n, radius) < (1 - WAIST_LOSS) * most) break
    c = there
    if (Math.abs(step) + Math.abs(waist.offU) + Math.abs(waist.offV) < 0.01 * radius) break
  }
  return { ...disc, xMm: disc.xMm + c[0], yMm: disc.yMm + c[1], zMm: disc.zMm + c[2] }
}

interface Waist {
  /** From the disc to the plane where the rays through it lie closest together, along n, mm. */
  ahead: number
  /** Their middle there, along two axes across n. */
  u: V3
  v: V3
  offU: number
  offV: number
}

function readWaist(near: Near, c: V3, n: V3, radius: number): Waist {
  const [u, v] = crossAxes(n)
  // Weighted sums over both axes of: 1, place, slope, place · slope, slope².
  let [w, pu, pv, su, sv, ps, ss] = [0, 0, 0, 0, 0, 0, 0]
  forCrossing(near, c, n, radius, (i) => {
    const d: V3 = [near.dx[i]!, near.dy[i]!, near.dz[i]!]
    const slant = dot(d, n)
    const from: V3 = [near.x[i]! - c[0], near.y[i]! - c[1], near.z[i]! - c[2]]
    const t = -dot(from, n) / slant
    const at: V3 = [from[0] + t * d[0], from[1] + t * d[1], from[2] + t * d[2]]
    const [a, b, ta, tb, watts] = [dot(at, u), dot(at, v), dot(d, u) / slant, dot(d, v) / slant, near.watts[i]!]
    w += watts
    pu += watts * a
    pv += watts * b
    su += watts * ta
    sv += watts * tb
    ps += watts * (a * ta + b * tb)
    ss += watts * (ta * ta + tb * tb)
  })
  if (!(w > 0)) return { ahead: 0, u, v, offU: 0, offV: 0 }
  const variance = ss - (su * su + sv * sv) / w
  const ahead = variance > 1e-12 * w ? -(ps - (pu * su + pv * sv) / w) / variance : 0
  return { ahead, u, v, offU: (pu + ahead * su) / w, offV: (pv + ahead * sv) / w }
}
