// The outermost crossing of a profile made point by point. Parabolas by least squares: by hand through four even points (Gram's polynomials,
// c₀ + c₁ u + c₂ (u² − 5)/4 at u = −3, −1, 1, 3), otherwise by orthogonal polynomials (G. E. Forsythe, J. SIAM 5, 1957).
import { describe, expect, test } from 'vitest'
import { findOutermostCrossing } from '../../src/beam/crossing.ts'
import type { Profile } from '../../src/beam/profile.ts'
import { T95 } from '../../src/num/stats.ts'
import { expectWithin } from '../kit/expect.ts'

const rounding = { rel: 1e-10, because: 'rounding' }
const LEVEL = 50

const profile = (thetaRad: number[], cd: number[], se: number[] | number = 0, without: number[][] = []): Profile => ({
  thetaRad: Float64Array.from(thetaRad),
  cd: Float64Array.from(cd),
  seCd: Float64Array.from(cd, (_, i) => (typeof se === 'number' ? se : se[i]!)),
  without: without.map((w) => Float64Array.from(w)),
})
const even = (n: number, step: number) => Array.from({ length: n }, (_, i) => i * step)
const find = (p: Profile, levels?: number[]) => findOutermostCrossing(p, LEVEL, levels ?? p.without.map(() => LEVEL))

/** Where the parabola of least squares through the points falls through `level`: bisection between `low` and `high`. */
function parabolaFall(x: number[], y: number[], level: number, low: number, high: number): number {
  const sum = (f: (i: number) => number) => x.reduce((total, _, i) => total + f(i), 0)
  const a0 = sum((i) => x[i]!) / x.length
  const p1 = (v: number) => v - a0
  const norm1 = sum((i) => p1(x[i]!) ** 2)
  const a1 = sum((i) => x[i]! * p1(x[i]!) ** 2) / norm1
  const p2 = (v: number) => (v - a1) * p1(v) - norm1 / x.length
  const c0 = sum((i) => y[i]!) / x.length
  const c1 = sum((i) => y[i]! * p1(x[i]!)) / norm1
  const c2 = sum((i) => y[i]! * p2(x[i]!)) / sum((i) => p2(x[i]!) ** 2)
  for (let k = 0; k < 80; k++) {
    const mid = (low + high) / 2
    if (c0 + c1 * p1(mid) + c2 * p2(mid) > level) low = mid
    else high = mid
  }
  return low
}

describe('without noise: four points, two to each side', () => {
  const uneven = [0, 0.1, 0.22, 0.3, 0.43, 0.5, 0.64, 0.7, 0.9]
  const cubic = (t: number) => 100 - 60 * t - 150 * (t - 0.3) ** 3
  test('uneven points of a cubic', () => {
    // 55.7 at 0.64 and 48.4 at 0.7.
    const cd = uneven.map(cubic)
    expectWithin(
      find(profile(uneven, cd))!.halfRad,
      parabolaFall(uneven.slice(5), cd.slice(5), LEVEL, 0.64, 0.7),
      rounding,
    )
    // A level further in: 80 is passed between 0.3 and 0.43.
    const inner = parabolaFall(uneven.slice(2, 6), uneven.slice(2, 6).map(cubic), 80, 0.3, 0.43)
    expectWithin(findOutermostCrossing(profile(uneven, uneven.map(cubic)), 80, [])!.halfRad, inner, rounding)
  })
  test('three at the ends of the profile', () => {
    const cd = uneven.map(cubic)
    // At the last point: 100 − 54 − 32.4 = 13.6; at the first: 104.05, at the second 95.2.
    const last = parabolaFall(uneven.slice(6), cd.slice(6), 30, 0.7, 0.9)
    expectWithin(findOutermostCrossing(profile(uneven, cd), 30, [])!.halfRad, last, rounding)
    const first = parabolaFall(uneven.slice(0, 3), cd.slice(0, 3), 100, 0, 0.1)
    expectWithin(findOutermostCrossing(profile(uneven, cd), 100, [])!.halfRad, first, rounding)
  })
  test('two points: the straight line', () => {
    expectWithin(find(profile([0, 0.4], [80, 40]))!.halfRad, 0.3, rounding)
  })
  test('a step: half a step further out; at another level by hand, c₁ = −1/5, c₂ = 0', () => {
    const cd = [100, 100, 100, 100, 100, 0, 0, 0, 0]
    expectWithin(find(profile(even(9, 0.1), cd))!.halfRad, 0.45, rounding)
    // 50 − 20 u = 40 at u = ½: a quarter of a step beyond the middle.
    expectWithin(findOutermostCrossing(profile(even(9, 0.1), cd), 40, [])!.halfRad, 0.475, rounding)
  })
})

