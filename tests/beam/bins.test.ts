// Bins of θ, cones over them, and sums within them: solid geometry, worked by hand.
import { describe, expect, test } from 'vitest'
import {
  coneSr,
  findHalfAngle,
  getConeSmoother,
  readSmoothProfile,
  shareInCone,
  thetaEdges,
  weightInside,
  zoneSr,
} from '../../src/beam/profile.ts'
import { fold } from '../../src/run/batches.ts'
import { expectWithin } from '../kit/expect.ts'
import { filledRun, smallShape } from '../kit/handRun.ts'

const DEG = Math.PI / 180
const rounding = { rel: 1e-12, because: 'rounding' }
/** 2π (cos a − cos b). */
const zone = (a: number, b: number) => 2 * Math.PI * (Math.cos(a) - Math.cos(b))

test('edges: 4 fine bins of 0.1, 2 coarse ones to π', () => {
  const edges = [...thetaEdges(smallShape())]
  const wanted = [0, 0.1, 0.2, 0.3, 0.4, 0.2 + Math.PI / 2, Math.PI]
  expect(edges.length).toBe(7)
  for (const [i, edge] of wanted.entries()) expectWithin(edges[i]!, edge, { abs: 1e-15, because: 'rounding' })
  expect(edges[6]).toBe(Math.PI)
})

test('solid angles of zones and cones', () => {
  for (const [a, b] of [
    [0, 1],
    [0.3, 1.2],
    [1, 3],
  ] as const)
    expectWithin(zoneSr(a, b), zone(a, b), rounding)
  expectWithin(coneSr(60 * DEG), Math.PI, rounding)
})

describe('share of a circle in a cone', () => {
  test('about a direction on the equator it is the cone over 180°', () => {
    expectWithin(shareInCone(Math.PI / 2, Math.PI / 2, 0.3), 0.3 / Math.PI, rounding)
  })
  test('spherical triangle of sides 60°, 45°, 30°', () => {
    // cos A = (cos 30° − cos 60° cos 45°)/(sin 60° sin 45°) = 2 (√3 − √½)/√6.
    const angle = Math.acos((2 * (Math.sqrt(3) - Math.SQRT1_2)) / Math.sqrt(6))
    expectWithin(shareInCone(60 * DEG, 45 * DEG, 30 * DEG), angle / Math.PI, rounding)
    expectWithin(shareInCone(45 * DEG, 60 * DEG, 30 * DEG), angle / Math.PI, rounding)
    // The same from behind.
    expectWithin(shareInCone(120 * DEG, 135 * DEG, 30 * DEG), angle / Math.PI, rounding)
  })
  test('whole inside, whole outside, and on the edge', () => {
    expect(shareInCone(0.1, 0.15, 0.3)).toBe(1)
    expect(shareInCone(0.25, 0, 0.25)).toBe(1)
    expect(shareInCone(Math.PI - 0.1, Math.PI - 0.15, 0.3)).toBe(1)
    expect(shareInCone(Math.PI - 0.25, Math.PI, 0.25)).toBe(1)
    expect(shareInCone(1, 0.5, 0.3)).toBe(0)
    expect(shareInCone(0.5, 1, 0.3)).toBe(0)
    expect(shareInCone(0.5, 0, 0.25)).toBe(0)
  })
  test('a circle that touches the cone is a number, in spite of rounding', () => {
    for (let i = 1; i < 400; i++) {
      for (const inside of [1 - 1e-16, 1 - 2.3e-16, 1 - 5e-16]) {
        const [about, cone] = [0.4 + 0.003 * i, 0.1 + 0.0005 * i]
        expectWithin(shareInCone(about + cone * inside, about, cone), 0, { abs: 1e-6, because: '√ of rounding' })
        expectWithin(shareInCone(cone * inside - 0.05, 0.05, cone), 1, { abs: 1e-6, because: '√ of rounding' })
      }
    }
  })
})

/** The weights of each bin by itself. */
const weightsOf = ({ weights, start }: ReturnType<typeof getConeSmoother>): Float64Array[] =>
  Array.from(start.subarray(1), (end, j) => weights.subarray(start[j], end))

