// Where backward estimates join the forward run beside the axis, and where no more rays are requested.
import { describe, expect, test } from 'vitest'
import { readBeam } from '../../../src/beam/beam.ts'
import { centreDiscM, readTarget } from '../../../src/beam/target.ts'
import { readCone } from '../../../src/beam/windowMap.ts'
import type { Aim } from '../../../src/engine/backward/aim.ts'
import { backwardEstimate } from '../../../src/engine/backward/estimate.ts'
import { combine, makeBackwardEstimates } from '../../../src/engine/progressive.ts'
import { inlineWorker, makePool } from '../../../src/engine/workers/pool.ts'
import type { AimEstimate, Forward } from '../../../src/job/beam/aims.ts'
import { makeAimEstimates } from '../../../src/job/beam/backwardEstimates.ts'
import { joinBackward } from '../../../src/job/beam/joinBackward.ts'
import { chooseShape } from '../../../src/job/beam/pilot.ts'
import { FRESH_FROM } from '../../../src/job/beam/scouting.ts'
import type { Sheet } from '../../../src/job/beam/sheet.ts'
import { traceLamp } from '../../../src/job/beam/trace.ts'
import { frontZMm } from '../../../src/lamp/front.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { gannetHead, stileLamp } from '../../../src/library/demos.ts'
import { T95 } from '../../../src/num/stats.ts'
import { fold } from '../../../src/run/batches.ts'
import { amount } from '../../kit/amount.ts'
import { CLEAN_LAMPS } from '../../kit/cleanLamps.ts'
import { expectWithin } from '../../kit/expect.ts'
import { oneEmitter, sceneOf, traceScene, tube } from '../../kit/traceHere.ts'

const RAD = Math.PI / 180

function forwardOf(lamp: Lamp, rays: number): Forward {
  const scene = sceneOf(lamp)
  const run = traceScene(scene, chooseShape(scene, lamp), { rays, seed: 2 })
  return { run, rays: run.rays, beam: readBeam(run, lamp), target: readTarget(run, lamp) }
}

const lamp = gannetHead()
const scene = sceneOf(lamp)
const forward = forwardOf(lamp, 100_000)
const cone = chooseShape(scene, lamp).axialConeHalfRad
const ring = (j: number, rays: number): AimEstimate => {
  const aim = { kind: 'ring' as const, thetaRad: forward.beam.smoothed!.thetaRad[j]!, halfRad: cone }
  return { of: 'profile', aim, estimate: backwardEstimate(scene, aim, { seed: 3, rays }) }
}

describe('the profile', () => {
  // Nodes about a cone apart: 0.23°, 0.50°, 0.76°.
  const views = [ring(4, 30_000), ring(8, 30_000), ring(12, 30_000)]
  const axis = backwardEstimate(
    scene,
    { kind: 'cone', thetaRad: 0, phiRad: 0, halfRad: cone },
    { seed: 3, rays: 30_000 },
  )
  const joined = joinBackward(forward, axis, views)
  const { cd, seCd } = forward.beam.profile

  test('is at its nodes what both ends say by their variances', () => {
    for (const [j, back] of [
      [0, axis],
      [4, views[0]!.estimate],
      [8, views[1]!.estimate],
      [12, views[2]!.estimate],
    ] as const) {
      const both = combine({ value: cd[j]!, se: seCd[j]! }, back)
      expect(both.backwardShare).toBeGreaterThan(0.5)
      expectWithin(joined.beam.profile.cd[j]!, both.value, { rel: 1e-6, because: 'single precision' })
      expectWithin(joined.beam.profile.seCd[j]!, both.se, {
        rel: 1e-2,
        because: 'the floor of tables; single precision',
      })
    }
  })

  test('is known better between its nodes, and left alone beyond the last', () => {
    const variance = (se: Float32Array) => se.subarray(0, 13).reduce((sum, v) => sum + v * v, 0)
    expect(variance(joined.beam.profile.seCd)).toBeLessThan(0.3 * variance(seCd))
    for (let j = 0; j < 16; j++)
      expect(Math.abs(joined.beam.profile.cd[j]! - cd[j]!), `bin ${j}`).toBeLessThan(4 * seCd[j]!)
    for (const j of [17, 30, 300]) expect(joined.beam.profile.cd[j]).toBe(cd[j])
  })

  test('both ends agree, and the sheet can tell', () => {
    expect(joined.forwardBackward.map((end) => end.figure).filter((name) => name === 'profileCd')).toHaveLength(3)
    for (const end of joined.forwardBackward) expect(end.apart).toBeLessThan(4)
  })
})

