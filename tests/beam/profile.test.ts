import { describe, expect, test } from 'vitest'
import { findOutermostCrossing } from '../../src/beam/crossing.ts'
import {
  coneSr,
  findHalfAngle,
  type Profile,
  readSmoothProfile,
  shareInCone,
  thetaEdges,
  weightInside,
} from '../../src/beam/profile.ts'
import { fold } from '../../src/run/batches.ts'
import { expectWithin } from '../kit/expect.ts'
import { handShape, profiledRun } from '../kit/handRun.ts'

const RAD = Math.PI / 180

describe('share of a circle within a cone', () => {
  test.each([
    [3, 2, 2],
    [0.5, 1, 2],
    [1.2, 1, 2],
    [90, 88, 5],
    [179, 178, 3],
    [179.5, 179, 2],
  ])('circle at %d°, cone about %d° of %d°: against counting', (theta, about, cone) => {
    const n = 20_000
    let inside = 0
    for (let k = 0; k < n; k++) {
      const phi = ((k + 0.5) / n) * 2 * Math.PI
      const [t, a] = [theta * RAD, about * RAD]
      const cos = Math.cos(t) * Math.cos(a) + Math.sin(t) * Math.sin(a) * Math.cos(phi)
      if (cos >= Math.cos(cone * RAD)) inside++
    }
    expectWithin(shareInCone(theta * RAD, about * RAD, cone * RAD), inside / n, { abs: 2 / n, because: 'counting' })
  })
})

describe('smoothing with the axial cone', () => {
  test('even light stays even, near the axis, across the change of bins, and at the back', () => {
    const p = readSmoothProfile(fold(profiledRun({ cd: () => 7, shape: { axialConeHalfRad: 3 * RAD } })))
    for (const v of p.cd) expectWithin(v, 7, { rel: 2e-4, because: 'quadrature of the kit' })
  })
  test('a cone at the edge of half a space of light sees half of it; the mean over a cone is exact for cos θ', () => {
    const cone = 2 * RAD
    const half = readSmoothProfile(
      fold(profiledRun({ cd: (t) => (t < 15 * RAD ? 1 : 0), shape: { axialConeHalfRad: cone } })),
    )
    const j = half.thetaRad.findIndex((t) => t >= 15 * RAD)
    // The edge is a circle of 15°, curved towards the axis: a little under one half.
    expectWithin((half.cd[j]! + half.cd[j - 1]!) / 2, 0.5, { abs: 0.04, because: 'curvature of the edge' })
    expect(half.cd[half.thetaRad.findIndex((t) => t > 12.9 * RAD)]!).toBeGreaterThan(0.99)
    expect(half.cd[half.thetaRad.findIndex((t) => t > 17.1 * RAD)]!).toBe(0)
    const cosine = readSmoothProfile(
      fold(profiledRun({ cd: (t) => Math.cos(t) + 1, shape: { axialConeHalfRad: cone } })),
    )
    const at = cosine.thetaRad.findIndex((t) => t >= 10 * RAD)
    const mean = (1 + Math.cos(cone)) / 2
    expectWithin(cosine.cd[at]!, 1 + mean * Math.cos(cosine.thetaRad[at]!), { rel: 3e-5, because: 'bins of 0.05°' })
  })
})

test('cones that hold a share of the weight, and the weight that cones hold, undo each other', () => {
  const shape = handShape()
  const edges = thetaEdges(shape)
  const data = Float64Array.from({ length: edges.length - 1 }, (_, i) => 1 + Math.sin(i) ** 2)
  const all = weightInside(data, 0, edges, Math.PI)
  for (const share of [0.01, 0.3, 0.5, 0.9, 0.999]) {
    const half = findHalfAngle(data, 0, edges, share)
    expectWithin(weightInside(data, 0, edges, half) / all, share, { rel: 1e-9, because: 'rounding' })
  }
  expectWithin(coneSr(Math.PI), 4 * Math.PI, { ulps: 2 })
})

/** A profile in noise-free steps, with the same se everywhere. */
const stepped = (at: (deg: number) => number, se = 0): Profile => {
  const thetaRad = Float64Array.from({ length: 401 }, (_, i) => i * 0.05 * RAD)
  const cd = thetaRad.map((t) => at(t / RAD))
  return { thetaRad, cd, seCd: cd.map(() => se), without: Array.from({ length: 16 }, () => cd) }
}

describe('outermost crossing', () => {
  const find = (p: Profile, level: number) => findOutermostCrossing(p, level, new Array(16).fill(level))
  test('a straight fall, a step, two humps', () => {
    expectWithin(
      find(
        stepped((d) => 10 - d),
        4,
      )!.halfRad / RAD,
      6,
      { abs: 1e-9, because: 'a straight line' },
    )
    expectWithin(
      find(
        stepped((d) => (d < 5.01 ? 1 : 0)),
        0.5,
      )!.halfRad / RAD,
      5.025,
      { abs: 0.03, because: 'a step' },
    )
    const humps = find(
      stepped((d) => Math.exp(-((d - 3) ** 2)) + Math.exp(-((d - 9) ** 2))),
      0.5,
    )!
    expectWithin(humps.halfRad / RAD, 9 + Math.sqrt(Math.LN2), { abs: 1e-3, because: 'smooth' })
    expect(humps.inner).toBe(true)
  })
  test('a dip within the noise is no dip; a spike within the noise is no edge', () => {
    const dip = (d: number) => (d > 3 && d < 3.3 ? 0.45 : d < 8 ? 1 : 0)
    expect(find(stepped(dip), 0.5)!.inner).toBe(true)
    expect(find(stepped(dip, 0.5), 0.5)!.inner).toBe(false)
    const spike = stepped((d) => (d < 8 ? 1 : 0))
    spike.cd[300] = 0.9
    spike.seCd[300] = 0.9
    expectWithin(find(spike, 0.5)!.halfRad / RAD, 8, { abs: 0.06, because: 'the edge' })
  })
  test('never reached, or never fallen through: none', () => {
    expect(
      find(
        stepped(() => 1),
        2,
      ),
    ).toBeNull()
    expect(
      find(
        stepped(() => 1),
        0.5,
      ),
    ).toBeNull()
  })
})
