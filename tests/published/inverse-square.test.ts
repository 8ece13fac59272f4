// The photometric distance law, E = I cos θ / d² (CIE e-ILV 17-25-104), where it starts to hold (ANSI/IESNA LM-73-04 2.5; EN 13032-1:2004, second-hand),
// and a wall of lux readings turned into a beam by hand (derived).
import { describe, expect, test } from 'vitest'
import { readBeam } from '../../src/beam/beam.ts'
import { readInverseSquare } from '../../src/beam/inverseSquare.ts'
import { zoneSr } from '../../src/beam/profile.ts'
import { frontZMm } from '../../src/lamp/front.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { linear } from '../../src/num/interpolate.ts'
import { readAimed } from '../kit/aimRun.ts'
import { expectWithin } from '../kit/expect.ts'
import { direction, drawnRun, onDisc, profiledRun } from '../kit/handRun.ts'
import { lampWith } from '../kit/lampWith.ts'

const RAD = Math.PI / 180
const front = frontZMm(gannetHead())

describe('a Lambertian disc on its axis: E = π L R²/(R² + d²) (row 2.48)', () => {
  const R = 100
  const run = drawnRun({
    rays: 400_000,
    shape: { fineHalfRad: 89 * RAD },
    draw: (u) => ({
      fate: 'delivered',
      at: [...onDisc(u(2), u(3), R), front],
      towards: direction(Math.asin(Math.sqrt(u(0))), 2 * Math.PI * u(1)),
    }),
  })
  test.each([
    [1, 0.8],
    [2, 0.941176],
    [3, 0.972973],
    [5, 0.990099],
  ])('at %d diameters %d of what I/d² says', (diameters, ratio) => {
    const d = (diameters * 2 * R) / 1000
    const side = 0.2 * d
    const { figures } = readAimed(run, lampWith({ target: { distanceM: d, widthM: side, heightM: side } }))
    const intensity = 1000 / Math.PI
    const centre = figures.targetCentreLx!
    // The centre is a disc of up to a tenth of the distance in radius: cos⁴ takes off 1 % at most.
    expectWithin((centre.value * d * d) / intensity, ratio, { sigmas: 4, se: (centre.se * d * d) / intensity + 0.005 })
  })
  test('and 1 % from five diameters on (rows 2.48, 7.3, 7.4)', () => {
    const { figure } = readInverseSquare(run, front)
    expectWithin(figure!.value, 5 * 2 * R * 1e-3, { sigmas: 3, se: figure!.se + 0.04 })
  })
})

test('2,000 lx at 2 m are 8,000 cd (row 1.32; one printed page says 4,000 and is wrong)', () => {
  const run = profiledRun({ cd: (t) => (t < 0.5 ? 8000 : 0), shape: { fineHalfRad: 0.6 } })
  // The law is a point's: a lamp of 1 mm.
  const point = lampWith({
    lens: null,
    tunnel: null,
    boards: [],
    face: { sizeMm: 1 },
    target: { distanceM: 2, widthM: 0.1, heightM: 0.1 },
  })
  const { figures } = readAimed(run, point)
  expectWithin(figures.targetCentreLx!.value, 2000, { rel: 1e-4, because: 'a cone of 0.25°' })
})

test('a wall flat across the beam: E falls as cos³ of even intensity (row 7.7)', () => {
  // 30°: cos³ = 0.649519. No exit rays in this run: the far field's law.
  const run = profiledRun({ cd: (t) => (t < 1 ? 800 : 0), shape: { fineHalfRad: 1.1 } })
  const d = 10
  const { map } = readAimed(run, lampWith({ target: { distanceM: d, widthM: 15, heightM: 15 } }))
  const x = (7 / 15) * 15
  const cell = map.values[7 * 15 + 14]!
  expectWithin(cell, (800 / d ** 2) * Math.cos(Math.atan(x / d)) ** 3, {
    rel: 2e-3,
    because: 'middle of the last cell',
  })
})

describe('seven readings on a wall at 10 m, worked by hand (rows 7.21)', () => {
  const x = [0, 0.25, 0.5, 0.75, 1, 1.5, 2]
  const lux = [8000, 6400, 3200, 1200, 400, 100, 20]
  const theta = x.map((v) => Math.atan(v / 10))
  const cd = lux.map((e, i) => (e * 100) / Math.cos(theta[i]!) ** 3)
  test('angles, candela, zones and the edge-mean sum', () => {
    const degrees = [0, 1.4321, 2.86241, 4.28915, 5.71059, 8.53077, 11.30993]
    for (const [i, t] of degrees.entries()) expectWithin(theta[i]! / RAD, t, { abs: 6e-6, because: 'printed digits' })
    const candela = [800_000, 640_600.09, 321_200.75, 121_013.92, 40_601.5, 10_339.39, 2121.19]
    for (const [i, c] of candela.entries()) expectWithin(cd[i]!, c, { abs: 6e-3, because: 'printed digits' })
    const zones = [0.00196258, 0.00587671, 0.00975797, 0.013585, 0.03833269, 0.05250027]
    let sum = 0
    for (const [i, z] of zones.entries()) {
      expectWithin(zoneSr(theta[i]!, theta[i + 1]!), z, { abs: 6e-9, because: 'printed digits' })
      sum += (zoneSr(theta[i]!, theta[i + 1]!) * (cd[i]! + cd[i + 1]!)) / 2
    }
    expectWithin(sum, 8798.53, { abs: 6e-4, because: 'printed digits' })
  })
  test('as a profile, linear in angle: beam and field angle, peak, beam distance', () => {
    const run = profiledRun({
      cd: (t) => (t < theta[6]! ? linear(theta, cd, t) : 0),
      shape: { fineHalfRad: theta[6]!, axialConeHalfRad: 0.02 * RAD },
    })
    const { figures } = readBeam(run, gannetHead())
    expectWithin(figures.beamAngleDeg!.value, 5.01907, { abs: 0.01, because: 'bins of 0.03° and the cone of 0.02°' })
    expectWithin(figures.fieldAngleDeg!.value, 10.0283, { abs: 0.02, because: 'the same' })
    // The mean over the cone lies a little under the tip of the profile: 2/3 · 0.02° of slope.
    expectWithin(figures.peakIntensityCd!.value, 800_000, { rel: 3e-3, because: 'the tip is a cone' })
    expectWithin(figures.beamDistanceM!.value, 1788.85, { rel: 1.5e-3, because: 'half of that' })
    // Between the edge-mean sum 8,798.5 lm and the trapezoid 7,916.8 lm, which differ by the coarse sampling.
    expect(figures.fluxOutLm!.value).toBeLessThan(8798.53)
    expect(figures.fluxOutLm!.value).toBeGreaterThan(7916.81)
  })
})
