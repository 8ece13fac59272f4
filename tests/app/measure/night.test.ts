import { describe, expect, test } from 'vitest'
import { illuminanceAt, intensityTowards, mapAt, meanOnTarget } from '../../../src/app/measure/nightLight.ts'
import {
  distanceMarks,
  hitOf,
  jointM,
  LAMP_HEIGHT_M,
  lampFromPlace,
  personOutline,
  pictureOf,
  sightThrough,
  stationAt,
} from '../../../src/app/measure/nightScene.ts'
import {
  adaptationTo,
  cameraLevel,
  cameraWhite,
  DARKEST_ADAPTATION,
  eyeLevel,
  likeLux,
  luminanceOf,
  sensibleEv,
} from '../../../src/app/measure/nightTone.ts'
import type { GridMap } from '../../../src/run/figure.ts'

const n = 64
const map: GridMap = {
  columns: n,
  rows: n,
  fromX: -8,
  toX: 8,
  fromY: -8,
  toY: 8,
  unit: 'deg',
  of: 'cd',
  // Brighter to +x and, less, to +y: a mirrored picture can't pass.
  values: Float32Array.from({ length: n * n }, (_, i) => 1000 + 100 * (i % n) + 10 * Math.floor(i / n)),
}
const light = { directionMap: map, profile: { thetaDeg: [0, 8, 90, 180], cd: [4000, 4000, 400, 0] } }
const flat = {
  directionMap: { ...map, values: new Float32Array(n * n).fill(1000) },
  profile: { thetaDeg: [0, 180], cd: [1000, 1000] },
}

describe('light', () => {
  test('the map is read between bin centres, linearly', () => {
    // 0.25° a bin; bin (32, 32) has its centre at 0.125°.
    expect(mapAt(map, 0.125, 0.125)).toBeCloseTo(1000 + 3200 + 320, 3)
    expect(mapAt(map, 0.25, 0.125)).toBeCloseTo(1000 + 3250 + 320, 3)
  })
  test('near the axis the map speaks, beyond its window the profile', () => {
    const at = (deg: number) => Math.tan((deg * Math.PI) / 180)
    expect(intensityTowards(light, at(3), 0, 1)).toBeCloseTo(mapAt(map, 3, 0), 2)
    expect(intensityTowards(light, 0, at(-3), 1)).toBeCloseTo(mapAt(map, 0, -3), 2)
    expect(intensityTowards(light, at(49), 0, 1)).toBeCloseTo(2200, 6)
    expect(intensityTowards(light, 0, 0, -1)).toBe(0)
  })
  test('illuminance is I cos/d²', () => {
    expect(illuminanceAt(flat, [0, 0, 10], [0, 0, 1])).toBeCloseTo(10, 9)
    // The wall 10 m to the side: d² = 200, cos 45°.
    expect(illuminanceAt(flat, [10, 0, 10], [0, 0, 1])).toBeCloseTo((1000 * Math.SQRT1_2) / 200, 9)
    // The ground 1.5 m below, 20 m out.
    const d2 = 400 + 2.25
    expect(illuminanceAt(flat, [0, -1.5, 20], [0, 1, 0])).toBeCloseTo((1000 * 1.5) / d2 ** 1.5, 9)
    expect(meanOnTarget(flat, 100, 1, 1)).toBeCloseTo(0.1, 5)
  })
})