describe('bins under the axial cone', () => {
  test('a cone narrower than the bins sees each bin alone', () => {
    const smoother = getConeSmoother(smallShape({ axialConeHalfRad: 0.05 }))
    const { thetaRad, first, sr } = smoother
    expect([...first]).toEqual([0, 1, 2, 3, 4, 5])
    expect(weightsOf(smoother).map((w) => [...w])).toEqual(new Array(6).fill([1]))
    for (const [j, t] of [0.05, 0.15, 0.25, 0.35].entries()) {
      expectWithin(thetaRad[j]!, t, rounding)
      expectWithin(sr[j]!, zone(t - 0.05, t + 0.05), rounding)
    }
    expectWithin(thetaRad[5]!, (0.2 + 1.5 * Math.PI) / 2, rounding)
  })
  test('a wider one sees its neighbours: which, and how much of them', () => {
    const smoother = getConeSmoother(smallShape({ axialConeHalfRad: 0.12 }))
    const { first, sr } = smoother
    const weights = weightsOf(smoother)
    expect([...first]).toEqual([0, 0, 1, 2, 4, 5])
    expect(weights.map((w) => w.length)).toEqual([2, 3, 3, 3, 1, 1])
    // About 0.05: the circle at θ lies whole inside up to 0.07. Counted on a grid of directions below.
    for (let j = 0; j < 4; j++) {
      for (const [i, weight] of weights[j]!.entries()) {
        const a = 0.1 * (first[j]! + i)
        const b = first[j]! + i === 4 ? 0.2 + Math.PI / 2 : a + 0.1
        expectWithin(weight, countShare(a, b, 0.05 + 0.1 * j, 0.12), { abs: 0.012, because: 'eight steps to a bin' })
      }
      if (j < 3) expectWithin(sr[j]!, zone(0, 0.12), { rel: 0.02, because: 'eight steps to a bin' })
    }
  })
  test('with narrow bins all of the cone is covered, on the axis, off it and behind', () => {
    const of = smallShape({ fineBins: 40, coarseBins: 280, axialConeHalfRad: 0.12 })
    const { sr, first } = getConeSmoother(of)
    const weights = weightsOf(getConeSmoother(of))
    for (const j of [5, 11, 12, 20, 39, 40, 41, 100, 300, 310, 318, 319])
      expectWithin(sr[j]!, zone(0, 0.12), { rel: 2e-2, because: 'steps of the bins' })
    // From 0.12 below the centre to 0.12 above, bins of 0.01: 0.205 − 0.12 lies in bin 8, 0.325 in bin 32.
    expect([first[20], weights[20]!.length]).toEqual([8, 25])
    expect(first[319]! + weights[319]!.length).toBe(320)
  })
  test('one after another: each set of bins its own', () => {
    const sum = (of: ReturnType<typeof smallShape>) => getConeSmoother(of).sr.reduce((a, b) => a + b, 0)
    // Narrow cone: the bins make up the sphere.
    const base = smallShape({ axialConeHalfRad: 0.001 })
    const smoothed = getConeSmoother(base)
    expect(getConeSmoother({ ...base })).toBe(smoothed)
    expectWithin(sum(base), 4 * Math.PI, rounding)
    expect(getConeSmoother({ ...base, fineBins: 5 }).thetaRad.length).toBe(7)
    expect(getConeSmoother({ ...base, fineBins: 5, coarseBins: 3 }).thetaRad.length).toBe(8)
    expectWithin(getConeSmoother({ ...base, fineHalfRad: 0.8 }).thetaRad[0]!, 0.1, rounding)
    expect(weightsOf(getConeSmoother({ ...base, axialConeHalfRad: 0.12 }))[0]!.length).toBe(2)
  })
})

/** Share of the zone a … b that lies within the cone about θ0, counted on 200 × 400 directions. */
function countShare(a: number, b: number, theta0: number, cone: number): number {
  let [inside, all] = [0, 0]
  for (let i = 0; i < 200; i++) {
    const t = a + ((i + 0.5) / 200) * (b - a)
    for (let k = 0; k < 400; k++) {
      const cos =
        Math.cos(t) * Math.cos(theta0) + Math.sin(t) * Math.sin(theta0) * Math.cos(((k + 0.5) / 400) * 2 * Math.PI)
      all += Math.sin(t)
      if (cos > Math.cos(cone)) inside += Math.sin(t)
    }
  }
  return inside / all
}

