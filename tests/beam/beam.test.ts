import { describe, expect, test } from 'vitest'
import { readBeam } from '../../src/beam/beam.ts'
import { readLedger } from '../../src/beam/ledger.ts'
import { gannetHead, stileLamp } from '../../src/library/demos.ts'
import { findRunFaults } from '../../src/run/validate.ts'
import { amount } from '../kit/amount.ts'
import { expectWithin, seeds } from '../kit/expect.ts'
import { direction, drawnRun, gaussianTheta, onDisc, profiledRun } from '../kit/handRun.ts'

const RAD = Math.PI / 180
const lamp = gannetHead()

const gaussian = (fwhmDeg: number, seed: number, rays = 160_000) =>
  drawnRun({
    rays,
    seed,
    shape: { fineHalfRad: 4 * fwhmDeg * RAD },
    draw: (u) => ({
      fate: 'delivered',
      at: [...onDisc(u(2), u(3), 200), 1000],
      towards: direction(gaussianTheta(u(0), fwhmDeg * RAD), 2 * Math.PI * u(1)),
    }),
  })

describe('a drawn Gaussian beam of 5°', () => {
  test.each(seeds(amount(1, 3)))('is read within its own errors, seed %i', (seed) => {
    const run = gaussian(5, seed)
    expect(findRunFaults(run)).toEqual([])
    const { figures, patterned, absent } = readBeam(run, lamp)
    expect(absent).toEqual({})
    expect(patterned).toBe(false)
    const f = (name: keyof typeof figures) => figures[name]!
    // Smoothing with a cone c widens a Gaussian of variance s² by c²/4 each way; drawn θ is the small-angle law.
    const s2 = (5 * RAD) ** 2 / (8 * Math.LN2)
    const wide = Math.sqrt(1 + (0.25 * RAD) ** 2 / 4 / s2)
    expectWithin(f('beamAngleDeg').value, 5 * wide, { sigmas: 4, se: f('beamAngleDeg').se + 0.002 })
    expectWithin(f('fieldAngleDeg').value, 5 * Math.sqrt(Math.log2(10)) * wide, {
      sigmas: 4,
      se: f('fieldAngleDeg').se + 0.004,
    })
    const peak = 1000 / (2 * Math.PI * s2) / wide ** 2
    expectWithin(f('axialIntensityCd').value, peak, { sigmas: 4, se: f('axialIntensityCd').se })
    expectWithin(f('peakIntensityCd').value, peak, { sigmas: 4, se: f('peakIntensityCd').se })
    expectWithin(f('beamDistanceM').value, 2 * Math.sqrt(peak), { sigmas: 4, se: f('beamDistanceM').se })
    expectWithin(f('halfFluxAngleDeg').value, 5, { sigmas: 5, se: f('halfFluxAngleDeg').se + 0.002 })
    expectWithin(f('spillOutsideBeam').value, 0.5, { abs: 0.01, because: 'half lies inside (row 1.28)' })
    expectWithin(f('spillOutsideField').value, 0.1, { abs: 0.01, because: 'a tenth lies outside (row 1.28)' })
    for (const name of ['beamAngleDeg', 'fieldAngleDeg', 'axialIntensityCd', 'patternContrast'] as const) {
      expect(f(name).se).toBeGreaterThan(0)
      expect(f(name).se).toBeLessThan(0.06 * f(name).value)
    }
  })
  test('with few rays it is still about right and says how unsure it is', () => {
    const { figures } = readBeam(gaussian(5, 9, 8192), lamp)
    const beam = figures.beamAngleDeg!
    expectWithin(beam.value, 5.02, { sigmas: 4, se: beam.se })
    expect(beam.se).toBeGreaterThan(0.01)
    expect(beam.se).toBeLessThan(0.4)
    expectWithin(figures.peakIntensityCd!.value, 115_500, { sigmas: 3.5, se: figures.peakIntensityCd!.se })
  })
})