describe('without one batch', () => {
  // A straight fall through the level half way between points 4 and 5; steps of 0.1.
  const line = (fraction = 0.5, slope = 10) => even(10, 0.1).map((_, i) => LEVEL + slope * (4 + fraction - i))
  const withFour = (four: number[]) => [0, 0, 0, ...four.map((v) => LEVEL + v), 0, 0, 0]
  /** Where that batch's points 3 to 6 are so far above the level. */
  const solve = (four: number[], base = line()) => find(profile(even(10, 0.1), base, 0, [withFour(four)]))!.without[0]!
  /** u = −3, −1, 1, 3 are points 3, 4, 5, 6. */
  const theta = (u: number) => 0.45 + 0.05 * u

  test('each batch by its own level', () => {
    const found = find(profile(even(10, 0.1), line(), 0, [line(), line(), line(0.7)]), [LEVEL, 52, 49])!
    expectWithin(found.halfRad, 0.45, rounding)
    for (const [b, at] of [0.45, 0.43, 0.48].entries()) expectWithin(found.without[b]!, at, rounding)
  })
  test('a falling parabola', () => {
    // c₀ = 3.5, c₁ = −0.9, c₂ = −1.5: 5.375 − 0.9 u − 0.375 u² = 0.
    expectWithin(solve([5, 5, 5, -1]), theta((Math.sqrt(0.81 + 1.5 * 5.375) - 0.9) / 0.75), rounding)
    // c₀ = 1, c₁ = −1.6, c₂ = 1: −0.25 − 1.6 u + 0.25 u² = 0, falling at the lesser root.
    expectWithin(solve([7, 1, -1, -3]), theta((1.6 - Math.sqrt(2.56 + 0.25)) / 0.5), rounding)
  })
  test('rising in the middle: the points’ own fall, further in', () => {
    // c₁ = 0.8: its falling root, u = −2.71, is not taken. From 1 to −3 a quarter of the way: u = −2.5.
    expectWithin(solve([1, -3, 1, 5]), theta(-2.5), rounding)
  })
  test('a root beyond the points: the outermost fall among them', () => {
    // 2 − 0.6 u = 0 at u = 3.33. From 5 to −1, five sixths of the way: u = 1 + 5/3.
    expectWithin(solve([5, -1, 5, -1]), theta(1 + 5 / 3), rounding)
    // On the level itself: from 0 on.
    expectWithin(solve([-3, 1, 0, -0.001].map((v) => 1000 * v)), theta(1), rounding)
  })
  test('a root among the points, though beyond the nearer end of them', () => {
    // The middle is taken at 0.425, so the points reach 0.125 in and 0.175 out: the root of 5, 5, 5, −1 at 0.588 is among them.
    expectWithin(solve([5, 5, 5, -1], line(0.25)), theta((Math.sqrt(0.81 + 1.5 * 5.375) - 0.9) / 0.75), rounding)
  })
  test('to touch the level is no fall', () => {
    // c₁ = 0.25: the points’ own fall, and there is none.
    expectWithin(solve([5, 0, 5, 5]), 0.45, rounding)
  })
  test('no fall at all: the angle of the whole', () => {
    expectWithin(solve([5, 5, 5, 5]), 0.45, rounding)
    expectWithin(solve([5, 5, 5, 5], line(0.25)), 0.425, rounding)
    expectWithin(solve([-5, -5, -5, -5], line(0.75)), 0.475, rounding)
  })
})

