// Source shapes: flux, angles and shares in cones of cosine powers, Gaussians and top hats. All values derived (exact integrals, evaluated
// apart from this program).
import { describe, expect, test } from 'vitest'
import { readBeam } from '../../src/beam/beam.ts'
import type { Profile } from '../../src/lamp/schema.ts'
import { densityOfPower, powerFromFwhm, uFromPower } from '../../src/optics/profiles.ts'
import { profileTable } from '../../src/scene/profileRows.ts'
import { amount } from '../kit/amount.ts'
import { expectWithin } from '../kit/expect.ts'
import { axialCd, exitShare, LAMBERTIAN, oneEmitter, traceHere } from '../kit/traceHere.ts'

const RAD = Math.PI / 180
const RAYS = amount(1 << 15, 1 << 17)
const printed = (rel: number) => ({ rel, because: 'printed digits' })
const within = (half: number) => (e: { dz: number }) => e.dz >= Math.cos(half * RAD)

test('Lambertian: 318.30989 cd per 1000 lm on the axis', () => {
  expectWithin(1000 * densityOfPower(0, 1), 318.30989, printed(2e-8))
  const cd = axialCd(traceHere(oneEmitter({ axialConeHalfDeg: 3 }), { rays: RAYS }))
  // The mean over a cone of 3° is (1 + cos 3°)/2 of the middle.
  expectWithin(cd.value, (318.30989 * (1 + Math.cos(3 * RAD))) / 2, { sigmas: 3, se: cd.se })
})

describe('Lambertian flux inside a half angle, sin²', () => {
  const run = traceHere(oneEmitter(), { rays: 1 << 16 })
  test.each([
    [10, 0.0301537],
    [20, 0.1169778],
    [30, 0.25],
    [45, 0.5],
    [60, 0.75],
  ])('%i°: %f', (half, share) => {
    expectWithin(1 - uFromPower(half * RAD, 1), share, printed(2e-6))
    const got = exitShare(run, within(half))
    expectWithin(got.value, share, { abs: 3 * got.se + 1e-5, because: 'three standard errors; one ray in 65,536' })
  })
})

describe('flux of cosᵐθ, 2π I₀/(m + 1)', () => {
  test.each([
    [0.5, 4.1887902],
    [1, Math.PI], // printed 3.1415927
    [2, 2.0943951],
    [5, 1.0471976],
    [10, 0.5711987],
    [20, 0.2991993],
    [50, 0.1231997],
    [80, 0.0775702],
  ])('m %f: %f', (m, flux) => {
    expectWithin(1 / densityOfPower(0, m), flux, printed(1e-6))
  })
})

describe('exponent and candela per 1000 lm from the full width at half maximum', () => {
  test.each([
    [6, 505.4284, 80_600.6],
    [10, 181.8062, 29_094.5],
    [15, 80.67408, 12_998.8],
    [20, 45.2776, 7_365.31],
    [30, 19.99373, 3_341.26],
    [60, 4.818842, 926.097],
    [90, 2, 477.465],
    [120, 1, 318.30989],
  ])('%i°: m %f, %f cd', (fwhm, m, candela) => {
    const got = powerFromFwhm(fwhm * RAD)
    expectWithin(got, m, printed(2e-7))
    expectWithin(1000 * densityOfPower(0, got), candela, printed(3e-6))
  })
})

describe('traced cosᵐθ: angles and flux inside them', () => {
  // Full beam (50 %) and field (10 %) angle, and shares inside.
  test.each([
    [1, 120, 168.52166, 0.75, 0.99],
    [2, 90, 143.1301, 0.646447, 1 - 0.1 ** 1.5],
    [10, 42.1747, 74.8163, 0.533484, 1 - 0.1 ** 1.1],
    [50, 19.03669, 34.51057, 0.506884, 0.904501],
  ])('m %i: %f° and %f°', (m, beam, field, inBeam, inField) => {
    expectWithin(powerFromFwhm(beam * RAD), m, printed(1e-6))
    const lamp = oneEmitter({ profile: { kind: 'cosine', fwhmDeg: beam }, axialConeHalfDeg: beam / 60 })
    const run = traceHere(lamp, { rays: RAYS })
    for (const [full, share] of [
      [beam, inBeam],
      [field, inField],
    ] as const) {
      const got = exitShare(run, within(full / 2))
      expectWithin(got.value, share, { abs: 3 * got.se + 1e-5, because: 'three standard errors; a ray' })
    }
    const { beamAngleDeg, fieldAngleDeg } = readBeam(run, lamp).figures
    for (const [figure, angle] of [
      [beamAngleDeg!, beam],
      [fieldAngleDeg!, field],
    ] as const)
      expectWithin(figure.value, angle, {
        abs: 4 * figure.se + 0.01 * beam,
        because: 'four standard errors; a hundredth of the beam angle for bins and the noise of the peak',
      })
  })
})

