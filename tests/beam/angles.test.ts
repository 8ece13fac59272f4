// Beam angle from a profile by hand, with a peak and rings from elsewhere: where it lies and what each error adds.
import { expect, test } from 'vitest'
import { readAngles } from '../../src/beam/angles.ts'
import { readBeam, readLight } from '../../src/beam/beam.ts'
import { choosePeak } from '../../src/beam/peak.ts'
import { oneRayLm, type Profile, readSmoothProfile } from '../../src/beam/profile.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { fold } from '../../src/run/batches.ts'
import { BATCHES } from '../../src/run/types.ts'
import { expectWithin, type Tolerance } from '../kit/expect.ts'
import { filledRun, profiledRun, smallShape } from '../kit/handRun.ts'

const DEG = 180 / Math.PI
const close: Tolerance = { rel: 2e-3, because: 'bins and the cone' }
/** Falls straight from 1000 cd to nothing at 0.3 rad: half of it at 0.15, 3333 cd a radian. */
const run = profiledRun({ cd: (theta) => Math.max(0, 1000 * (1 - theta / 0.3)) })
const folded = fold(run)
const profile = readSmoothProfile(folded)
const SLOPE = 1000 / 0.3
const known = (value: number, se: number) => ({ value, se, without: new Array<number>(16).fill(value), isOwn: true })

test('no angle at a share of a peak that is known to ± 40 % only', () => {
  // 2.131 · 188 is over 0.4 · 1000, 2.131 · 187 is not.
  const { angles, figures, absent } = readAngles(folded, profile, known(1000, 188))
  expect([angles, figures]).toEqual([{}, {}])
  expect(absent.beamAngleDeg).toBe(
    'The peak is known to ± 41 % only so far: angles at shares of it come with more rays.',
  )
  expect(Object.keys(absent).sort()).toEqual(['beamAngleDeg', 'fieldAngleDeg', 'spillOutsideBeam', 'spillOutsideField'])
  expect(readAngles(folded, profile, known(1000, 187)).figures.beamAngleDeg).toBeDefined()
})

test('the level’s error moves the angle by error / slope', () => {
  const half = (se: number) => readAngles(folded, profile, known(1000, se)).angles.beam!
  expectWithin(half(0).rad, 0.15, close)
  const more = Math.sqrt(half(20).ownSe ** 2 - half(0).ownSe ** 2)
  expectWithin(more, (0.5 * 20) / SLOPE, { rel: 0.02, because: 'the secant over 10 % of the level' })
  const angle = readAngles(folded, profile, known(1000, 20)).figures.beamAngleDeg!
  expectWithin(angle.se, 2 * DEG * half(20).ownSe, { rel: 1e-9, because: 'batches are all alike' })
})

test('a level whose ± goes to the ends of what is possible moves the angle by all of it, beside the noise', () => {
  const of = (peak: ReturnType<typeof known> & { toEnds?: true }) =>
    readAngles(scattered, rough, peak).figures.beamAngleDeg!.se
  const [noise, both, ends] = [of(known(1000, 0)), of(known(1000, 20)), of({ ...known(1000, 20), toEnds: true })]
  expect(noise).toBeGreaterThan(0.3 * both)
  expectWithin(ends, noise + Math.sqrt(both ** 2 - noise ** 2), { rel: 1e-9, because: 'a sum, no root of squares' })
})

test('a level of the batches has its error there, and none of its own', () => {
  const peak = { ...known(1000, 20), isOwn: false }
  expect(readAngles(folded, profile, peak).angles.beam!.ownSe).toBe(
    readAngles(folded, profile, known(1000, 0)).angles.beam!.ownSe,
  )
})

test('a level of the batches moves the angle by its slope, beyond the points about the crossing as well', () => {
  // Means without one batch 20 cd up or down: √15 · 20 cd is the jackknife error, half of it the level's.
  const without = Array.from({ length: 16 }, (_, b) => 1000 + (b % 2 ? 20 : -20))
  const angle = readAngles(folded, profile, { value: 1000, se: 0, without, isOwn: false }).figures.beamAngleDeg!
  const byHand = (2 * DEG * 0.5 * Math.sqrt(15) * 20) / SLOPE
  expectWithin(angle.se, byHand, { rel: 0.03, because: 'the secant over 10 % of the level' })
})

