import { describe, expect, test } from 'vitest'
import { brightestPlaces, crossAt, distanceFrom, hullOf } from '../../src/hazard/eyePlaces.ts'
import { weighRays } from '../../src/hazard/eyeRays.ts'
import { expectWithin } from '../kit/expect.ts'
import { drawnLight, inCone, onDiscAt } from '../kit/leavingLight.ts'

const RAD = Math.PI / 180

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
  test('the brightest of many alike, though it comes last', () => {
    const beams = Array.from({ length: 12 }, (_, k) =>
      drawnLight({
        ...{ rays: 1600, watts: k === 11 ? 1.5 : 1, seed: k + 1 },
        draw: (u) => ({ at: onDiscAt(u, 2, 100 * k + 5, 5), towards: [0, 0, 1] }),
      }),
    )
    const rays = weighRays(beams)
    const hull = hullOf(rays, 0)
    const [best] = brightestPlaces(crossAt(rays, hull, 1000), hull, 1)
    expectWithin(best!.xMm, 1105, { abs: 2, because: 'the last beam' })
  })
  test('beams far aside: 15 m off the axis, 0.2 m before the lamp', () => {
    const rays = weighRays([
      drawnLight({ rays: 2000, watts: 1, draw: (u) => ({ at: onDiscAt(u, 2, 15_000, -40), towards: [0, 0, 1] }) }),
      drawnLight({ rays: 2000, watts: 0.1, draw: (u) => ({ at: onDiscAt(u, 2, -9000, 0), towards: [0, 0, 1] }) }),
    ])
    const hull = hullOf(rays, 0)
    const [best] = brightestPlaces(crossAt(rays, hull, 200), hull, 1)
    expect(Math.hypot(best!.xMm - 15_000, best!.yMm + 40)).toBeLessThan(5)
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
