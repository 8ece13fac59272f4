import { describe, expect, test } from 'vitest'
import { searchAir } from '../../src/hazard/air/search.ts'
import { makeZoneOf } from '../../src/hazard/air/zones.ts'
import { upperKWm2 } from '../../src/hazard/discs.ts'
import { findWorstSun, readSun, readSunSpots, SUN_HALF_DEG, type SunRun } from '../../src/hazard/sun.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { seededRandom } from '../../src/num/rng.ts'
import { runToEnd } from '../../src/num/scheduler.ts'
import { amount } from '../kit/amount.ts'
import { expectWithin } from '../kit/expect.ts'
import { drawnRun, HAND_LM_PER_W, onDisc } from '../kit/handRun.ts'
import { drawnSegments } from '../kit/handSegments.ts'

const RAD = Math.PI / 180
const lamp = gannetHead()

/** An ideal lens throws the sun's disc at its focal plane, `focalMm` behind the lens, shifted by the tilt; the wall stops what meets it. */
function sunThrough(focalMm: number, tiltDeg: number): SunRun {
  const lensZ = 1050
  const shift = -focalMm * Math.tan(tiltDeg * RAD)
  const image = focalMm * Math.tan(SUN_HALF_DEG * RAD)
  const watts = 246
  const half = (z: number) => 100 + (180 * (z - 14)) / 1026
  const random = seededRandom(17)
  const rays = Array.from({ length: amount(16_000, 48_000) }, () => {
    const [x, y] = onDisc(random(), random(), 280)
    const [ix, iy] = onDisc(random(), random(), image)
    const towards: [number, number, number] = [ix + shift - x, iy - y, -focalMm]
    const at = (z: number): [number, number] => [
      x + (towards[0] * (lensZ - z)) / focalMm,
      y + (towards[1] * (lensZ - z)) / focalMm,
    ]
    let hit: number | null = null
    for (let z = 1040; z >= 14 && hit === null; z -= 9) if (Math.hypot(...at(z)) > half(z)) hit = z
    return { x, y, towards, at, hit }
  })
  const segments = drawnSegments({ rays: rays.length, watts }, (_u, i) => {
    const { x, y, towards, hit } = rays[i]!
    return {
      from: [x, y, lensZ],
      towards,
      lengthMm: ((lensZ - (hit ?? 0)) * Math.hypot(...towards)) / focalMm,
    }
  })
  const run = drawnRun({
    rays: rays.length,
    emittedLm: watts * HAND_LM_PER_W,
    shape: {
      face: { n: 128, halfMm: 100 },
      wall: { nAlong: 256, nRound: 256, zInMm: 14, zOutMm: 1040, inMm: 200, outMm: 560, sides: 0 },
    },
    draw: (_u, i) => {
      const { hit, at } = rays[i]!
      if (hit === null) return { fate: 'face', faceAt: at(0) }
      return { fate: 'wall', wallAt: [hit, Math.atan2(at(hit)[1], at(hit)[0])] }
    },
  })
  const places = runToEnd(searchAir(segments, { discMm: 10, floorKWm2: 1, zoneOf: makeZoneOf(lamp) }))
  return { tiltDeg, run, places }
}

const all = (246 / (Math.PI * 25)) * 1000

describe('sun inside', () => {
  test('a focus in the air of the tunnel', () => {
    const spot = readSun(sunThrough(700, 0), lamp)!
    expect(spot.lands).toBe('air')
    expectWithin(spot.zMm, 350, { abs: 12, because: 'the image stays inside the disc over some ±9 mm' })
    expectWithin(Math.hypot(spot.xMm, spot.yMm), 0, { abs: 1, because: 'on the axis' })
    // The image is 6.5 mm, all of the sun inside the disc of 10 mm.
    expectWithin(spot.kWm2, all, { rel: 0.03, because: 'all of it' })
  })
  test('a focus on the face lands on the board there', () => {
    const spot = readSun(sunThrough(1050, 0), lamp)!
    expect(spot.lands).toBe('board')
    expectWithin(spot.kWm2, all, { rel: 0.05, because: 'all of the sun in the disc' })
    expect(spot.zMm).toBeLessThan(10)
    const bare = { ...lamp, boards: [] }
    expect(readSun(sunThrough(1050, 0), bare)!.lands).toBe('face')
  })
  test('a tilted sun that the wall stops is on the wall, or where it comes together before it', () => {
    const sun = sunThrough(1100, 20)
    const spots = readSunSpots(sun, lamp)
    const onWall = spots.find((s) => s.lands === 'wall' && s.zMm > 14)!
    expect(onWall.xMm).toBeLessThan(-100)
    expect(upperKWm2(readSun(sun, lamp)!)).toBe(Math.max(...spots.map(upperKWm2)))
    expect(findWorstSun([onWall, readSun(sunThrough(700, 0), lamp)!])!.lands).toBe('air')
  })
})