test('where the profile is curved within its bins, forward and backward may differ by so much more', () => {
  const smoothed = { ...forward.beam.smoothed!, cd: forward.beam.smoothed!.cd.slice() }
  const own = smoothed.cd[8]!
  const view = ring(8, 30_000)
  const estimate = { ...view.estimate, value: own + 10_000, se: 1000 }
  // Both neighbours a tenth higher: the second difference is a fifth of the value, its twelfth 1.67 % of it.
  smoothed.cd[7] = 1.1 * own
  smoothed.cd[9] = 1.1 * own
  const curved = { ...forward, beam: { ...forward.beam, smoothed } }
  const end = joinBackward(curved, null, [{ ...view, estimate }]).forwardBackward.find((e) => e.figure === 'profileCd')!
  const se = Math.hypot(smoothed.seCd[8]!, 1000, (0.2 / 12) * own)
  expectWithin(end.apart, 10_000 / se, { rel: 1e-9, because: 'rounding' })
})

test('the centre of the target: the same disc in both directions, or the backward estimate alone', () => {
  const discMm = 2000 * centreDiscM(lamp.target, cone)
  const aim = { kind: 'disc' as const, xMm: 0, yMm: 0, zMm: frontZMm(lamp) + 1000 * lamp.target.distanceM, discMm }
  const view: AimEstimate = { of: 'target', aim, estimate: backwardEstimate(scene, aim, { seed: 4, rays: 30_000 }) }
  const lx = forward.target.figures.targetCentreLx!
  const same = joinBackward(forward, null, [view])
  expect(2000 * forward.target.centreRadiusM!).toBeCloseTo(discMm, 6)
  const both = combine(lx, view.estimate)
  expectWithin(same.target.figures.targetCentreLx!.value, both.value, { rel: 1e-9, because: 'the same sums' })
  expect(same.target.figures.targetCentreLx!.se).toBeLessThan(lx.se)
  // A forward reading of another disc is not mixed in.
  const wider = { ...forward, target: { ...forward.target, centreRadiusM: 2 * forward.target.centreRadiusM! } }
  const alone = joinBackward(wider, null, [view])
  expect(alone.target.figures.targetCentreLx).toEqual({ value: view.estimate.value, se: view.estimate.se })
  expect(alone.forwardBackward).toEqual([])
})

// A tube with a mirror wall and light thrown to one side of it.
const thetaDeg = [0, 10, 14, 18, 30, 90]
const row = [0, 0.1, 1, 0.1, 0, 0]
const dark = [0, 0.02, 0.02, 0.02, 0, 0]
const aside = oneEmitter({
  source: { shape: 'disc', diameterMm: 40 },
  profile: { kind: 'map', thetaDeg, phiDeg: [0, 60, 180, 300], intensity: [row, dark, dark, dark] },
  tunnel: tube(60, 10),
  axialConeHalfDeg: 1,
})

describe('a peak off the axis', () => {
  test('is requested where it was found, and joined', async () => {
    const found = forwardOf(aside, 200_000)
    expect(found.beam.peakAt.around).toBe(false)
    expectWithin(found.beam.peakAt.thetaDeg, 14, { abs: 2, because: 'a cell of the map and the cone' })
    const dim = sceneOf(aside)
    const pool = makePool([inlineWorker()])
    const shape = chooseShape(dim, aside)
    const far = makeBackwardEstimates(pool, dim, shape, { seed: 6, plainRandom: false, exitsBelow: 0 })!
    const views = makeAimEstimates(far, shape, aside)
    views.request(found, null)
    const seen = await views.take()
    const peak = seen.find((v) => v.of === 'peak')!
    expect(peak.aim).toMatchObject({ kind: 'cone', thetaRad: found.beam.peakAt.thetaDeg * RAD })
    const joined = joinBackward(found, null, seen)
    const end = joined.forwardBackward.find((e) => e.figure === 'peakIntensityCd')!
    expect(end.apart).toBeLessThan(4)
    const { value, se } = joined.beam.figures.peakIntensityCd!
    expect(se).toBeLessThan(found.beam.figures.peakIntensityCd!.se)
    expectWithin(joined.beam.figures.beamDistanceM!.value, 2 * Math.sqrt(value), { rel: 1e-12, because: 'FL 1' })
    far.close()
    pool.close()
  })
})