describe('with noise: more points, until their slope’s error is a thousandth of the angle or they reach 4 % of it', () => {
  const step = 0.002
  /** Falls through the level at 0.501, between points 250 and 251, by `slope` a radian there; no parabola, and lopsided. */
  const curved = (slope: number) => (t: number) => {
    const x = Math.min(0.03, Math.max(-0.03, t - 0.501))
    return LEVEL - slope * (x - 40 * x ** 2 + 2e4 * x ** 3 - 2e5 * x ** 4)
  }
  const cd = (slope: number) => even(600, step).map(curved(slope))
  const through = (half: number, slope: number) => {
    const [from, to] = [251 - half, 251 + half]
    return parabolaFall(even(600, step).slice(from, to), cd(slope).slice(from, to), LEVEL, 0.49, 0.51)
  }
  const halfRad = (slope: number, se: (i: number) => number) =>
    find(
      profile(
        even(600, step),
        cd(slope),
        even(600, step).map((_, i) => se(i)),
      ),
    )!.halfRad

  // Points to each side: the first h with 1.5 se/√(2h) below 0.001 · 0.501 of the slope.
  test.each([
    [2, 0.66],
    [3, 0.75],
    [5, 1],
    [7, 1.2],
  ])('%d points to each side for an error of %d thousandths of the slope', (half, thousandths) => {
    // The slope is 400 a radian, more than level/θ = 99.8.
    const error = (thousandths / 1000) * ((cd(400)[250]! - cd(400)[251]!) / step)
    expectWithin(
      halfRad(400, (i) => (i === 250 ? error : 0)),
      through(half, 400),
      rounding,
    )
  })
  test('a slope less than level over angle is taken for that', () => {
    // Slope 50, level/θ = 50/0.501.
    const error = (LEVEL / 0.501) * 1e-3
    expectWithin(
      halfRad(50, (i) => (i === 250 ? error : 0)),
      through(5, 50),
      rounding,
    )
  })
  test('no further out than 4 %: 0.02004, ten points of 0.002 and the one that goes beyond', () => {
    // Averaged, point 250 is higher and the crossing nearer to 251; ten points on lie 0.018 from it, eleven 0.0202.
    expectWithin(
      halfRad(400, (i) => (i === 250 ? 1e5 : 0)),
      through(11, 400),
      rounding,
    )
  })
})

describe('which point is surely above', () => {
  const base = (i: number): number => (i < 40 ? 100 : 0)
  const spiked = (value: number, se: number) => {
    const cd = even(100, 0.01).map((_, i) => base(i))
    cd[70] = value
    const errors = cd.map((_, i) => (i === 70 ? se : 0))
    return find(profile(even(100, 0.01), cd, errors))!.halfRad
  }
  test('two standard errors above the level is an edge, less is none', () => {
    // Alone at θ = 0.7 an average over two neighbours to each side would fall below: 4 % of 0.7 is 0.028, so errors stay under ½ % of the level.
    expectWithin(spiked(50.4, 0.21), 0.395, rounding)
    expect(spiked(50.44, 0.21)).toBeGreaterThan(0.69)
  })
  test('a spike known badly is averaged with its neighbours and is none', () => {
    expectWithin(spiked(90, 15), 0.395, rounding)
  })
  test('nothing is sure: the profile as it is, to its outermost point above', () => {
    const cd = even(20, 0.01).map((_, i) => (i < 8 ? 51 : 0))
    // Too near the axis to be averaged; errors of 1 leave no point two errors above.
    const found = find(profile(even(20, 0.01), cd, 1))!
    // Points 6 to 9 hold 1, 1, −50, −50 beside the level: −24.5 − 10.2 u.
    expectWithin(found.halfRad, 0.075 - (0.005 * 24.5) / 10.2, rounding)
  })
  test('from a sure point out through unsure ones, to the fall', () => {
    // Sure to point 5, just above the level to point 9 and dark from 10 on.
    const cd: number[] = even(20, 0.01).map((_, i) => (i <= 5 ? 100 : i <= 9 ? 50 : 0))
    const errors = cd.map((v) => (v === 50 ? 1 : 0))
    // Points 8 to 11 hold 0, 0, −50, −50 beside the level: −25 − 10 u.
    expectWithin(find(profile(even(20, 0.01), cd, errors))!.halfRad, 0.095 - 0.005 * 2.5, rounding)
  })
  test('a sure point on the axis is one', () => {
    const spike = profile(even(9, 0.1), [100, 0, 0, 60, 0, 0, 0, 0, 0], [0, 0, 0, 20, 0, 0, 0, 0, 0])
    expect(find(spike)!.halfRad).toBeLessThan(0.1)
  })
  test('on the level is above it', () => {
    expect(find(profile(even(9, 0.1), [50, 50, 50, 50, 0, 0, 0, 0, 0], 1))).not.toBeNull()
    expect(find(profile(even(9, 0.1), [50, 50, 50, 50, 0, 0, 0, 0, 0]))).not.toBeNull()
  })
  test('never reached, never fallen through, or only at the last point: none', () => {
    const flat = (v: number, se = 0) => profile(even(9, 0.1), new Array(9).fill(v), se)
    expect([flat(49), flat(100), flat(50), flat(49, 10), flat(51, 10)].map((p) => find(p))).toEqual(
      new Array(5).fill(null),
    )
    expect(find(profile(even(9, 0.1), [0, 0, 0, 0, 0, 0, 0, 0, 60]))).toBeNull()
    expect(find(profile(even(9, 0.1), [60, 0, 0, 0, 0, 0, 0, 0, 0]))!.halfRad).toBeLessThan(0.1)
  })
})

