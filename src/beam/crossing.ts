// The outermost angle at which a profile falls through a level, found in noise, and whether it had fallen through before.
import { T95 } from '../num/stats.ts'
import type { Profile } from './profile.ts'

export interface Crossing {
  halfRad: number
  /** With one batch left out. */
  without: number[]
  /** The profile dips below the level further in, by more than noise can make it. */
  inner: boolean
  /** By how much the angle moves with the level, rad/cd. */
  radPerCd: number
  /** One standard error of that from noise, as a share of it. */
  slopeSe: number
  /** By how much the noise of the points moves it, by a slope as wide as that noise: in steep noise the batches agree too well. rad, one standard error. */
  noiseSe: number
  /** Half of the reach of the fit, where no parabola through the points falls through the level: one standard error, rad; else 0. */
  fitSe: number
  /** By how much the level's error moves it by both ends of its ±, which may be further than the slope makes of it; rad, one standard error. */
  levelEndsSe: number
  /** The same place by a straight line between the two bins about it: what the bins' width leaves open shows in the difference. */
  straightRad: number
  /** By how much the angle may be another altogether: a ring further out that may reach the level for all that noise and the level's error say, or
   * this one that may not; rad, one standard error, 0 where neither is so. */
  otherSe: number
}

const DIP_SIGMAS = 4
/** What is that many standard errors away is possible still. */
const MAYBE_SIGMAS = 2.5
/** It is another angle when it lies so many times as far as the slope here makes of the same errors. */
const FAR_MORE = 2
/** Neighbours are averaged until a point is known to this share of the peak … */
const RELATIVE_ERROR = 0.005
/** … but no further out than this share of the angle. */
const MAX_REACH = 0.04
/** The mean is off the point itself by so many standard errors: an edge is no noise. */
const BENT_SIGMAS = 3
/** A dip counts when it is at least this share of the level deep. */
const DIP_DEPTH = 0.03

/**
 * The outermost half angle (rad) at which the profile falls through `level` (cd), with its values without one batch
 * each (their levels in `levelWithout`); `levelSe`: one standard error of the level, cd. Null: it never reaches the level, or never falls through it.
 * A parabola by least squares through as few points as the noise allows: our choice, no source.
 */
export function findOutermostCrossing(
  p: Profile,
  level: number,
  levelWithout: readonly number[],
  levelSe = 0,
): Crossing | null {
  const averaged = averageNoise(p, level)
  const coarse = findCoarseCrossing(averaged, level)
  if (coarse === null) return null
  const at = sharpen(p, averaged, coarse, level)
  const fit = fitAround(p, at, level)
  const { solve } = fit
  const halfRad = solve(p.cd, level)
  const without = p.without.map((cd, b) => solve(cd, levelWithout[b]!))
  const radPerCd = (at === coarse ? null : fitSlope(p, fit, level)) ?? readSlope(p, averaged, level, NEAR_LEVEL * level)
  const here = averaged.se[Math.round(at)]!
  const bySlope = radPerCd * Math.hypot(here, levelSe)
  const near = Math.max(FAR_MORE * bySlope, (MAX_REACH * halfRad) / T95)
  return {
    halfRad,
    without,
    inner: hasInnerDip(p, averaged, level, halfRad),
    slopeSe: here / (Math.SQRT2 * NEAR_LEVEL * level),
    radPerCd,
    noiseSe: here * readSlope(p, averaged, level, Math.max(NEAR_LEVEL * level, Math.min(level / 2, NOISY * here))),
    fitSe: fit.has(p.cd, level) ? 0 : fit.reachRad / 2,
    levelEndsSe: levelSe > 0 ? moveByLevel(p, averaged, angleAt(p, at), { level, levelSe }) : 0,
    straightRad: angleAt(p, at),
    otherSe: findOther(p, averaged, { level, levelSe }, halfRad, near),
  }
}

function moveByLevel(
  p: Profile,
  averaged: AveragedProfile,
  hereRad: number,
  of: { level: number; levelSe: number },
): number {
  const moves = [-T95, T95].map((times) => {
    const at = findCoarseCrossing(averaged, of.level + times * of.levelSe)
    return at === null ? 0 : Math.abs(angleAt(p, at) - hereRad)
  })
  return Math.max(...moves) / T95
}

