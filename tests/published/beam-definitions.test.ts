// What beam, field, flux and distance mean, read from intensity profiles that are known in closed form. Beam angle: 50 % of the maximum (IES
// RP-16; second-hand); field angle: 10 % (the same); beam distance and peak: ANSI/NEMA FL 1-2009 1.2.1 and 1.2.2 (second-hand). Values derived.
import { describe, expect, test } from 'vitest'
import { readBeam } from '../../src/beam/beam.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { expectWithin } from '../kit/expect.ts'
import { profiledRun } from '../kit/handRun.ts'
import { lampWith } from '../kit/lampWith.ts'

const RAD = Math.PI / 180
/** A cone so narrow that it smooths nothing. */
const axialConeHalfRad = 0.02 * RAD

const cosine = (m: number, fineHalfDeg: number, peak = 1000) =>
  readBeam(
    profiledRun({
      cd: (t) => (t < Math.PI / 2 ? peak * Math.cos(t) ** m : 0),
      shape: { fineHalfRad: fineHalfDeg * RAD, axialConeHalfRad },
    }),
    gannetHead(),
  ).figures

describe('cosine powers', () => {
  test.each([
    [1, 120, 168.52166, Math.PI],
    [2, 90, 143.1301, 2.0943951],
    [5, 58.95464, 101.75842, 1.0471976],
    [10, 42.1747, 74.8163, 0.5711987],
    [20, 29.99535, 53.93827, 0.2991993],
    [50, 19.03669, 34.51057, 0.1231997],
    [80, 15.06288, 27.36183, 0.0775702],
  ])('cos^%d: beam, field, flux per candela (rows 1.20 to 1.24)', (m, beam, field, flux) => {
    const f = cosine(m, Math.min(89.9, 0.8 * field))
    expectWithin(f.beamAngleDeg!.value, beam, { abs: 0.01 + 2e-4 * beam, because: 'bins of a four-hundredth' })
    expectWithin(f.fieldAngleDeg!.value, field, { abs: 0.01 + 4e-4 * field, because: 'bins of a four-hundredth' })
    expectWithin(f.fluxOutLm!.value, 1000 * flux, { rel: 2e-4, because: 'quadrature of the kit' })
    expectWithin(f.axialIntensityCd!.value, 1000, { rel: 1e-4, because: 'a narrow cone' })
    // Row 1.27: inside the beam angle 1 − 0.5^((m+1)/m), inside the field angle 1 − 0.1^((m+1)/m).
    expectWithin(f.spillOutsideBeam!.value, 0.5 ** ((m + 1) / m), { abs: 1e-3, because: 'follows the angle' })
    expectWithin(f.spillOutsideField!.value, 0.1 ** ((m + 1) / m), { abs: 1e-3, because: 'follows the angle' })
    // sin² law and its kin: half of the flux within cos^(m+1) = ½.
    expectWithin(f.halfFluxAngleDeg!.value, (2 * Math.acos(0.5 ** (1 / (m + 1)))) / RAD, { rel: 1e-3, because: 'bins' })
    expectWithin(f.ninetyFluxAngleDeg!.value, (2 * Math.acos(0.1 ** (1 / (m + 1)))) / RAD, {
      rel: 1e-3,
      because: 'bins',
    })
  })
  test.each([
    [10, 0.0301537],
    [20, 0.1169778],
    [30, 0.25],
    [45, 0.5],
    [60, 0.75],
  ])('Lambertian flux inside %d° is sin² (row 1.21): spill outside the target', (half, inside) => {
    const run = profiledRun({ cd: (t) => Math.max(0, Math.cos(t)), shape: { fineHalfRad: 80 * RAD } })
    const spill = readBeam(run, lampWith({ target: { coneHalfDeg: half } })).figures.spillOutsideTarget!
    expectWithin(spill.value, 1 - inside, { abs: 1e-5, because: 'quadrature of the kit' })
  })
})