describe('errors', () => {
  test('the spread of repeated runs is the standard error that each reports', () => {
    const runs = seeds(12).map((seed) => readBeam(gaussian(5, seed + 40, 32_000), lamp).figures)
    for (const name of ['axialIntensityCd', 'beamAngleDeg', 'halfFluxAngleDeg', 'spillOutsideTarget'] as const) {
      const values = runs.map((f) => f[name]!.value)
      const mean = values.reduce((a, b) => a + b) / values.length
      const sd = Math.sqrt(values.reduce((a, b) => a + (b - mean) ** 2, 0) / (values.length - 1))
      const se = runs.reduce((a, f) => a + f[name]!.se, 0) / runs.length
      // χ with 11 degrees of freedom lies within a factor of 1.8 either way 99.7 % of the time.
      expect(sd / se, name).toBeGreaterThan(1 / 1.9)
      expect(sd / se, name).toBeLessThan(1.9)
    }
  })
  test('a known scatter of batches is the error of what is proportional to it', () => {
    const run = profiledRun({ cd: () => 100 / (4 * Math.PI), emittedLm: 200, batchFactor: (b) => (b % 2 ? 1.1 : 0.9) })
    // Sixteen values of 45 and 55 lm for … 90 and 110 each: sd 10.33, se 2.58.
    expectWithin(readBeam(run, lamp).figures.fluxOutLm!.se, 10.328 / 4, { rel: 1e-3, because: 'sd / √16' })
  })
})

describe('shapes', () => {
  test('a ring is patterned: beam angle is the outermost crossing and an inner one is reported', () => {
    const ring = (theta: number) => 1000 * Math.exp(-(((theta - 6 * RAD) / (1.5 * RAD)) ** 2)) + 100
    const cd = (theta: number) => (theta < 12 * RAD ? ring(theta) : 0)
    const beam = readBeam(profiledRun({ cd }), lamp)
    expect(beam.patterned).toBe(true)
    // 1000 exp(−x²) + 100 = 550.
    const half = 6 + 1.5 * Math.sqrt(-Math.log(0.45))
    expectWithin(beam.figures.beamAngleDeg!.value, 2 * half, { abs: 0.06, because: 'bins and cone' })
    expect(beam.figures.peakIntensityCd!.value).toBeGreaterThan(1050)
    expect(beam.peakAt.thetaDeg).toBeGreaterThan(5)
  })
  test('a flat beam with a soft edge is not patterned and has no contrast', () => {
    const cd = (theta: number) => 1000 / (1 + Math.exp((theta / RAD - 8) / 0.3))
    const beam = readBeam(profiledRun({ cd }), lamp)
    expect(beam.patterned).toBe(false)
    expectWithin(beam.figures.beamAngleDeg!.value, 16, { abs: 0.03, because: 'bins' })
    expectWithin(beam.figures.patternContrast!.value, 0, { abs: 0.01, because: 'flat inside half the field' })
  })
  test('noise alone makes no pattern and no peak', () => {
    const flat = drawnRun({
      rays: 20_000,
      draw: (u) => ({
        fate: 'delivered',
        at: [0, 0, 10],
        towards: direction(8 * RAD * Math.sqrt(u(0)), 2 * Math.PI * u(1)),
      }),
    })
    const beam = readBeam(flat, lamp)
    const cd = 1000 / (Math.PI * (8 * RAD) ** 2)
    expectWithin(beam.figures.peakIntensityCd!.value, cd, { sigmas: 4, se: beam.figures.peakIntensityCd!.se })
    expect(beam.patterned).toBe(false)
    expectWithin(beam.figures.beamAngleDeg!.value, 16, { abs: 0.5, because: 'the axis is known to some 10 %' })
  })
  test('a spot off the axis is the peak, at its place', () => {
    const cd = (theta: number, phi: number) => {
      const [x, y] = [(theta * Math.cos(phi)) / RAD - 5, (theta * Math.sin(phi)) / RAD - 3]
      return 500 * Math.exp(-(x * x + y * y) / 8) + 20 * Math.exp(-((theta / RAD / 8) ** 2))
    }
    const beam = readBeam(profiledRun({ cd }), lamp)
    expectWithin(beam.figures.peakIntensityCd!.value, 502, { rel: 0.02, because: 'cone smoothing' })
    expectWithin(beam.peakAt.thetaDeg, Math.hypot(5, 3), { abs: 0.3, because: 'cell of 0.31°' })
    expectWithin(beam.peakAt.azimuthDeg, Math.atan2(3, 5) / RAD, { abs: 4, because: 'cell of 0.31°' })
  })
  test('an oval beam is read plane by plane', () => {
    const cd = (theta: number, phi: number) =>
      1000 * 2 ** -((((theta * Math.cos(phi)) / (6 * RAD)) ** 2 + ((theta * Math.sin(phi)) / (3 * RAD)) ** 2) as number)
    const { profile } = readBeam(profiledRun({ cd }), lamp)
    expect(profile.byDirection.map((p) => p.azimuthDeg)).toEqual([0, 15, 30, 45, 60, 75, 90, 105, 120, 135, 150, 165])
    expectWithin(profile.byDirection[0]!.beamDeg, 12, { abs: 0.7, because: 'sectors are 30° wide' })
    expectWithin(profile.byDirection[6]!.beamDeg, 6, { abs: 0.5, because: 'sectors are 30° wide' })
    expectWithin(profile.byDirection[6]!.fieldDeg, 6 * Math.sqrt(Math.log2(10)), { abs: 0.9, because: 'the same' })
  })
})