/**
 * How far the outermost point that is not surely below the level lies, or the crossing if the level is at its upper end; rad, so that ± at 95 % holds
 * it. 0 where that is no further than `near` (rad, one standard error).
 */
function findOther(
  p: Profile,
  averaged: AveragedProfile,
  of: { level: number; levelSe: number },
  halfRad: number,
  near: number,
): number {
  const { level, levelSe } = of
  const { thetaRad } = p
  let j = thetaRad.length - 1
  while (j > 0 && averaged.cd[j]! + MAYBE_SIGMAS * Math.hypot(averaged.se[j]!, levelSe) < level) j--
  const inner = findCoarseCrossing(averaged, level + MAYBE_SIGMAS * levelSe)
  const inward = inner === null ? 0 : halfRad - angleAt(p, inner)
  // The fall lies beyond that point, anywhere among those that were averaged for it.
  const beyond = thetaRad[Math.min(thetaRad.length - 1, averaged.to[j]! + 1)]!
  const outward = (thetaRad[j]! - halfRad) / T95 > near ? beyond - halfRad : 0
  const off = Math.max(outward, inward) / T95
  return off > near ? off : 0
}

interface AveragedProfile {
  cd: Float64Array
  se: Float64Array
  /** The outermost point in each mean. */
  to: Int32Array
}

/**
 * A running mean as wide as the noise needs. How wide, by errors of neighbours as if they were independent; its error from the same mean of the batches,
 * since all bins under one cone share their noise.
 */
function averageNoise(p: Profile, level: number): AveragedProfile {
  const { cd: values, seCd, thetaRad } = p
  const n = values.length
  const cd = new Float64Array(n)
  const se = new Float64Array(n)
  const ends = new Int32Array(n)
  const errorOf = errorOfMeans(p)
  for (let j = 0; j < n; j++) {
    let from = j
    let to = j
    let sum = values[j]!
    let squares = seCd[j]! ** 2
    let count = 1
    const theta = thetaRad[j]!
    while (Math.sqrt(squares) / count > RELATIVE_ERROR * level) {
      if (from < 1 || to >= n - 1 || thetaRad[to + 1]! - theta > MAX_REACH * theta) break
      from--
      to++
      sum += values[from]! + values[to]!
      squares += seCd[from]! ** 2 + seCd[to]! ** 2
      count += 2
    }
    cd[j] = sum / count
    se[j] = Math.max(Math.sqrt(squares) / count, errorOf(from, to))
    ends[j] = to
  }
  return { cd, se, to: ends }
}

/** The jackknife error of the mean over points from … to, from sums along each profile without one batch; 0 where there are none. */
function errorOfMeans(p: Profile): (from: number, to: number) => number {
  const n = p.without.length
  if (n < 2) return () => 0
  const sums = sumsOf(p)
  const means = new Float64Array(n)
  // As `jackknife` has it, without an object for each of some thousand points.
  return (from, to) => {
    const below = from * n
    const upTo = (to + 1) * n
    const points = to - from + 1
    let m = 0
    for (let b = 0; b < n; b++) {
      const mean = (sums[upTo + b]! - sums[below + b]!) / points
      means[b] = mean
      m += mean / n
    }
    let squares = 0
    for (let b = 0; b < n; b++) squares += (means[b]! - m) ** 2
    return Math.sqrt(((n - 1) / n) * squares)
  }
}

const knownSums = new WeakMap<Profile, Float64Array>()

/** Sums of the points below each, of all the profiles without one batch side by side; made once a profile. */
function sumsOf(p: Profile): Float64Array {
  const known = knownSums.get(p)
  if (known) return known
  const n = p.without.length
  const sums = new Float64Array(n * (p.cd.length + 1))
  for (const [b, cd] of p.without.entries()) {
    let sum = 0
    let at = n + b
    for (const v of cd) {
      sum += v
      sums[at] = sum
      at += n
    }
  }
  knownSums.set(p, sums)
  return sums
}