test('an angle on a shoulder just at its level is withheld, and said to be known to so much', () => {
  // From 1000 cd straight down to 540 at 0.1 rad, to 460 at 0.2 and to nothing at 0.3: half of it at 0.15, 800 cd a radian.
  const shoulder = (theta: number) =>
    theta < 0.1 ? 1000 - 4600 * theta : theta < 0.2 ? 620 - 800 * theta : Math.max(0, 4600 * (0.3 - theta))
  const flat = profiledRun({ cd: shoulder })
  const of = (se: number) => readAngles(fold(flat), readSmoothProfile(fold(flat)), known(1000, se))
  // 2.131 · 0.5 · 40/800 is 0.053, under 40 % of 0.15; for 50 cd it is 0.067.
  expect(of(40).figures.beamAngleDeg).toBeDefined()
  const { figures, absent } = of(50)
  expect([figures.beamAngleDeg, figures.spillOutsideBeam]).toEqual([undefined, undefined])
  expect(absent.beamAngleDeg).toMatch(
    /^Where the mean over azimuth falls through 50 % of the peak for good is known to ± \d+ % only so far: more rays tell\.$/,
  )
  expect(absent.spillOutsideBeam).toBe(absent.beamAngleDeg)
  expect(figures.fieldAngleDeg).toBeDefined()
})

/** The same with an error in its batches: even ones see 4 % more, odd ones less. */
const noisy = profiledRun({
  cd: (theta) => Math.max(0, 1000 * (1 - theta / 0.3)),
  batchFactor: (b) => (b % 2 ? 0.96 : 1.04),
})
const scattered = fold(noisy)
const rough: Profile = readSmoothProfile(scattered)

test('a ring that is known far better says where it is: its angle and (I − level) / slope from there', () => {
  const ring = { thetaRad: 0.153, value: 1000 * (1 - 0.156 / 0.3), se: 1e-3 }
  const { beam } = readAngles(scattered, rough, known(1000, 0), { beam: ring }).angles
  // It is as dark at 0.153 as the forward profile at 0.156: the true crossing lies 0.003 further in.
  expectWithin(beam!.rad, 0.153 - 0.006, { se: beam!.ownSe, sigmas: 2 })
  expect(beam!.ownSe).toBeGreaterThan(0.05 * 0.006)
  expect(beam!.ownSe).toBeLessThan(0.15 * 0.006)
})

test('a ring as uncertain as the profile counts for half, one known worse for nothing', () => {
  const alone = readAngles(scattered, rough, known(1000, 0)).angles.beam!
  const at = (se: number) =>
    readAngles(scattered, rough, known(1000, 0), { beam: { thetaRad: 0.16, value: 500, se } }).angles.beam!.rad
  expectWithin(at(alone.forwardSeCd), (alone.rad + 0.16) / 2, { abs: 2e-4, because: 'the ring’s own way is 0' })
  expectWithin(at(1e4 * alone.forwardSeCd), alone.rad, { abs: 1e-6, because: 'a hundred millionth of the weight' })
})

test('a ring joins no level that is known by the forward rays alone', () => {
  const ring = { thetaRad: 0.2, value: 500, se: 1e-6 }
  const level = { ...known(1000, 0), isOwn: false }
  expect(readAngles(scattered, rough, level, { beam: ring }).angles.beam!.rad).toBe(
    readAngles(scattered, rough, level).angles.beam!.rad,
  )
})

