import { describe, expect, test } from 'vitest'
import { brightestPlaces, crossAt, distanceFrom, type Hull, hullOf, oddStep } from '../../src/hazard/eyePlaces.ts'
import { weighRays } from '../../src/hazard/eyeRays.ts'
import { expectWithin } from '../kit/expect.ts'
import { drawnLight, inCone, onDiscAt } from '../kit/leavingLight.ts'

const RAD = Math.PI / 180
const HULL: Hull = { radiusMm: 100, fromZMm: 0, toZMm: 300 }
const onAxis = (x: number, y: number, z: number) => ({ xMm: x, yMm: y, zMm: z })

describe('the lamp as a cylinder', () => {
  test('holds where its rays start, and its front', () => {
    const rays = weighRays([
      drawnLight({
        rays: 2,
        watts: 1,
        draw: (u) => ({ at: u() < 0.5 ? [30, 40, 20] : [-30, 40, 20], towards: [0, 0, 1] }),
      }),
      drawnLight({ rays: 1, watts: 1, draw: () => ({ at: [0, 10, -5], towards: [0, 0, -1] }) }),
    ])
    expect(hullOf(rays, 120)).toEqual({ radiusMm: 50, fromZMm: -5, toZMm: 120 })
    expect(hullOf(rays, 10).toZMm).toBe(20)
    expect(hullOf(weighRays([]), 7)).toEqual({ radiusMm: 0, fromZMm: 7, toZMm: 7 })
  })
  test('distances: before it, beside it, behind it, past its edge (3, 4, 5), inside', () => {
    expect(distanceFrom(HULL, onAxis(50, 0, 340))).toBe(40)
    expect(distanceFrom(HULL, onAxis(0, 130, 200))).toBe(30)
    expect(distanceFrom(HULL, onAxis(0, 0, -25))).toBe(25)
    expect(distanceFrom(HULL, onAxis(130, 0, 340))).toBe(50)
    expect(distanceFrom(HULL, onAxis(-140, 0, -30))).toBe(50)
    expect(distanceFrom(HULL, onAxis(10, 10, 10))).toBe(0)
  })
  test('every so many rays: never an even step, which would leave out batches', () => {
    expect([0, 1, 2, 3, 4, 7, 8].map(oddStep)).toEqual([1, 1, 3, 3, 5, 7, 9])
  })
})

describe('where rays pass a distance', () => {
  test('each at that distance, on its own line, whichever way it goes', () => {
    const rays = weighRays([
      drawnLight({
        ...{ rays: 400, watts: 1 },
        draw: (u) => {
          const [x, y] = onDiscAt(u, 100)
          const way = [u() - 0.5, u() - 0.5, u() - 0.5] as const
          return { at: [x, y, 300 * u()], towards: way }
        },
      }),
    ])
    for (const d of [10, 200, 5000, 400_000]) {
      const at = crossAt(rays, HULL, d)
      expect(at.factor).toBe(1)
      for (let i = 0; i < rays.count; i++) {
        const place = onAxis(at.xMm[i]!, at.yMm[i]!, at.zMm[i]!)
        expectWithin(distanceFrom(HULL, place), d, { rel: 3e-4, because: 'where Newton’s rule stops' })
        const [x, y, z] = [place.xMm - rays.xMm[i]!, place.yMm - rays.yMm[i]!, place.zMm - rays.zMm[i]!]
        const along = (x * rays.dx[i]! + y * rays.dy[i]! + z * rays.dz[i]!) / Math.hypot(x, y, z)
        expectWithin(along, 1, { abs: 1e-6, because: 'single precision' })
        const off = Math.hypot(place.xMm, place.yMm, place.zMm - 300)
        expectWithin(at.cosOff[i]!, (place.zMm - 300) / off, { abs: 1e-5, because: 'single precision' })
      }
    }
  })
  test('of more than 65,536 rays every third, worth so much more', () => {
    const rays = weighRays([
      drawnLight({ rays: 70_000, watts: 7, draw: (u) => ({ at: onDiscAt(u, 50), towards: inCone(u, 0.2) }) }),
    ])
    const at = crossAt(rays, HULL, 500)
    expect(at.watts.length).toBe(Math.ceil(70_000 / 3))
    expectWithin(at.watts.reduce((a, b) => a + b, 0) * at.factor, 7, { rel: 1e-4, because: 'rounding' })
  })
})