/** From outside in to the first point surely above, then out again to where it falls through. An index with a fraction. */
function findCoarseCrossing(averaged: AveragedProfile, level: number): number | null {
  const n = averaged.cd.length
  let j = n - 1
  while (j >= 0 && averaged.cd[j]! - 2 * averaged.se[j]! < level) j--
  // Too little light to be sure anywhere: take the profile as it is.
  if (j < 0) for (j = n - 1; j >= 0 && averaged.cd[j]! < level; ) j--
  if (j < 0) return null
  while (j < n - 1 && averaged.cd[j + 1]! >= level) j++
  if (j === n - 1) return null
  const above = averaged.cd[j]!
  const fall = above - averaged.cd[j + 1]!
  return j + (fall > 0 ? Math.min(1, Math.max(0, (above - level) / fall)) : 0.5)
}

/** At an edge that the running mean smears: where the points themselves, as far as that mean reaches, fall through the level for the last time. */
function sharpen(p: Profile, averaged: AveragedProfile, at: number, level: number): number {
  const j = Math.floor(at)
  const isBent = p.cd
    .subarray(j, j + 2)
    .some((cd, i) => Math.abs((averaged.cd.at(j + i) ?? cd) - cd) > BENT_SIGMAS * (p.seCd.at(j + i) ?? 0))
  if (!isBent) return at
  const reach = averaged.to.at(j + 1) ?? j
  const i = p.cd.findLastIndex((cd, k) => k <= reach && cd >= level && (p.cd.at(k + 1) ?? level) < level)
  if (i < 0 || angleAt(p, i) < (1 - MAX_REACH) * angleAt(p, j)) return at
  const [above = level, below = 0] = p.cd.subarray(i, i + 2)
  return i + (above - level) / (above - below)
}

/** Levels so far above and below tell the slope, as shares; where noise is larger, levels that are so many of its errors away. */
const NEAR_LEVEL = 0.05
const NOISY = 2
/** Below the level the profile may go over into a plain, which is not its slope there. */
const PLAIN = 3

/** Angle of an index with a fraction, rad. */
function angleAt({ thetaRad }: Profile, at: number): number {
  const j = Math.min(thetaRad.length - 2, Math.floor(at))
  const from = thetaRad[j]!
  return from + (at - j) * (thetaRad[j + 1]! - from)
}

/** The secant between the levels a step above and below (cd), rad/cd; 0 where there is none. */
function readSlope(p: Profile, averaged: AveragedProfile, level: number, step: number): number {
  const [above, here, below] = [level + step, level, level - step].map((l) => {
    const at = findCoarseCrossing(averaged, l)
    return at === null ? null : angleAt(p, at)
  }) as [number | null, number | null, number | null]
  if (here === null) return 0
  const up = above === null ? 0 : Math.max(0, here - above)
  const down = below === null ? 0 : Math.max(0, below - here)
  return (up > 0 && down > 0 && down < PLAIN * up ? (up + down) / 2 : up > 0 ? up : down) / step
}

/**
 * A parabola by least squares through the points around the crossing, solved for the level: as few points as the noise allows, so
 * that a sharp edge stays sharp. The points are the same for all batches.
 */
function fitAround(p: Profile, at: number, level: number): Fit {
  const n = p.cd.length
  const mid = Math.min(n - 2, Math.floor(at))
  const theta = angleAt(p, at)
  const slope = Math.abs(p.cd[mid]! - p.cd[mid + 1]!) / (p.thetaRad[mid + 1]! - p.thetaRad[mid]!) || 1
  const typicalSlope = Math.max(slope, level / Math.max(theta, 1e-9))
  const midSe = p.seCd[mid]!
  let half = 2
  const wide = () => p.thetaRad[Math.min(n - 1, mid + half)]! - theta
  while (half < n && wide() < MAX_REACH * theta) {
    const error = (1.5 * midSe) / Math.sqrt(2 * half) / typicalSlope
    if (error < 0.001 * theta) break
    half++
  }
  return { ...fitThrough(p, theta, mid, half), reachRad: wide() }
}

interface Fit {
  solve: Solve
  /** Whether the parabola itself falls through a level. */
  has: (cd: Float64Array, level: number) => boolean
  /** How far off the crossing the points lie, rad. */
  reachRad: number
}
/** The angle of a level, rad. */
type Solve = (cd: Float64Array, level: number) => number

