// The search for a peak off the axis, over a beam whose intensity towards every direction is given. No noise: where it is found is geometry.
import { expect, test } from 'vitest'
import { readSmoothProfile } from '../../../src/beam/profile.ts'
import type { Aim } from '../../../src/engine/backward/aim.ts'
import type { BackwardEstimate, BackwardEstimates } from '../../../src/engine/progressive.ts'
import type { Forward } from '../../../src/job/beam/aims.ts'
import { makeScouting } from '../../../src/job/beam/scouting.ts'
import { fold } from '../../../src/run/batches.ts'
import { expectWithin } from '../../kit/expect.ts'
import { filledRun, handShape } from '../../kit/handRun.ts'

const CONE = 0.01
/** Cells of 0.02 rad: two cones. */
const shape = handShape({ fineHalfRad: 0.2, fineBins: 40, coarseBins: 40, windowN: 20, axialConeHalfRad: CONE })
/** A hump of 1000 cd of radius 0.03 about (x, y), rad. */
const hump = (x: number, y: number) => (u: number, v: number) =>
  1000 * Math.exp(-(((u - x) ** 2 + (v - y) ** 2) / 0.03 ** 2))

/** Backward rays that know `cd` exactly; each sample is listed with its rays. */
function estimatesOf(cd: (u: number, v: number) => number, effective = 1000) {
  const samples: { aim: Aim; raysEach: number }[] = []
  const of = (aim: Aim): number => {
    if (aim.kind === 'ring') {
      const around = Array.from({ length: 60 }, (_, k) => (k * Math.PI) / 30)
      return around.reduce((sum, phi) => sum + cd(aim.thetaRad * Math.cos(phi), aim.thetaRad * Math.sin(phi)) / 60, 0)
    }
    return aim.kind === 'cone' ? cd(aim.thetaRad * Math.cos(aim.phiRad), aim.thetaRad * Math.sin(aim.phiRad)) : 0
  }
  const estimates = {
    firstRays: () => 256,
    at: (aim: Aim) => ({
      upTo(raysEach: number) {
        samples.push({ aim, raysEach })
        return Promise.resolve({ value: of(aim), se: 1, effective } as BackwardEstimate)
      },
    }),
    close: () => {},
  } satisfies BackwardEstimates
  return { estimates, samples }
}

/** What the forward rays have of the same beam, cell by cell. */
function forwardOf(cd: (u: number, v: number) => number, rays: number): Forward {
  const run = filledRun(shape, (t, l) => {
    for (let i = 0; i < 400; i++) {
      const [u, v] = [((i % 20) - 9.5) * 0.02, (Math.floor(i / 20) - 9.5) * 0.02]
      t[l.windowLm + i] = cd(u, v) * 0.0004
    }
  })
  return { run, rays, beam: { smoothed: readSmoothProfile(fold(run)) }, target: {} } as Forward
}

test('from the brightest cell to the top of the hump, step by step; then nothing is asked until the run has doubled', async () => {
  const cd = hump(0.0741, 0.0437)
  const { estimates, samples } = estimatesOf(cd)
  const scouting = makeScouting(estimates, CONE)
  for (let k = 0; k < 12; k++) {
    scouting.request(forwardOf(cd, 100_000), 0)
    await scouting.take()
  }
  const { at, besideCd } = scouting.found()!
  // The last steps are an eighth of the cone to each side.
  expectWithin(at.thetaRad * Math.cos(at.azimuthRad), 0.0741, { abs: CONE / 8, because: 'half of the last step' })
  expectWithin(at.thetaRad * Math.sin(at.azimuthRad), 0.0437, { abs: CONE / 8, because: 'half of the last step' })
  // A quarter of the cone further off on the one side than an eighth, the hump is lower by (0.00375/0.03)², 15.6 cd at most: a twelfth of that.
  expect(besideCd).toBeLessThan(15.7 / 12)
  expect(besideCd).toBeGreaterThan(0)
  const before = samples.length
  expect(scouting.request(forwardOf(cd, 150_000), 0)).toBe(0)
  expect(samples).toHaveLength(before)
  expect(scouting.request(forwardOf(cd, 200_000), 0)).toBeGreaterThan(0)
})

test('all samples of one time take the same rays; more as the run grows', async () => {
  const cd = hump(0.07, 0.03)
  const { estimates, samples } = estimatesOf(cd)
  const scouting = makeScouting(estimates, CONE)
  scouting.request(forwardOf(cd, 100_000), 0)
  await scouting.take()
  expect(new Set(samples.map((l) => l.raysEach))).toEqual(new Set([64]))
  samples.length = 0
  scouting.request(forwardOf(cd, 16_384_000), 0)
  await scouting.take()
  // 16,384,000 / 16 / 1024.
  expect(new Set(samples.map((l) => l.raysEach))).toEqual(new Set([1000]))
})

test('none before the first samples, where backward rays hardly meet the light, and of the axis itself', async () => {
  const found = async (cd: (u: number, v: number) => number, effective: number) => {
    const scouting = makeScouting(estimatesOf(cd, effective).estimates, CONE)
    expect(scouting.found()).toBeNull()
    scouting.request(forwardOf(cd, 100_000), 0)
    await scouting.take()
    return scouting.found()
  }
  expect(await found(hump(0.07, 0.03), 30)).not.toBeNull()
  expect(await found(hump(0.07, 0.03), 29)).toBeNull()
  expect((await found(hump(0, 0), 1000))!.at.thetaRad).toBeGreaterThanOrEqual(CONE / 4)
})

test('neighbours are left alone where the axis is brighter for sure', async () => {
  const cd = hump(0.07, 0.03)
  const rays = async (axisCd: number) => {
    const scouting = makeScouting(estimatesOf(cd).estimates, CONE)
    scouting.request(forwardOf(cd, 100_000), axisCd)
    await scouting.take()
    return scouting.request(forwardOf(cd, 100_000), axisCd)
  }
  expect(await rays(900)).toBe(4 * 64)
  expect(await rays(1004)).toBe(0)
})

test('places that may all be the peak get four times the rays, as long as a sixteenth of the forward ones lasts', async () => {
  const cd = (u: number, v: number) => hump(0.1, 0.02)(u, v) + hump(-0.1, 0.02)(u, v)
  const { estimates, samples } = estimatesOf(cd)
  const rough = {
    ...estimates,
    at: (aim: Aim) => ({
      upTo: async (raysEach: number) => ({
        ...(await estimates.at(aim).upTo(raysEach)),
        se: 3000 / Math.sqrt(raysEach),
      }),
    }),
  }
  const racing = async (rays: number) => {
    samples.length = 0
    const scouting = makeScouting(rough, CONE)
    for (let k = 0; k < 2; k++) {
      scouting.request(forwardOf(cd, rays), 900)
      await scouting.take()
    }
    return samples.filter(({ raysEach }) => raysEach === 256).length
  }
  expect(await racing(1_000_000)).toBeGreaterThan(1)
  // 100,000 / 16 / 16 = 390, of which the first samples take 64 each.
  expect(await racing(100_000)).toBe(0)
})