describe('place', () => {
  const size = { width: 600, height: 500 }
  const aim = { distanceM: 800, widthM: 40, heightM: 40, fieldDeg: 9 }
  test.each(['lamp', 'raised'] as const)('from %s a point and its sight agree', (name) => {
    const s = stationAt(name, aim, 1, size)
    for (const p of [
      [12, -LAMP_HEIGHT_M, 790],
      [-20, 15, 800],
      [3, -LAMP_HEIGHT_M, 400],
    ] as const) {
      const at = pictureOf(s, size, p)!
      const hit = hitOf(s, sightThrough(s, size, ...at), aim.distanceM)!
      for (let i = 0; i < 3; i++) expect(hit.at[i]).toBeCloseTo(p[i]!, 4)
      expect(hit.on).toBe(p[2] === 800 ? 'wall' : 'ground')
    }
  })
  test.each(['lamp', 'raised'] as const)(
    'from %s up is up, and right is the right of who looks along the beam',
    (name) => {
      const s = stationAt(name, aim, 1, size)
      const mid = pictureOf(s, size, [0, 0, 800])!
      expect(pictureOf(s, size, [10, 0, 800])![0]).toBeGreaterThan(mid[0])
      expect(pictureOf(s, size, [0, 10, 800])![1]).toBeLessThan(mid[1])
    },
  )
  test('the whole target is in the picture', () => {
    for (const distanceM of [10, 15, 800]) {
      const s = stationAt('lamp', { ...aim, distanceM, widthM: 6, heightM: 3 }, 1, size)
      for (const x of [-3, 3]) {
        const at = pictureOf(s, size, [x, 1.5, distanceM])!
        expect(at[0]).toBeGreaterThan(0)
        expect(at[0]).toBeLessThan(size.width)
        expect(at[1]).toBeGreaterThan(0)
      }
    }
  })
  // The frame of the lamp is seen from the target: its x is the left of whoever stands at the lamp.
  test('what goes to +x of the lamp lands on the left', () => {
    expect(lampFromPlace([-2, 1, 5])).toEqual([2, 1, 5])
  })
  test('marks are round and end with the target', () => {
    expect(distanceMarks(800)).toEqual([20, 50, 100, 200, 500, 800])
    expect(distanceMarks(15)).toEqual([0.5, 1, 2, 5, 10, 15])
    expect(distanceMarks(100)).toEqual([2, 5, 10, 20, 50, 100])
    expect(jointM(40, 40)).toBe(5)
    expect(jointM(0.4, 0.4)).toBeCloseTo(0.05, 9)
  })
  test('the person stands 1.75 m tall on two feet', () => {
    const y = personOutline().map((p) => p[1])
    expect(Math.max(...y)).toBeCloseTo(1.75, 9)
    expect(Math.min(...y)).toBe(0)
    const x = personOutline().map((p) => p[0])
    expect(Math.max(...x)).toBeCloseTo(-Math.min(...x), 9)
  })
})

describe('tone', () => {
  test('a matt surface: L = ρE/π', () => {
    expect(luminanceOf(Math.PI, 0.5)).toBeCloseTo(0.5, 12)
  })
  test('the eye shows its adaptation at half, rises, and never leaves the range', () => {
    expect(eyeLevel(0.7, 0.7)).toBeCloseTo(0.5, 9)
    let last = -1
    for (const l of [0, 1e-6, 1e-3, 0.1, 1, 100, 1e9]) {
      const shown = eyeLevel(l, 0.7)
      expect(shown).toBeGreaterThan(last)
      expect(shown).toBeLessThanOrEqual(1)
      last = shown
    }
    expect(adaptationTo(0)).toBe(DARKEST_ADAPTATION)
    expect(adaptationTo(3)).toBe(3)
  })
  test('a camera doubles its white with each EV and clips there', () => {
    expect(cameraWhite(3) / cameraWhite(2)).toBe(2)
    expect(cameraLevel(cameraWhite(4), 4)).toBeCloseTo(1, 12)
    expect(cameraLevel(10 * cameraWhite(4), 4)).toBeCloseTo(1, 12)
    // IEC 61966-2-1: a fifth of white is sent as 0.4845.
    expect(cameraLevel(0.2 * cameraWhite(4), 4)).toBeCloseTo(0.4845, 3)
    expect(cameraLevel(1, sensibleEv(1))).toBeGreaterThan(0.4)
    expect(cameraLevel(1, sensibleEv(1))).toBeLessThan(0.65)
  })
  test('words for light levels follow the levels', () => {
    expect(likeLux(0.25)).toBe('like a full moon')
    expect(likeLux(400)).toBe('like an office')
  })
})
