import { describe, expect, test } from 'vitest'
import { readInverseSquare } from '../../src/beam/inverseSquare.ts'
import { frontZMm } from '../../src/lamp/front.ts'
import { readAimed } from '../kit/aimRun.ts'
import { amount } from '../kit/amount.ts'
import { expectWithin, seeds } from '../kit/expect.ts'
import { direction, drawnRun, gaussianTheta, onDisc } from '../kit/handRun.ts'
import { lampWith } from '../kit/lampWith.ts'

const RAD = Math.PI / 180
const front = frontZMm(lampWith({}))

/** Even radiance over a disc: a cosine source. */
const lambertianDisc = (radiusMm: number, rays: number, seed = 1, zMm = front) =>
  drawnRun({
    rays,
    seed,
    shape: { fineHalfRad: 90 * RAD },
    draw: (u) => ({
      fate: 'delivered',
      at: [...onDisc(u(2), u(3), radiusMm), zMm],
      towards: direction(Math.asin(Math.sqrt(u(0))), 2 * Math.PI * u(1)),
    }),
  })

test('the front is the lens’s outer surface, the tunnel’s mouth, or the top of the optics', () => {
  expect(front).toBe(1050 + 3 + 1)
  expect(frontZMm(lampWith({ lens: null }))).toBe(1040)
  expect(frontZMm(lampWith({ lens: null, tunnel: null }))).toBe(12)
})

describe('illuminance on the target', () => {
  test.each(seeds(amount(1, 2)))(
    'near a Lambertian disc it is π L R²/(R² + d²) on the axis, not I/d², seed %i',
    (seed) => {
      const [R, d] = [0.1, 0.2]
      const lamp = lampWith({ target: { distanceM: d, widthM: 0.1, heightM: 0.1 } })
      const { figures, absent, notes } = readAimed(lambertianDisc(1000 * R, 200_000, seed), lamp)
      expect(absent).toEqual({})
      const luminance = 1000 / (Math.PI * Math.PI * R * R)
      const E = (Math.PI * luminance * R * R) / (R * R + d * d)
      // The centre is a mean over some 20 mm across: flat enough there.
      expectWithin(figures.targetCentreLx!.value, E, { sigmas: 4, se: figures.targetCentreLx!.se })
      expect(figures.targetCentreLx!.se).toBeLessThan(0.1 * E)
      expect(notes.join(' ')).toMatch(/disc of \d+(\.\d+)? mm/)
      // View factor between coaxial discs is not that of a square; the mean lies a little under the centre.
      expect(figures.targetMeanLx!.value).toBeLessThan(E)
      expect(figures.targetMeanLx!.value).toBeGreaterThan(0.9 * E)
      expectWithin(figures.targetMinLx!.value, 0.86 * E, { sigmas: 4, se: figures.targetMinLx!.se + 0.02 * E })
      expectWithin(figures.targetEvenness!.value, 0.925, { sigmas: 4, se: figures.targetEvenness!.se + 0.01 })
    },
  )
  test('far away it is the intensity over the square of the distance', () => {
    const run = drawnRun({
      rays: 120_000,
      shape: { fineHalfRad: 20 * RAD },
      draw: (u) => ({
        fate: 'delivered',
        at: [...onDisc(u(2), u(3), 100), front],
        towards: direction(gaussianTheta(u(0), 5 * RAD), 2 * Math.PI * u(1)),
      }),
    })
    const cd = 1000 / (2 * Math.PI * ((5 * RAD) ** 2 / (8 * Math.LN2)))
    const near = readAimed(run, lampWith({ target: { distanceM: 100, widthM: 4, heightM: 4 } })).figures
    expectWithin(near.targetCentreLx!.value, cd / 1e4, { sigmas: 4, se: near.targetCentreLx!.se })
    // So small a target takes hardly a ray: the far field stands in, and says so.
    const small = readAimed(run, lampWith({ target: { distanceM: 800, widthM: 1, heightM: 1 } }))
    expect(small.notes.join(' ')).toMatch(/Too few exit rays/)
    expectWithin(small.figures.targetMeanLx!.value, cd / 640_000, { sigmas: 4, se: small.figures.targetMeanLx!.se })
    expect(small.map.values.length).toBe(225)
  })
  test('a target that nothing falls on is absent with a reason', () => {
    const run = drawnRun({
      rays: 1600,
      draw: (u) => ({ fate: 'delivered', at: [0, 0, front], towards: direction(60 * RAD, 6 * u(0)) }),
    })
    const { figures, absent } = readAimed(run, lampWith({ target: { distanceM: 10, widthM: 1, heightM: 1 } }))
    expect(figures).toEqual({})
    expect(absent.targetMinLx).toBe('No light falls on the target.')
  })
})

describe('from where on I/d² holds', () => {
  test('a Lambertian disc: five diameters for 1 % (check-values 2.48 and 7.4, EN 13032-1)', () => {
    const R = 100
    const { figure, absent, coneHalfDeg } = readInverseSquare(lambertianDisc(R, 260_000), front)
    expect(absent).toBeUndefined()
    // Exactly √99 R on the axis. Both sides are means over the stated cone, which takes off cos²: the moment of the kernel.
    const exact = (Math.sqrt(99) * R) / 1000
    expectWithin(figure!.value, exact, { sigmas: 3, se: figure!.se + 0.06 * exact })
    expect(figure!.se).toBeLessThan(0.15 * exact)
    expect(coneHalfDeg).toBeLessThan(12)
  })
  test('a collimated beam: far out, near where the aperture fills the beam (row 7.6)', () => {
    // D 0.3 m, Gaussian of FWHM 2°: E d² = I (1 − exp(−…)) by convolution, an even disc with a Gaussian.
    const run = drawnRun({
      rays: 260_000,
      shape: { fineHalfRad: 8 * RAD },
      draw: (u) => ({
        fate: 'delivered',
        at: [...onDisc(u(2), u(3), 150), front],
        towards: direction(gaussianTheta(u(0), 2 * RAD), 2 * Math.PI * u(1)),
      }),
    })
    const { figure } = readInverseSquare(run, front)
    const s2 = (2 * RAD) ** 2 / (8 * Math.LN2)
    // On the axis: mean over the disc of exp(−r²/(2 s² d²)) = (1 − e^−v)/v with v = R²/(2 s² d²); 1 − v/2 ≈ 0.99.
    const v = 0.0201
    const exact = 0.15 / Math.sqrt(2 * s2 * v)
    expectWithin(figure!.value, exact, { sigmas: 3.5, se: figure!.se + 0.04 * exact })
  })
  test('a point source: from the front on; too few rays: absent', () => {
    const point = drawnRun({
      rays: 40_000,
      shape: { fineHalfRad: 20 * RAD },
      draw: (u) => ({
        fate: 'delivered',
        at: [0, 0, front],
        towards: direction(gaussianTheta(u(0), 0.1), 6.283 * u(1)),
      }),
    })
    expect(readInverseSquare(point, front).absent).toBe('I/d² holds from the lamp’s front on.')
    expect(readInverseSquare(lambertianDisc(100, 800), front).absent).toMatch(/Too few exit rays/)
  })
})
