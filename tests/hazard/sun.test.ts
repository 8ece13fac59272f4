import { describe, expect, test } from 'vitest'
import { concentrationLimit, findWorstSun, readSun, SUN_HALF_DEG, sunImageDiameterMm } from '../../src/hazard/sun.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { expectWithin } from '../kit/expect.ts'
import { drawnRun, HAND_LM_PER_W, onDisc } from '../kit/handRun.ts'

const RAD = Math.PI / 180
const lamp = gannetHead()

/** An ideal lens throws the sun's disc at its focal plane, `focalMm` behind the lens, shifted by the tilt. */
function sunThrough(focalMm: number, tiltDeg: number, from = lamp) {
  const lensZ = 1050
  const shift = -focalMm * Math.tan(tiltDeg * RAD)
  const image = focalMm * Math.tan(SUN_HALF_DEG * RAD)
  const watts = 246
  const half = (z: number) => 100 + (180 * (z - 14)) / 1026
  const run = drawnRun({
    rays: 48_000,
    sense: -1,
    emittedLm: watts * HAND_LM_PER_W,
    shape: {
      face: { n: 128, halfMm: 100 },
      wall: { nAlong: 256, nRound: 256, zInMm: 14, zOutMm: 1040, inMm: 200, outMm: 560, sides: 0 },
    },
    draw: (u) => {
      const [x, y] = onDisc(u(0), u(1), 280)
      const [ix, iy] = onDisc(u(2), u(3), image)
      const towards: [number, number, number] = [ix + shift - x, iy - y, -focalMm]
      const at = (z: number): [number, number] => [
        x + (towards[0] * (lensZ - z)) / focalMm,
        y + (towards[1] * (lensZ - z)) / focalMm,
      ]
      let hit: number | null = null
      for (let z = 1040; z >= 14 && hit === null; z -= 9) if (Math.hypot(...at(z)) > half(z)) hit = z
      const ray = { fate: 'delivered', at: [x, y, lensZ] as [number, number, number], towards } as const
      return hit === null ? { ...ray, faceAt: at(0) } : { ...ray, wallAt: [hit, Math.atan2(at(hit)[1], at(hit)[0])] }
    },
  })
  return { tiltDeg, run: { ...run, emittedLm: watts * HAND_LM_PER_W, from } }
}

describe('sun inside', () => {
  test('a focus in the air of the tunnel', () => {
    const spot = readSun(sunThrough(700, 0), lamp)!
    expect(spot.lands).toBe('air')
    expectWithin(spot.zMm, 350, { abs: 12, because: 'the image stays inside the disc over some ±9 mm' })
    expectWithin(Math.hypot(spot.xMm, spot.yMm), 0, { abs: 1, because: 'on the axis' })
    // The image is 6.5 mm, all of the sun inside the disc of 10 mm.
    expectWithin(spot.kWm2, (246 / (Math.PI * 25)) * 1000, { rel: 0.03, because: 'all of it' })
  })
  test('a focus on the face lands on the board there', () => {
    const spot = readSun(sunThrough(1050, 0), lamp)!
    expect(spot.lands).toBe('board')
    expectWithin(spot.kWm2, (246 / (Math.PI * 25)) * 1000, { rel: 0.05, because: 'all of the sun in the disc' })
    expect(spot.zMm).toBe(0)
    const bare = { ...lamp, boards: [] }
    expect(readSun(sunThrough(1050, 0), bare)!.lands).toBe('face')
  })
  test('a tilted sun lands on the wall', () => {
    const spot = readSun(sunThrough(1100, 20), lamp)!
    expect(spot.lands).toBe('wall')
    expect(spot.xMm).toBeLessThan(-100)
    expect(findWorstSun([spot, readSun(sunThrough(700, 0), lamp)!])!.lands).toBe('air')
  })
})

describe('published values (check-values, 2f)', () => {
  test.each([
    [100, 0.93049],
    [200, 1.86098],
    [300, 2.791471],
    [400, 3.721961],
    [500, 4.652451],
    [1000, 9.304902],
  ])('sun image of a lens of %i mm: 2 f tan 959.63″ (memory), row 2.58', (f, mm) => {
    expectWithin(sunImageDiameterMm(f, 959.63 / 3600), mm, { abs: 1e-6, because: 'as printed' })
  })
  test.each([
    [0.266564, 46_200],
    [0.266452, 46_239],
    [0.2666, 46_188],
  ])('largest concentration in air 1/sin² of %d°, row 2.55', (half, limit) => {
    expectWithin(concentrationLimit(1, half), limit, { abs: 1, because: 'as printed' })
  })
  test.each([
    [500, 400, 12_978],
    [300, 300, 9240],
    [250, 600, 1922],
  ])('lens of %i mm, focal length %i mm: (sin rim / sin sun)², Winston and Welford, row 2.56', (d, f, limit) => {
    const sinRim = d / 2 / Math.hypot(d / 2, f)
    expectWithin(concentrationLimit(sinRim, 0.266564), limit, { abs: 1, because: 'as printed' })
    // Row 2.57: the naive ratio of areas breaks the limit.
    expect((d / sunImageDiameterMm(f, 0.266564)) ** 2).toBeGreaterThan(limit)
  })
})