describe('the brightest places', () => {
  const beamTowards = (offDeg: number, halfRad = 0.02, rays = 60_000) =>
    drawnLight({ rays, watts: 10, draw: (u) => ({ at: onDiscAt(u, 30), towards: inCone(u, halfRad, offDeg * RAD) }) })
  test.each([0, 13, 50, 88, 130, 180])('a beam %i° off the axis is found near and far', (offDeg) => {
    const rays = weighRays([beamTowards(offDeg)])
    const hull = hullOf(rays, 0)
    for (const d of [500, 20_000]) {
      const [best] = brightestPlaces(crossAt(rays, hull, d), hull, 2)
      expectWithin(distanceFrom(hull, best!), d, { rel: 1e-6, because: 'pushed there' })
      const aside = best!.xMm * Math.cos(offDeg * RAD) - best!.zMm * Math.sin(offDeg * RAD)
      // The beam is 30 mm + 0.02 d wide, and even: its middle half is as good as its middle.
      expect(Math.hypot(aside, best!.yMm)).toBeLessThan(30 + 0.015 * d)
      expect(best!.xMm * Math.sin(offDeg * RAD) + best!.zMm * Math.cos(offDeg * RAD)).toBeGreaterThan(0)
    }
  })
  test('the thin one of two beams is brightest, though it carries a tenth; both are given, apart', () => {
    const rays = weighRays([
      drawnLight({ rays: 60_000, watts: 10, draw: (u) => ({ at: onDiscAt(u, 30), towards: inCone(u, 0.15) }) }),
      drawnLight({ rays: 6000, watts: 1, draw: (u) => ({ at: onDiscAt(u, 3), towards: inCone(u, 0.005, 1) }) }),
    ])
    const hull = hullOf(rays, 0)
    const [thin, , wide] = brightestPlaces(crossAt(rays, hull, 2000), hull, 3)
    expectWithin(Math.atan2(thin!.xMm, thin!.zMm), 1, { abs: 0.01, because: 'a cell' })
    expect(Math.hypot(wide!.xMm, wide!.yMm)).toBeLessThan(400)
  })
  test('so far off the axis only: the brightest of what goes there', () => {
    const rays = weighRays([beamTowards(0), beamTowards(40, 0.05, 6000)])
    const hull = hullOf(rays, 0)
    const [best] = brightestPlaces(crossAt(rays, hull, 5000), hull, 1, 30)
    expectWithin(Math.atan2(best!.xMm, best!.zMm) / RAD, 40, { abs: 2.9, because: 'the beam' })
  })
  test('a ring of beams: one of them, not the dark middle', () => {
    const ring = Array.from({ length: 18 }, (_, k) => {
      const turn = (k * Math.PI) / 9
      return drawnLight({
        ...{ rays: 4000, watts: 1, seed: k + 1 },
        draw: (u) => ({ at: onDiscAt(u, 10, 250 * Math.cos(turn), 250 * Math.sin(turn)), towards: inCone(u, 0.01) }),
      })
    })
    const rays = weighRays(ring)
    const hull = hullOf(rays, 0)
    const [best, , ...others] = brightestPlaces(crossAt(rays, hull, 1000), hull, 3)
    expectWithin(Math.hypot(best!.xMm, best!.yMm), 250, { abs: 15, because: 'a beam is 20 mm wide' })
    for (const p of others) expectWithin(Math.hypot(p.xMm, p.yMm), 250, { abs: 15, because: 'a beam is 20 mm wide' })
  })
  test('a beam thinner than a cell is met in its middle', () => {
    const rays = weighRays([
      drawnLight({ rays: 5000, watts: 1, draw: (u) => ({ at: onDiscAt(u, 2, 7.3, -3.1), towards: [0, 0, 1] }) }),
    ])
    const hull = hullOf(rays, 0)
    const [best] = brightestPlaces(crossAt(rays, hull, 500), hull, 1)
    expectWithin(best!.xMm, 7.3, { abs: 0.2, because: 'the mean of 5000 rays' })
    expectWithin(best!.yMm, -3.1, { abs: 0.2, because: 'the mean of 5000 rays' })
    expect(best!.raysPerMm2).toBeGreaterThan(10)
  })
  test.each([1, 2, 3])('few rays of a wide light: no place is brightest for a single ray’s sake, seed %i', (seed) => {
    const rays = weighRays([
      drawnLight({
        rays: 3000,
        watts: 1,
        seed,
        draw: (u) => ({ at: onDiscAt(u, 5), towards: inCone(u, Math.PI / 2) }),
      }),
    ])
    const hull = hullOf(rays, 0)
    const [best] = brightestPlaces(crossAt(rays, hull, 5000), hull, 1)
    // 480 mm at 5 m hold some nine rays near the axis.
    expect(Math.atan2(Math.hypot(best!.xMm, best!.yMm), best!.zMm)).toBeLessThan(60 * RAD)
    expect(best!.raysPerMm2 * 480 ** 2).toBeLessThan(60)
  })
  test('none without light', () => {
    const rays = weighRays([])
    const hull = hullOf(rays, 0)
    expect(brightestPlaces(crossAt(rays, hull, 1000), hull, 3)).toEqual([])
  })
})