describe('a dip further in', () => {
  // Bright to 1.0 rad, then a straight fall through 50 at 1.0125; points 0.009 apart.
  const step = 0.009
  const base = () => even(140, step).map((_, i) => (i <= 110 ? 90 : i >= 114 ? 0 : 90 - 22.5 * (i - 110)))
  const inner = (dip: Record<number, number>, se: number | ((i: number) => number) = 0) => {
    const cd = base()
    for (const [i, v] of Object.entries(dip)) cd[Number(i)] = v
    const errors = cd.map((_, i) => (typeof se === 'number' ? se : se(i)))
    return find(profile(even(140, step), cd, errors))!.inner
  }
  test('counts from 3 % of the level down', () => {
    expect(inner({})).toBe(false)
    expect(inner({ 50: 48.6 })).toBe(false)
    expect(inner({ 50: 48.4 })).toBe(true)
    expect(inner({ 0: 48.4 })).toBe(true)
    expect(inner({ 50: 51 })).toBe(false)
  })
  test('not within 4 % of the edge', () => {
    // The edge: near 111.8 steps; 96 % of it 107.3.
    expect(inner({ 107: 30 })).toBe(true)
    expect(inner({ 108: 30 })).toBe(false)
  })
  test('by more than four standard errors', () => {
    // At 0.18 rad 4 % are less than a step: no average. 4 · 0.5 = 2.
    const unsure = (i: number) => (i === 20 ? 0.5 : 0)
    expect(inner({ 20: 48.1 }, unsure)).toBe(false)
    expect(inner({ 20: 47.9 }, unsure)).toBe(true)
  })
  /** About point 60, at 0.54 rad, 4 % reach two steps out: points 55 to 65 lie on the level, the one in the middle below it. */
  const lone = (depth: number) => Object.fromEntries(even(11, 1).map((k) => [55 + k, k === 5 ? LEVEL - depth : LEVEL]))
  const about = (se: number) => (i: number) => (Math.abs(i - 60) <= 8 ? se : 0)
  test('averaged over as many points as the noise asks for', () => {
    // 0.4 is above ½ % of the level, 0.4/√3 is not: a third of the depth against 1.5.
    expect(inner(lone(4.4), about(0.4))).toBe(false)
    expect(inner(lone(4.6), about(0.4))).toBe(true)
    // ½ % itself and 0.24 are not above it: not averaged.
    expect(inner(lone(1.6), about(0.25))).toBe(true)
    expect(inner(lone(1.6), about(0.24))).toBe(true)
    // 0.5/√5: a fifth of the depth.
    expect(inner(lone(7.4), about(0.5))).toBe(false)
    expect(inner(lone(7.6), about(0.5))).toBe(true)
  })
  test('and no more than 4 % of the angle allow', () => {
    // Five points: a fifth of the depth against four errors of 2/√5, 3.578.
    expect(inner(lone(17.7), about(2))).toBe(false)
    expect(inner(lone(18.1), about(2))).toBe(true)
  })
})

describe('another angle', () => {
  // A fall through the level between 0.2 and 0.3, and a ring at 0.6 and 0.7 a little below it.
  const ringed = (ring: number, se: number) =>
    find(
      profile(
        even(11, 0.1),
        [100, 90, 70, 30, 20, 20, ring, ring, 20, 10, 0],
        even(11, 0.1).map((_, i) => (i === 6 || i === 7 ? se : 0.01)),
      ),
    )!
  test('± reaches beyond the outermost point that may be above the level, to the next one', () => {
    const { halfRad, otherSe } = ringed(48, 1)
    expect(halfRad).toBeLessThan(0.3)
    expectWithin(T95 * otherSe, 0.8 - halfRad, rounding)
  })
  test('none where the ring is darker by more than 2.5 standard errors', () => {
    expect(ringed(47.4, 1).otherSe).toBe(0)
    expect(ringed(47.6, 1).otherSe).toBeGreaterThan(0)
  })
  test('points under one cone share their noise: the error of their mean is that of the batches', () => {
    // 100 points about a ring at 48, all of them up and down together by batch: their mean is no better known than each.
    const step = 0.001
    const theta = even(1000, step)
    const cd = theta.map((t) => (t < 0.25 ? 100 : t < 0.6 ? 20 : t < 0.7 ? 48 : 10))
    const without = Array.from({ length: 16 }, (_, b) =>
      cd.map((v, j) => v + (theta[j]! >= 0.6 && theta[j]! < 0.7 ? (b % 2 ? 1 : -1) / Math.sqrt(15) : 0)),
    )
    const alike = find(profile(theta, cd, 1, without))!
    expectWithin(T95 * alike.otherSe, 0.7 - alike.halfRad, { abs: 0.04 * 0.7, because: 'the mean of neighbours' })
    // As if they were independent, the mean of 53 is known to 0.14, and the ring is darker by 14 of them.
    expect(find(profile(theta, cd, 1))!.otherSe).toBe(0)
  })
})