describe('a place whose cone is narrower than the cells of the window', () => {
  const asideScene = sceneOf(aside)
  const fine = chooseShape(asideScene, aside)
  /** The place that the forward rays found, with a backward estimate of it that says twice as much. */
  const comparedBy = (windowN: number) => {
    const run = traceScene(asideScene, { ...fine, windowN }, { rays: 65_536, seed: 3 })
    const own = { run, rays: run.rays, beam: readBeam(run, aside), target: readTarget(run, aside) }
    const { thetaDeg, azimuthDeg } = own.beam.peakAt
    const [thetaRad, phiRad] = [thetaDeg * RAD, azimuthDeg * RAD]
    const aim = { kind: 'cone' as const, thetaRad, phiRad, halfRad: fine.axialConeHalfRad }
    const estimate = backwardEstimate(asideScene, aim, { seed: 4, rays: 30_000 })
    const twice = { ...estimate, value: 2 * estimate.value, effective: 1000 }
    const found = { at: { thetaRad, azimuthRad: phiRad, around: false }, besideCd: 0 }
    const { forwardBackward } = joinBackward(own, null, [{ of: 'peak', aim, estimate: twice, found }])
    const inCone = readCone(fold(run), thetaRad, phiRad, aim.halfRad)!
    return { estimate, inCone, end: forwardBackward.find((end) => end.figure === 'peakIntensityCd') }
  }
  test('is not compared: the forward rays say a mean over more', () => {
    expect(comparedBy(16).end).toBeUndefined()
  })
  test('else it is, and one twice as bright is apart from what the forward rays say of the same cone', () => {
    const { end, estimate, inCone } = comparedBy(fine.windowN)
    expect(end!.apart).toBeGreaterThan(4)
    expect(end!.forward.value).toBeGreaterThanOrEqual(inCone.value)
    const error = 4 * Math.hypot(inCone.se, estimate.se) + 0.02 * inCone.value
    expectWithin(inCone.value, estimate.value, { abs: error, because: '4 se, and cells that blur the edge' })
  })
})

describe('a place that backward rays have found', () => {
  const at = { thetaRad: 0.02, azimuthRad: 1, around: false }
  const aim = { kind: 'cone' as const, thetaRad: 0.02, phiRad: 1, halfRad: cone }
  const onAxis = { kind: 'cone' as const, thetaRad: 0, phiRad: 0, halfRad: cone }
  const axis = backwardEstimate(scene, onAxis, { seed: 5, rays: 30_000 })
  const joinedWith = (times: number, effective = 1000) => {
    const estimate = { ...axis, value: times * axis.value, se: 0.001 * axis.value, effective }
    return joinBackward(forward, axis, [{ of: 'peak', aim, estimate, found: { at, besideCd: 0.002 * axis.value } }])
      .beam
  }
  test('is the peak where it is brighter than the axis; its error holds what its neighbours tell', () => {
    const { figures, floors, peakAt } = joinedWith(1.5)
    // What tables (2e-5) and its neighbours leave open stays, however many rays.
    expectWithin(floors.peakIntensityCd!, axis.value * Math.hypot(1.5 * 2e-5, 0.002), {
      rel: 1e-9,
      because: 'rounding',
    })
    expectWithin(floors.beamDistanceM! / figures.beamDistanceM!.value, floors.peakIntensityCd! / (3 * axis.value), {
      ...{ rel: 1e-9, because: 'half of the share, by the root' },
    })
    expectWithin(floors.axialIntensityCd!, 2e-5 * figures.axialIntensityCd!.value, { rel: 1e-9, because: 'rounding' })
    expectWithin(figures.peakIntensityCd!.value, 1.5 * axis.value, { rel: 1e-12, because: 'the same' })
    expectWithin(figures.peakIntensityCd!.se, axis.value * Math.hypot(0.001, 0.002), { rel: 1e-9, because: 'rounding' })
    expectWithin(peakAt.thetaDeg, 0.02 / RAD, { rel: 1e-12, because: 'rounding' })
    expect(peakAt.around).toBe(false)
  })
  test('is none where it is darker, or hardly a ray has met the light there', () => {
    for (const beam of [joinedWith(0.9), joinedWith(1.5, 399)]) {
      expect(beam.peakAt.thetaDeg).toBe(0)
      expect(beam.figures.peakIntensityCd).toEqual(beam.figures.axialIntensityCd)
    }
  })
})

describe('a place that the forward rays have instead, traced backwards', () => {
  const at = { thetaRad: 0.02, azimuthRad: 1, around: false }
  const aim = { kind: 'cone' as const, thetaRad: 0.02, phiRad: 1, halfRad: cone }
  const onAxis = { kind: 'cone' as const, thetaRad: 0, phiRad: 0, halfRad: cone }
  const axis = { ...backwardEstimate(scene, onAxis, { seed: 5, rays: 30_000 }), effective: 1e9 }
  const se = 0.001 * axis.value
  /** The forward rays have it half as bright again, to a tenth; traced backwards it is brighter than the axis by so many of its errors. */
  const joinedWith = (sigmas: number) => {
    const spot = { ...forward.beam.peaks!.axis, ...at, value: 1.3 * axis.value, se: 0.1 * axis.value }
    const rival = { ...forward, beam: { ...forward.beam, peaks: { ...forward.beam.peaks!, ring: spot, spot } } }
    const known = { ...axis, se }
    const estimate = { ...known, value: axis.value + sigmas * se }
    return joinBackward(rival, known, [{ of: 'peak', aim, estimate }]).beam
  }
  test('brighter by chance, as it may be, it is no peak: ± holds the axis and it', () => {
    const { figures, peakAt } = joinedWith(2)
    const { value, se: both } = figures.peakIntensityCd!
    expect(peakAt.thetaDeg).toBe(0)
    const joined = figures.axialIntensityCd!
    expect(value - T95 * both).toBeLessThan(joined.value)
    expect(value + T95 * both).toBeGreaterThan(axis.value + 2 * se)
  })
  test('surely brighter it is the peak; surely darker it is not', () => {
    expectWithin(joinedWith(40).peakAt.thetaDeg, 0.02 / RAD, { rel: 1e-12, because: 'rounding' })
    const { figures, peakAt } = joinedWith(-40)
    expect(peakAt.thetaDeg).toBe(0)
    expect(figures.peakIntensityCd).toEqual(figures.axialIntensityCd)
  })
})