/** Between the levels just above and below by the parabola, rad/cd; null where it doesn't fall through them. */
function fitSlope(p: Profile, { has, solve }: Fit, level: number): number | null {
  const [above, below] = [(1 + NEAR_FIT) * level, (1 - NEAR_FIT) * level]
  if (!has(p.cd, above) || !has(p.cd, below)) return null
  return (solve(p.cd, below) - solve(p.cd, above)) / (above - below)
}
const NEAR_FIT = 0.01

function fitThrough(p: Profile, theta: number, mid: number, half: number): Pick<Fit, 'solve' | 'has'> {
  const from = Math.max(0, mid + 1 - half)
  const to = Math.min(p.cd.length - 1, mid + half)
  const scale = Math.max(theta - p.thetaRad[from]!, p.thetaRad[to]! - theta)
  const t = p.thetaRad.slice(from, to + 1).map((own) => (own - theta) / scale)
  const sums = sumPowers(t)
  const root = (cd: Float64Array, wanted: number) => findParabolaRoot(t, sums, cd, from, wanted)
  return {
    has: (cd, wanted) => root(cd, wanted) !== null,
    solve: (cd, wanted) => theta + scale * (root(cd, wanted) ?? findLineRoot(t, cd, from, wanted)),
  }
}

/** Σ tᵏ, k = 0 … 4. */
function sumPowers(t: Float64Array): Five {
  let [s1, s2, s3, s4] = [0, 0, 0, 0]
  for (const x of t) {
    s1 += x
    s2 += x * x
    s3 += x * x * x
    s4 += x * x * x * x
  }
  return [t.length, s1, s2, s3, s4]
}

/** Falling root nearest to the middle, inside the fitted range; null when the parabola has none. */
function findParabolaRoot(t: Float64Array, sums: Five, cd: Float64Array, from: number, level: number): number | null {
  const [s0, s1, s2, s3, s4] = sums
  let [m0, m1, m2] = [0, 0, 0]
  for (let i = 0; i < t.length; i++) {
    const x = t[i]!
    const over = cd[from + i]! - level
    m0 += over
    m1 += x * over
    m2 += x * x * over
  }
  const det = s0 * (s2 * s4 - s3 * s3) - s1 * (s1 * s4 - s3 * s2) + s2 * (s1 * s3 - s2 * s2)
  if (Math.abs(det) < 1e-12) return null
  const a = (m0 * (s2 * s4 - s3 * s3) - s1 * (m1 * s4 - s3 * m2) + s2 * (m1 * s3 - s2 * m2)) / det
  const b = (s0 * (m1 * s4 - m2 * s3) - m0 * (s1 * s4 - s3 * s2) + s2 * (s1 * m2 - s2 * m1)) / det
  const c = (s0 * (s2 * m2 - s3 * m1) - s1 * (s1 * m2 - s2 * m1) + m0 * (s1 * s3 - s2 * s2)) / det
  const under = b * b - 4 * a * c
  if (under < 0 || b >= 0) return null
  const root = (2 * a) / (-b + Math.sqrt(under))
  return Math.abs(root) <= 1 ? root : null
}

type Five = [number, number, number, number, number]

/** The outermost fall through the level among the points themselves. */
function findLineRoot(t: Float64Array, cd: Float64Array, from: number, level: number): number {
  for (let i = t.length - 2; i >= 0; i--) {
    const [a, b] = [cd[from + i]! - level, cd[from + i + 1]! - level]
    if (!(a >= 0 && b < 0)) continue
    const inner = t[i]!
    return inner + (a / (a - b)) * (t[i + 1]! - inner)
  }
  return 0
}

function hasInnerDip(p: Profile, averaged: AveragedProfile, level: number, halfRad: number): boolean {
  for (let j = 0; j < averaged.cd.length && p.thetaRad[j]! < (1 - MAX_REACH) * halfRad; j++) {
    if (level - averaged.cd[j]! > Math.max(DIP_SIGMAS * averaged.se[j]!, DIP_DEPTH * level)) return true
  }
  return false
}