describe('what can’t be read is absent with a reason', () => {
  test('no light leaves', () => {
    const beam = readBeam(drawnRun({ rays: 160, draw: () => ({ fate: 'wall' }) }), lamp)
    expect(Object.keys(beam.figures)).toEqual(['emittedLm'])
    expect(beam.absent.fluxOutLm).toBe('No light leaves the lamp.')
    expect(beam.absent.beamAngleDeg).toBe('No light leaves the lamp.')
  })
  test('light that goes everywhere has no beam', () => {
    const beam = readBeam(profiledRun({ cd: () => 10 }), stileLamp())
    expect(beam.figures.beamAngleDeg).toBeUndefined()
    expect(beam.absent.beamAngleDeg).toMatch(/does not fall through 50 %/)
    expect(beam.absent.spillOutsideField).toMatch(/10 %/)
    expectWithin(beam.figures.fluxOutLm!.value, 40 * Math.PI, { rel: 1e-4, because: 'quadrature of the kit' })
  })
})

describe('ledger', () => {
  test('lines add up to 1 and delivered light is split at the angles', () => {
    const run = drawnRun({
      rays: 64_000,
      draw: (u) => {
        if (u(4) < 0.2) return { fate: 'wall' }
        return {
          fate: u(5) < 0.1 ? 'deliveredViaRiser' : 'delivered',
          weight: 0.9,
          at: [0, 0, 1],
          towards: direction(gaussianTheta(u(0), 5 * RAD), 2 * Math.PI * u(1)),
        }
      },
    })
    const beam = readBeam(run, lamp)
    const rows = readLedger(run, beam.angles)
    const share = (line: string) => rows.find((r) => r.line === line)!.share.value
    expectWithin(
      rows.reduce((a, r) => a + r.share.value, 0),
      1,
      { abs: 1e-9, because: 'the ledger closes' },
    )
    expectWithin(
      rows.reduce((a, r) => a + r.w, 0),
      run.emittedW,
      { rel: 1e-9, because: 'and in watts' },
    )
    expectWithin(share('deliveredViaRiser'), 0.072, { abs: 0.003, because: 'drawn' })
    expectWithin(share('deliveredInBeam'), 0.648 / 2, { abs: 0.02, because: 'Gaussian; the axis is known to 3 %' })
    expectWithin(share('deliveredInField'), 0.648 * 0.4, { abs: 0.01, because: 'Gaussian' })
    expectWithin(share('deliveredOutside'), 0.0648, { abs: 0.01, because: 'Gaussian' })
    expectWithin(share('wall'), 0.28, { abs: 0.003, because: 'drawn' })
  })
})