describe('Gaussian at small angles: half of the lumens inside the beam angle, 90 % inside the field angle (row 1.28)', () => {
  test.each([
    [1, 3.4515264e-4],
    [2, 1.3805347e-3],
    [5, 8.625025e-3],
    [10, 0.034452763],
    [20, 0.137056769],
  ])('FWHM %d°: flux %d per candela (row 1.29, exact with sin θ)', (fwhm, flux) => {
    const cd = (t: number) => 1e6 * Math.exp(-4 * Math.LN2 * (t / RAD / fwhm) ** 2)
    const f = readBeam(
      profiledRun({ cd, shape: { fineHalfRad: 1.5 * fwhm * RAD, axialConeHalfRad } }),
      gannetHead(),
    ).figures
    expectWithin(f.fluxOutLm!.value, 1e6 * flux, { rel: 2e-4, because: 'quadrature of the kit' })
    const wide = 1 + (0.02 / fwhm) ** 2
    expectWithin(f.beamAngleDeg!.value, fwhm * wide, { rel: 1e-3, because: 'bins, and the cone of 0.02°' })
    expectWithin(f.fieldAngleDeg!.value, fwhm * Math.sqrt(Math.log2(10)) * wide, { rel: 1e-3, because: 'the same' })
    if (fwhm > 5) return
    expectWithin(f.spillOutsideBeam!.value, 0.5, { abs: 2e-3, because: 'small angles' })
    expectWithin(f.spillOutsideField!.value, 0.1, { abs: 2e-3, because: 'small angles' })
    expectWithin(f.halfFluxAngleDeg!.value, fwhm, { rel: 2e-3, because: 'small angles' })
  })
})

test.each([
  [0.5, 41_798_254],
  [1, 10_449_762],
  [2, 2_612_640],
  [5, 418_245],
  [10, 104_760.6],
])('10,000 lm in an even cone of half angle %d° (row 1.31)', (half, cd) => {
  const run = profiledRun({
    cd: (t) => (t <= half * RAD ? cd : 0),
    shape: { fineHalfRad: 4 * half * RAD, axialConeHalfRad },
  })
  const { figures, patterned } = readBeam(run, gannetHead())
  expectWithin(figures.fluxOutLm!.value, 10_000, {
    rel: 3e-3,
    because: 'the edge lies on a bin’s edge; kit’s quadrature',
  })
  expectWithin(figures.peakIntensityCd!.value, cd, { rel: 1e-3, because: 'even' })
  expectWithin(figures.beamAngleDeg!.value, 2 * half, { rel: 0.01, because: 'one bin' })
  expectWithin(figures.patternContrast!.value, 0, { abs: 1e-3, because: 'even' })
  expect(patterned).toBe(false)
})

describe('beam distance: where 0.25 lx is left, 2 √I (FL 1-2009 1.2.1; row 1.40)', () => {
  test.each([
    [100, 20],
    [1e4, 200],
    [1e5, 632.456],
    [1e6, 2000],
    [5e6, 4472.14],
    [1e7, 6324.56],
    [1e8, 20_000],
  ])('%d cd: %d m', (cd, metres) => {
    expectWithin(cosine(20, 45, cd).beamDistanceM!.value, metres, { rel: 1e-4, because: 'mean over a cone of 0.02°' })
  })
})

test('50 % of the maximum, not of the middle: they differ for a beam with a dip in its middle (row 1.46)', () => {
  const cd = (t: number) => 1000 * Math.exp(-4 * Math.LN2 * (t / RAD / 10) ** 2) * (1 + 4 * (t / RAD / 5) ** 2)
  const { figures } = readBeam(profiledRun({ cd, shape: { axialConeHalfRad } }), gannetHead())
  const peak = Math.max(...Array.from({ length: 2000 }, (_, i) => cd(0.005 * i * RAD)))
  expectWithin(figures.peakIntensityCd!.value, peak, { rel: 3e-3, because: 'bins' })
  expect(figures.axialIntensityCd!.value).toBeLessThan(0.6 * peak)
  let edge = 0
  for (let t = 0; t < 20; t += 1e-3) if (cd(t * RAD) >= 0.5 * peak) edge = t
  expectWithin(figures.beamAngleDeg!.value, 2 * edge, { abs: 0.02, because: 'bins' })
})