test('bins that are wide for the edge count in the error', () => {
  const edge = (theta: number) => 1000 / (1 + Math.exp((theta - 0.21) / 0.01))
  const of = (fineBins: number) => {
    const coarse = profiledRun({ cd: edge, shape: { fineBins } })
    const { rad, ownSe } = readAngles(fold(coarse), readSmoothProfile(fold(coarse)), known(1000, 0)).angles.beam!
    return { off: Math.abs(rad - 0.21), ownSe }
  }
  const [wide, narrow] = [of(16), of(400)]
  expect(wide.ownSe).toBeGreaterThan(10 * narrow.ownSe)
  expect(wide.off).toBeGreaterThan(0.001)
  expect(wide.off).toBeLessThan(3 * wide.ownSe)
})

test('batches that all count alike know the axis to one ray, not exactly', () => {
  // 160 rays of 100 lm in all; one of each batch goes into the axial cone.
  const alike = filledRun(
    smallShape({ axialConeHalfRad: 0.1 }),
    (t, l) => {
      t[l.axialLm] = 0.1 * 300
      t[l.profileLm] = 300
    },
    { rays: 160, emittedLm: 100 },
  )
  const sr = 4 * Math.PI * Math.sin(0.05) ** 2
  expect(oneRayLm(alike)).toBe(100 / 160)
  const { axialIntensityCd } = readBeam(alike, gannetHead()).figures
  expectWithin(axialIntensityCd!.value, 10 / sr, { rel: 1e-9, because: 'rounding' })
  expectWithin(axialIntensityCd!.se, 100 / 160 / sr, { rel: 1e-9, because: 'rounding' })
  expectWithin(axialIntensityCd!.se / axialIntensityCd!.value, 1 / BATCHES, { rel: 1e-9, because: '16 rays' })
})

test('an angle whose batches agree by chance is known no better than its noise and slope', () => {
  const thetaRad = Float64Array.from({ length: 200 }, (_, j) => 0.0015 * j)
  const cd = thetaRad.map((t) => 1000 * (1 - t / 0.3))
  const alike = { thetaRad, cd, seCd: new Float64Array(200).fill(50), without: Array.from({ length: 16 }, () => cd) }
  const beam = readAngles(folded, alike, known(1000, 0)).figures.beamAngleDeg!
  // A mean of nine points at the most, which reach 4 % of 0.15 rad to each side.
  expect(beam.se).toBeGreaterThan((0.99 * 2 * DEG * 50) / 3 / SLOPE)
  expect(beam.se).toBeLessThan((1.5 * 2 * DEG * 50) / 3 / SLOPE)
})

test('batches that all count alike know an angle of flux and a share of it to one ray', () => {
  // A quarter of all in each of four bins of 0.1 rad: half of it within 0.2, 2.5 of it a radian.
  const alike = filledRun(smallShape(), (t, l) => t.fill(75, l.profileLm, l.profileLm + 4), { rays: 1600 })
  const lamp = { ...gannetHead(), target: { ...gannetHead().target, coneHalfDeg: 0.2 * DEG } }
  const { halfFluxAngleDeg, spillOutsideTarget } = readBeam(alike, lamp).figures
  const oneRay = (2 * DEG) / 1600 / 2.5
  expectWithin(halfFluxAngleDeg!.se, Math.hypot(oneRay, 2e-5 * halfFluxAngleDeg!.value), {
    rel: 1e-6,
    because: 'even bins',
  })
  expectWithin(spillOutsideTarget!.se, 1 / 1600, { rel: 1e-6, because: 'an edge of a bin' })
})

test('the axis stays the peak against a place that only seems brighter, and not against one that is', () => {
  const { peaks } = readLight(noisy, gannetHead())
  const axis = { ...peaks!.axis, value: 1000, se: 10 }
  const spot = { ...axis, thetaRad: 0.1, azimuthRad: 1, around: false }
  // Four standard errors of the difference are 57 cd.
  const chosen = (value: number) =>
    choosePeak({
      axis,
      ring: { ...spot, value: 0 },
      spot: { ...spot, value },
      coneRad: 0.004,
      grained: false,
      wide: () => [],
    })
  expect(chosen(1055).thetaRad).toBe(0)
  expect(chosen(1058).thetaRad).toBe(0.1)
})
