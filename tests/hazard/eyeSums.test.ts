// What few rays tell, and peaks finer than a pupil of enough rays.
import { expect, test } from 'vitest'
import { collectPassing, readEye } from '../../src/hazard/eye.ts'
import { weighRays } from '../../src/hazard/eyeRays.ts'
import { type EyeInput, readEyes } from '../../src/hazard/eyeSheet.ts'
import { runToEnd } from '../../src/num/scheduler.ts'
import { amount } from '../kit/amount.ts'
import { expectWithin } from '../kit/expect.ts'
import { drawnLight, eyeRaysOf, type HandRay, inCone } from '../kit/leavingLight.ts'

const NO_BOUND = { blueWm2sr: 1e18, thermalWm2sr: 1e18 }
const B450 = 0.94 // row 4.55
const INPUT: EyeInput = {
  ...{ frontZMm: 0, source: NO_BOUND, perWatt: { blue: B450, thermal: 9.4, lumens: 683 * 0.038 } },
  ...{ ultraviolet: { fromNm: 380, actinicPerW: 0, nearPerW: 0 }, flicker: [] },
}

test('the middle of a narrow beam, finer than 400 rays are: the upper end holds Φ/(2π σ²) with 19 of 20 seeds', () => {
  // 2000 parallel rays, Gaussian in both directions: 400 of them lie within 0.67 σ, where the mean is a tenth lower.
  const sigmaMm = 300
  const peak = 1 / (2 * Math.PI * (sigmaMm / 1000) ** 2)
  let held = 0
  const seeds = amount(60, 200)
  for (let seed = 1; seed <= seeds; seed++) {
    const draw = (u: () => number) => {
      const [r, turn] = [sigmaMm * Math.sqrt(-2 * Math.log(1 - u())), 2 * Math.PI * u()]
      return { at: [r * Math.cos(turn), r * Math.sin(turn), 0] as const, towards: [0, 0, 1] as const }
    }
    const rays = weighRays([drawnLight({ rays: 2000, watts: 1, seed, draw })])
    const { irradianceWm2 } = readEye(
      rays,
      { xMm: 0, yMm: 0, zMm: 30_000 },
      { distanceMm: 30_000, angleDeg: 0 },
      NO_BOUND,
    )
    if (irradianceWm2 >= peak) held++
    expect(irradianceWm2).toBeLessThan(1.6 * peak)
  }
  // 95 %, less two standard errors of so many draws (binomial).
  expect(held / seeds).toBeGreaterThanOrEqual(0.95 - 2 * Math.sqrt((0.95 * 0.05) / seeds))
})

test('few rays tell nothing of their colour: those that may have been missed are of the emitter that weighs most', () => {
  const red: HandRay = { at: [0, 0, 0], towards: [0, 0, 1], watts: 2, blue: 0, thermal: 2, lumens: 0 }
  const rays = { ...eyeRaysOf([red]), perWatt: { blue: 0.5, thermal: 5, lumens: 100 } }
  const { blueIrradianceWm2, thermalIrradianceWm2 } = readEye(
    rays,
    { xMm: 0, yMm: 0, zMm: 300 },
    { distanceMm: 300, angleDeg: 0 },
    NO_BOUND,
  )
  // One ray: 5.704 at the most (Gehrels 1986, eq. 9), through the widest pupil.
  const perM2 = 1e6 / (Math.PI * (3.5 * 1.5 ** 7) ** 2)
  expectWithin(blueIrradianceWm2, perM2 * 4.704 * 2 * 0.5, { rel: 1e-3, because: 'four digits' })
  expectWithin(thermalIrradianceWm2, perM2 * (2 + 4.704 * 2 * 5), { rel: 1e-3, because: 'four digits' })
})

test('a pupil is widened for want of rays as far as there is room', () => {
  const levels = (place: { raysPerMm2?: number; roomMm?: number }) =>
    (collectPassing(eyeRaysOf([]), [{ xMm: 0, yMm: 0, zMm: 10_000, ...place }], 10_000)[0]?.counts.length ?? 0) - 1
  // 300 mm: ln(300/3.5)/ln 1.5 = 10.98; 1000 mm: 13.95; 600 mm: 12.69; 24 rays at 1e-5/mm²: 874 mm, 13.62.
  expect(levels({})).toBe(11)
  expect(levels({ raysPerMm2: 0, roomMm: 5000 })).toBe(14)
  expect(levels({ raysPerMm2: 0, roomMm: 600 })).toBe(13)
  expect(levels({ raysPerMm2: 0, roomMm: 100 })).toBe(11)
  expect(levels({ raysPerMm2: 1e-5, roomMm: 5000 })).toBe(14)
  expect(levels({ raysPerMm2: 1e-3, roomMm: 5000 })).toBe(11)
})

/** Past all angles alike: W/sr the same everywhere. */
const everyWay = (rays: number, watts: number, seed: number) =>
  drawnLight({
    ...{ rays, watts, seed, nm: 450 },
    draw: (u) => {
      const [cos, turn] = [2 * u() - 1, 2 * Math.PI * u()]
      const sin = Math.sqrt(1 - cos * cos)
      return { at: [0, 0, 0] as const, towards: [sin * Math.cos(turn), sin * Math.sin(turn), cos] as const }
    },
  })

test('few rays every way: aside no limit beyond √(0.94 Φ/(4π E)) is reached with each seed, and it is at most 5 times as far', () => {
  // A small source has no limit beyond E_B = 100 W/m²sr over 100 mrad.
  const watts = 400
  const truthM = Math.sqrt((B450 * watts) / (4 * Math.PI * 100 * (Math.PI / 4) * 0.1 ** 2))
  for (let seed = 1; seed <= amount(6, 25); seed++)
    for (const { noLimitM } of runToEnd(readEyes([everyWay(1000, watts, seed)], INPUT)).distances.slice(1)) {
      expect(noLimitM).toBeGreaterThan(truthM)
      expect(noLimitM).toBeLessThan(5 * truthM)
    }
})

test('rare light among many rays is found whole, though places are chosen among every so many of them', () => {
  // 100 of 400,000 rays go back, 160° off; every third of all is read beyond a metre, and none of them is one.
  const beam = drawnLight({
    ...{ rays: 400_000, watts: 1e-6, nm: 450 },
    draw: (u) => ({ at: [0, 0, 0], towards: inCone(u, 0.05) }),
  })
  const way = [0, Math.sin((160 * Math.PI) / 180), Math.cos((160 * Math.PI) / 180)] as const
  for (let k = 0; k < 100; k++) {
    const i = 9 * (400 * k + 7) + 1
    for (const [axis, of] of [beam.dx, beam.dy, beam.dz, beam.watts].entries())
      (of as Float64Array)[i] = [...way, 1][axis] ?? 0
  }
  const { readings } = runToEnd(readEyes([beam], INPUT))
  const back = readings.filter((r) => r.angleDeg > 150)
  expect(back.length).toBeGreaterThan(5)
  // All of the 100 W through a pupil of 7 mm.
  for (const r of back) expect(r.irradianceWm2).toBeGreaterThan((0.99 * 100) / (Math.PI * 0.0035 ** 2))
})