test('the level’s error is taken to both ends of its ±: beyond a bend the angle moves further than by the slope', () => {
  // 100 a radian down to the level at 0.5, then 50 a radian: 2.131 · 2 below it lies 0.0852 further out, as much above it 0.0426 further in.
  const bent = even(100, 0.01).map((t) => LEVEL + (t < 0.5 ? 100 : 50) * (0.5 - t))
  const { levelEndsSe } = findOutermostCrossing(profile(even(100, 0.01), bent), LEVEL, [], 2)!
  expectWithin(levelEndsSe, (2 * 2) / 100, { rel: 1e-9, because: 'straight between points' })
  expect(findOutermostCrossing(profile(even(100, 0.01), bent), LEVEL, [], 0)!.levelEndsSe).toBe(0)
})

test('noise moves it by a slope as wide as that noise, however steep the points are there', () => {
  // 100 a radian but for a cliff of 10 at the level, which may be noise: all points go up and down together by 5.
  const theta = even(100, 0.01)
  const cliff = theta.map((t) => (t < 0.45 || t > 0.55 ? LEVEL + 100 * (0.5 - t) : t < 0.5 ? LEVEL + 5 : LEVEL - 5))
  const without = Array.from({ length: 16 }, (_, b) => cliff.map((v) => v + (b % 2 ? 5 : -5) / Math.sqrt(15)))
  const found = find(profile(theta, cliff, 5, without))!
  // From 60 cd at 0.4 to 40 cd at 0.6.
  expectWithin(found.noiseSe, 5 * (0.2 / 20), { rel: 0.02, because: 'the running mean over five points' })
  expect(5 * found.radPerCd).toBeLessThan(0.5 * found.noiseSe)
  // No wider than from half of the level to half as much again.
  const wild = find(profile(theta, cliff, 30))!
  expectWithin(wild.noiseSe / 30, 0.01 / Math.sqrt(3), {
    rel: 0.02,
    because: 'three points that don’t share their noise',
  })
})

describe('an edge that the running mean smears', () => {
  // Falls by 40 a point from 0.97 on and is dark from 1: convex at the level, which lies between 60 and 20 at 0.9825. Each point is known to 2, so the
  // mean wants more than its neighbours, as far as 0.04.
  const theta = even(161, 0.01)
  const cd = theta.map((t) => Math.max(0, Math.min(400, 4000 * (1 - t) - 20)))
  const edge = 1 - 70 / 4000
  test('is found among the points themselves', () => {
    const found = find(profile(theta, cd, 2))!
    expectWithin(found.halfRad, edge, { abs: 1e-3, because: 'the points turn at 0.995, a point and a quarter off' })
    expectWithin(found.straightRad, edge, { abs: 1e-9, because: 'straight between two points' })
    // 1/4000 a candela.
    expectWithin(found.radPerCd, 1 / 4000, { rel: 0.25, because: 'the parabola bends at the foot' })
  })
  test('not where noise alone may set the points off the mean', () => {
    const noisy = find(profile(theta, cd, 60))!
    expect(Math.abs(noisy.straightRad - edge)).toBeGreaterThan(1e-3)
  })
})

test('a fit that rises where the points fall leaves half of its reach open', () => {
  // Through 0, 60, 40, 30: 32.5 + 3.5 u − 17.5 (u² − 5)/4. Straight between 60 and 40: 0.35, and the last of the four is at 0.5.
  const of = (second: number) => find(profile(even(7, 0.1), [100, 60, second, 60, 40, 30, 0]))!
  expectWithin(of(0).halfRad, 0.35, rounding)
  expectWithin(of(0).fitSe, 0.15 / 2, rounding)
  expect(of(80).fitSe).toBe(0)
})