describe('the profile', () => {
  test('lumens over solid angle, bin by bin, with the error of the batches', () => {
    // A unit of luminous weight is worth 2 lm: 9600 lm, 16 batches of 300.
    const run = filledRun(
      smallShape(),
      (t, l, b) => {
        t[l.axialLm] = 1 / 16
        t[l.profileLm + 2] = b % 2 ? 3 : 1
        t[l.profileLm + 5] = b % 2 ? 3 : 1
      },
      { emittedLm: 9600 },
    )
    const { thetaRad, cd, seCd, without } = readSmoothProfile(fold(run))
    expect([thetaRad[0], thetaRad.length, cd.length, seCd.length, without.length]).toEqual([0, 7, 7, 7, 16])
    expectWithin(thetaRad[3]!, 0.25, rounding)
    // In the axial cone of 0.02 one unit; in the third bin and the last one 8 · 3 + 8 = 32.
    expectWithin(cd[0]!, 2 / zone(0, 0.02), rounding)
    const [sr, last] = [zone(0.2, 0.3), zone(0.2 + Math.PI / 2, Math.PI)]
    expectWithin(cd[3]!, 64 / sr, rounding)
    expectWithin(cd[6]!, 64 / last, rounding)
    expect([cd[1], cd[2], cd[4], cd[5]]).toEqual([0, 0, 0, 0])
    // Without batch 0: 31 units of 15 batches, each worth 2 · 16/15 lm.
    expectWithin(without[0]![3]!, (31 * 32) / 15 / sr, rounding)
    expectWithin(without[1]![3]!, (29 * 32) / 15 / sr, rounding)
    // √(15/16 · Σ): all 16 lie 32/15 from their mean.
    expectWithin(seCd[3]!, (Math.sqrt(15) * (32 / 15)) / sr, rounding)
    expectWithin(seCd[6]!, (Math.sqrt(15) * (32 / 15)) / last, rounding)
  })
  test('smoothed: sum of what the cone covers of each bin, over what it covers in all', () => {
    const shape = smallShape({ axialConeHalfRad: 0.12 })
    const run = filledRun(shape, (t, l) => {
      t[l.profileLm] = 1 / 16
      t[l.profileLm + 2] = 2 / 16
    })
    const { cd } = readSmoothProfile(fold(run))
    const share = (j: number, at: number) => countShare(0.1 * j, 0.1 * j + 0.1, at, 0.12)
    expectWithin(cd[2]!, (share(0, 0.15) + 2 * share(2, 0.15)) / zone(0, 0.12), { rel: 0.03, because: 'eight steps' })
    expectWithin(cd[3]!, (2 * share(2, 0.25)) / zone(0, 0.12), { rel: 0.03, because: 'eight steps' })
  })
})

describe('weight inside a cone', () => {
  const edges = Float64Array.from([0, 60, 90, 120, 180], (d) => d * DEG)
  const data = [99, 1, 2, 0, 4]
  const inside = (deg: number) => weightInside(Float64Array.from(data), 1, edges, deg * DEG)
  test('at the edges, within bins, and beyond', () => {
    expect([0, 60, 90, 120, 180].map(inside)).toEqual([0, 1, 3, 3, 7])
    expect(inside(200)).toBe(7)
    // Even over the solid angle: cos falls linearly. cos 41.41° = ¾, cos 75.52° = ¼.
    expectWithin(inside(Math.acos(0.75) / DEG), 0.5, rounding)
    expectWithin(inside(Math.acos(0.25) / DEG), 2, rounding)
  })
  test('the cone that holds a share', () => {
    const half = (share: number, list: number[] = data) => findHalfAngle(Float64Array.from(list), 1, edges, share) / DEG
    expectWithin(half(1 / 14), Math.acos(0.75) / DEG, rounding)
    expectWithin(half(2 / 7), Math.acos(0.25) / DEG, rounding)
    expectWithin(half(1), 180, rounding)
    // 120° to 180°: cos from −½ to −1; half of the 4.
    expectWithin(half(5 / 7), Math.acos(-0.75) / DEG, rounding)
    // The narrowest such cone: at the end of the light, whatever is dark beyond it.
    expectWithin(half(0.5, [0, 1, 0, 0, 1]), 60, rounding)
    expectWithin(half(1, [5, 1, 3, 0, 0]), 90, rounding)
    expectWithin(half(0, [0, 0, 1, 0, 0]), 60, rounding)
    expectWithin(half(0.5, [7, 0, 0, 0, 0]), 180, rounding)
  })
})