test('a peak is measured by other rays than those that found it', async () => {
  const discs = CLEAN_LAMPS.find(({ name }) => name === 'Picture of two discs')!
  const found = forwardOf(discs.lamp, 40_000)
  const pool = makePool([inlineWorker()])
  const requested: { aim: string; from: number }[] = []
  const picture = sceneOf(discs.lamp)
  const shape = chooseShape(picture, discs.lamp)
  const estimates = makeBackwardEstimates(pool, picture, shape, { seed: 6, plainRandom: false, exitsBelow: 0 })!
  const listed = {
    ...estimates,
    at: (aim: Aim, idle?: boolean, from = 0) => {
      requested.push({ aim: JSON.stringify(aim), from })
      return estimates.at(aim, idle, from)
    },
  }
  const views = makeAimEstimates(listed, shape, discs.lamp)
  for (let time = 0; time < 4; time++) {
    views.request(found, null)
    await views.take()
  }
  const peak = (await views.take()).find(({ of }) => of === 'peak')!
  expect(peak.found).toBeDefined()
  expect(requested.filter(({ aim }) => aim === JSON.stringify(peak.aim)).map(({ from }) => from)).toEqual([
    0,
    FRESH_FROM,
  ])
  estimates.close()
  pool.close()
})

test('where the forward run is tighter for its time no more backward rays are requested', async () => {
  // A bare small emitter: hardly a ray from afar meets it by the tube's wide mouth, and the forward run knows every direction well.
  const small = oneEmitter({ source: { shape: 'disc', diameterMm: 4 }, tunnel: tube(40, 10), axialConeHalfDeg: 5 })
  const pool = makePool([inlineWorker()])
  const at = sceneOf(small)
  const shape = chooseShape(at, small)
  const far = makeBackwardEstimates(pool, at, shape, { seed: 6, plainRandom: false, exitsBelow: 0 })!
  const views = makeAimEstimates(far, shape, small)
  const reading = forwardOf(small, 2_000_000)
  const rays: number[] = []
  let seen: AimEstimate[] = []
  for (let time = 0; time < 4; time++) {
    views.request(reading, null)
    seen = await views.take()
    rays.push(seen.reduce((sum, v) => sum + v.estimate.rays, 0))
  }
  expect(rays[3]).toBe(rays[2])
  expect(rays[3]).toBeLessThan(0.07 * reading.rays)
  const rings = seen.filter(({ of }) => of === 'profile')
  expect(rings.length).toBeGreaterThan(2)
  for (const { estimate } of rings) expect(estimate.rays).toBeLessThanOrEqual(32_768)
  far.close()
  pool.close()
})

test('the sheet of a lamp: the same bits on one thread or two, and both ends of every kind', async () => {
  const sheets = await Promise.all(
    [1, 2].map(async (threads) => {
      const pool = makePool(Array.from({ length: threads }, () => inlineWorker()))
      const shown: Sheet[] = []
      const options = { seed: 1, maxRays: amount(40_000, 150_000), precision: 0, background: false }
      const sheet = await traceLamp(pool, amount(stileLamp, gannetHead)(), options, (s) => shown.push(s))
      pool.close()
      return { sheet: sheet!, shown }
    }),
  )
  const [one, two] = sheets as [(typeof sheets)[0], (typeof sheets)[0]]
  expect(two.sheet.figures).toEqual(one.sheet.figures)
  expect(two.sheet.forwardBackward).toEqual(one.sheet.forwardBackward)
  const named = new Set(one.sheet.forwardBackward.map((end) => end.figure))
  for (const name of ['targetCentreLx', 'profileCd'] as const) expect([...named]).toContain(name)
  for (const end of one.sheet.forwardBackward) expect(end.apart).toBeLessThan(4.5)
  // The first sheet asks nothing beside the axis.
  expect(one.shown[0]!.forwardBackward.filter(({ figure }) => figure !== 'axialIntensityCd')).toEqual([])
})