describe('Gaussian exp(−4 ln2 (θ/F)²)', () => {
  // Flux by small angles, π F²/(4 ln 2), and exact with sinθ.
  test.each([
    [1, 3.4515896e-4, 3.4515264e-4],
    [2, 1.3806359e-3, 1.3805347e-3],
    [5, 8.6289741e-3, 8.625025e-3],
    [10, 0.034515896, 0.034452763],
    [20, Number.NaN, 0.137056769],
  ])('F %i°: %f by small angles, %f exact', (fwhm, small, exact) => {
    const table = profileTable({ kind: 'gaussian', fwhmDeg: fwhm })
    // 768 nodes over 3.3 F, h = F/233: the trapezoid rule is off by h²/12 · (8 ln 2/F²) · 2 = 1.7e-5.
    expectWithin(2 * Math.PI * table.weight, exact, { rel: 2e-5, because: 'straight lines between 768 nodes' })
    if (!Number.isNaN(small)) expectWithin((Math.PI * (fwhm * RAD) ** 2) / (4 * Math.LN2), small, printed(5e-8))
  })
  test('half the flux of a narrow one is inside the beam angle, 90 % inside the field angle', () => {
    const run = traceHere(oneEmitter({ profile: { kind: 'gaussian', fwhmDeg: 4 } }), { rays: 1 << 16 })
    const beam = exitShare(run, within(2))
    const field = exitShare(run, within(2 * Math.sqrt(Math.log2(10))))
    const small = 3e-4 // sinθ for θ, row 1.29: 1e-3 of the flux at 4°, less in a ratio
    expectWithin(beam.value, 0.5, { abs: 3 * beam.se + small, because: 'three standard errors; small angles' })
    expectWithin(field.value, 0.9, { abs: 3 * field.se + small, because: 'three standard errors; small angles' })
  })
  test('the intensity on its axis', () => {
    const lamp = oneEmitter({ profile: { kind: 'gaussian', fwhmDeg: 10 }, axialConeHalfDeg: 0.3 })
    const cd = axialCd(traceHere(lamp, { rays: 1 << 18 }))
    // Mean of the Gaussian over the cone: 1 − 2 ln2 (0.3/10)²
    expectWithin(cd.value, (1000 / 0.034452763) * (1 - 2 * Math.LN2 * 0.03 ** 2), { sigmas: 3, se: cd.se })
  })
})

describe('a top hat: 10,000 lm in a half angle', () => {
  test.each([
    [0.5, 41_798_254],
    [1, 10_449_762],
    [2, 2_612_640],
    [5, 418_245],
    [10, 104_760.6],
  ])('%f°: %f cd', (half, candela) => {
    const profile: Profile = { kind: 'table', thetaDeg: [0, half], intensity: [1, 1] }
    const lamp = oneEmitter({ profile, fluxLm: 10_000, axialConeHalfDeg: half / 2 })
    const cd = axialCd(traceHere(lamp, { rays: 1 << 16 }))
    expectWithin(cd.value, candela, {
      abs: 3 * cd.se + 2e-4 * candela,
      because: 'three standard errors; they can be nought here, so a fifth of a ray of each batch more',
    })
  })
})

test('the inverse square law: 1000 lm Lambertian, 318.31 cd, is 3.1831 lx at 10 m, counted on a disc there', () => {
  const run = traceHere(oneEmitter({ profile: LAMBERTIAN }), { rays: 1 << 17 })
  const half = 4 // deg; the mean over the disc is cos⁴ averaged: flux sin²/(π tan²)
  const share = exitShare(run, within(half))
  const lux = (1000 * share.value) / (Math.PI * (10 * Math.tan(half * RAD)) ** 2)
  expectWithin(lux, 3.1830989 * Math.cos(half * RAD) ** 2, {
    rel: (3.5 * share.se) / share.value,
    because: '3.5 standard errors',
  })
  expect(share.se).toBeGreaterThan(0)
})
