import { describe, expect, test } from 'vitest'
import { envelope, planeContours, ringContours } from '../../src/hazard/contours.ts'
import { type FrontVolume, hottestByPlane, readVolume } from '../../src/hazard/volume.ts'
import { runToEnd } from '../../src/num/scheduler.ts'
import { expectWithin } from '../kit/expect.ts'
import { direction, drawnRun, gaussianTheta, onDisc } from '../kit/handRun.ts'

const RAD = Math.PI / 180
const FRONT = 500

/** 100 W from a small disc, Gaussian of 8°; `y` squeezes one axis. */
const beam = (y: number) =>
  drawnRun({
    rays: 200_000,
    emittedLm: 30_000,
    draw: (u) => {
      const [dx, dy, dz] = direction(gaussianTheta(u(2), 8 * RAD), 2 * Math.PI * u(3))
      return { fate: 'delivered', at: [...onDisc(u(0), u(1), 20), FRONT], towards: [dx, y * dy, dz] }
    },
  })
const read = (y = 1) => runToEnd(readVolume(beam(y), FRONT, { discMm: 10, farMm: 8000 }))
const s2 = (8 * RAD) ** 2 / (8 * Math.LN2)
/** kW/m² on the axis far off, and the radius where it has fallen to a level. */
const axis = (d: number) => (100 / (2 * Math.PI * s2 * d * d)) * 1000
const radiusAt = (d: number, level: number) => d * Math.sqrt(2 * s2 * Math.log(axis(d) / level))

describe('a round beam', () => {
  const volume = read()
  test('is told to be round, one squeezed to a half is not', () => {
    expect(volume.round).toBe(true)
    expect(read(0.5).round).toBe(false)
  })
  test('the volume holds the closed form of a Gaussian beam', () => {
    const far = volume.planes.find((p) => p.distanceMm > 2000)!
    const middle = far.kWm2[Math.floor(far.n / 2) * far.n + Math.floor(far.n / 2)]!
    expectWithin(middle, axis(far.distanceMm), { rel: 0.25, because: 'upper end of a cell of some hundred rays' })
    expect(middle).toBeGreaterThan(0.97 * axis(far.distanceMm))
    const k = volume.planes.indexOf(far)
    const ring = volume.ringMap.kWm2[k * volume.ringMap.rings + 2]!
    const r = 2.5 * volume.ringMap.ringMm[k]!
    expectWithin(ring, axis(far.distanceMm) * Math.exp(-((r / far.distanceMm) ** 2) / (2 * s2)), {
      rel: 0.08,
      because: 'upper end of some thousand rays',
    })
  })
  test('outlines on a plane are closed rings of the right radius', () => {
    const plane = volume.planes.find((p) => p.distanceMm > 1500)!
    const level = 0.4 * axis(plane.distanceMm)
    const lines = planeContours(plane, level).sort((a, b) => b.length - a.length)
    const [ring] = lines as [Float32Array]
    expect([ring[0], ring[1]]).toEqual([ring.at(-2), ring.at(-1)])
    let sum = 0
    for (let i = 0; i < ring.length - 2; i += 2) sum += Math.hypot(ring[i]!, ring[i + 1]!)
    expectWithin(sum / (ring.length / 2 - 1), radiusAt(plane.distanceMm, level), {
      rel: 0.12,
      because: 'cells of a twentieth of it, and the upper end',
    })
  })
  test('the outline in the half plane ends where the axis falls to the level, and never within it', () => {
    const level = 1
    const lines = ringContours(volume, level)
    const farthest = Math.max(...lines.flatMap((l) => [...l].filter((_, i) => i % 2 === 0)))
    const end = Math.sqrt((100 * 1000) / (2 * Math.PI * s2 * level))
    expectWithin(farthest - FRONT, end, { rel: 0.1, because: 'planes 15 % apart, the line between them' })
    expect(farthest - FRONT).toBeGreaterThan(0.98 * end)
  })
  test('a higher level lies inside a lower one, plane by plane', () => {
    const [low, high] = [envelope(volume, 0.5), envelope(volume, 2)]
    for (const [k, { radiusMm }] of high.entries()) expect(radiusMm).toBeLessThanOrEqual(low[k]!.radiusMm)
    expect(envelope(volume, 1e9).every((e) => e.radiusMm === 0)).toBe(true)
  })
  test('the hottest cell falls with the distance, once the beam is clear of its disc', () => {
    const hottest = hottestByPlane(volume).filter((p) => p.distanceMm > 500)
    for (let k = 1; k < hottest.length; k++) expect(hottest[k]!.kWm2).toBeLessThan(1.1 * hottest[k - 1]!.kWm2)
  })
})

describe('marching squares', () => {
  const plane = (values: number[]) => ({ distanceMm: 1, halfMm: 10, n: 2, kWm2: Float32Array.from(values) })
  test('one cell over the level: a closed diamond about its middle', () => {
    const [line, ...more] = planeContours(plane([1, 0, 0, 0]), 0.5)
    expect(more).toEqual([])
    expect(line!.length).toBe(10)
    const xs = [...line!].filter((_, i) => i % 2 === 0)
    expect([Math.min(...xs), Math.max(...xs)]).toEqual([-10, 0])
  })
  test('a saddle: apart where the middle is under the level, joined where it is over', () => {
    expect(planeContours(plane([1, 0, 0, 1]), 0.6).length).toBe(2)
    expect(planeContours(plane([1, 0, 0, 1]), 0.4).length).toBe(1)
  })
  test('nothing over the level, no line', () => {
    expect(planeContours(plane([0, 0, 0, 0]), 0.5)).toEqual([])
    const none: FrontVolume = {
      frontZMm: 0,
      round: true,
      planes: [plane([0, 0, 0, 0])],
      ringMap: { rings: 2, ringMm: Float32Array.of(1), kWm2: new Float32Array(2) },
    }
    expect(ringContours(none, 1)).toEqual([])
  })
})
