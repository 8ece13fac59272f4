// A wide source whose picture is a pattern of beams: most light arrives where many dim beams meet, the brightest patch is seen from elsewhere.
import { describe, expect, test } from 'vitest'
import { brightestPatches, isWider } from '../../src/hazard/eyePatches.ts'
import { crossAt, hullOf } from '../../src/hazard/eyePlaces.ts'
import { weighRays } from '../../src/hazard/eyeRays.ts'
import { readEyes } from '../../src/hazard/eyeSheet.ts'
import { runToEnd } from '../../src/num/scheduler.ts'
import { drawnLight, inCone, onDiscAt } from '../kit/leavingLight.ts'

const RAD = Math.PI / 180
const INPUT = {
  ...{ frontZMm: 0, source: { blueWm2sr: 1e12, thermalWm2sr: 1e12 } },
  perWatt: { blue: 0.94, thermal: 9.4, lumens: 683 },
  ...{ ultraviolet: { fromNm: 380, actinicPerW: 0, nearPerW: 0 }, flicker: [] },
}

/** A face of 600 mm, even and wide; one patch of 30 mm beside its middle sends as even a beam of 4°, 26° aside, past the face's own 20°. */
const FACE_W = 100
const PATCH_W = 2.5
const OFF_DEG = 26
const face = drawnLight({
  ...{ rays: 30_000, watts: FACE_W, nm: 450 },
  draw: (u) => ({ at: onDiscAt(u, 300), towards: inCone(u, 20 * RAD) }),
})
const patch = (seed = 2) =>
  drawnLight({
    ...{ rays: 800, watts: PATCH_W, nm: 450, seed },
    draw: (u) => ({ at: onDiscAt(u, 15, -100, 60), towards: inCone(u, 4 * RAD, OFF_DEG * RAD) }),
  })

describe('the brightest patch of a wide source', () => {
  const rays = weighRays([face, patch()])
  const hull = hullOf(rays, 0)
  test('a place in its beam is among those chosen', () => {
    const found = brightestPatches(crossAt(rays, hull, 2000), hull, 0.1, { most: 3 })
    const aside = found.map(({ xMm, yMm, zMm }) => Math.hypot(xMm + 100 - zMm * Math.tan(OFF_DEG * RAD), yMm - 60))
    expect(Math.min(...aside)).toBeLessThan(2000 * Math.tan(4 * RAD))
    for (const spot of found) expect(spot.raysPerMm2).toBeGreaterThan(0)
  })
  test('only so far off the axis; none without light', () => {
    const at = crossAt(rays, hull, 2000)
    for (const { xMm, yMm, zMm } of brightestPatches(at, hull, 0.1, { most: 3, leastOffDeg: 22 }))
      expect(Math.atan2(Math.hypot(xMm, yMm), zMm) / RAD).toBeGreaterThan(21)
    const dark = weighRays([])
    expect(brightestPatches(crossAt(dark, hullOf(dark, 0), 500), hullOf(dark, 0), 0.1, { most: 3 })).toEqual([])
  })
  test('of two patches that of more radiance: a cell of direction cosines covers as much more solid angle as it slants, dΩ = du dv/cos θ (textbook)', () => {
    // 1 W nearly along the axis; 1.3 W whose cell lies 49° off: 1.3 · 0.66 = 0.85.
    const edge = (0.1 * Math.sqrt(Math.PI)) / 2
    const of = (a: number, b: number) => Float32Array.from({ length: 200 }, (_, k) => (k < 100 ? a : b))
    const ahead = (v: number) => Math.sqrt(1 - (0.5 * edge) ** 2 - v ** 2)
    const at = {
      ...{ distanceMm: 1000, factor: 1, xMm: of(0, 900), yMm: of(0, 0), zMm: of(1000, 500), watts: of(0.01, 0.013) },
      ...{ dx: of(0.5 * edge, 0.5 * edge), dy: of(0.5 * edge, 8.5 * edge), cosOff: of(1, 0.5) },
      dz: of(ahead(0.5 * edge), ahead(8.5 * edge)),
    }
    const [spot] = brightestPatches(at, { radiusMm: 100, fromZMm: 0, toZMm: 0 }, 0.1, { most: 1 })
    expect(spot?.xMm).toBeLessThan(100)
  })
  test('a source is wider than a field as far as its diameter over the field', () => {
    expect([5900, 6100].map((d) => isWider({ radiusMm: 300, fromZMm: 0, toZMm: 0 }, d, 0.1))).toEqual([true, false])
  })
})

describe('eyes before it', () => {
  const sheets = [2, 3, 4].map((seed) => runToEnd(readEyes([face, patch(seed)], INPUT)))
  test('the upper end of radiance over 100 mrad at 2.76 m holds the patch, with each seed, though the middle is twice as bright', () => {
    // Along 26° the beam is wider by 1/cos: E = P/(π (15 mm + r tan 4°)²), over the field of 100 mrad; B(450 nm) = 0.94 (row 4.55).
    const wayM = 2.757 / Math.cos(OFF_DEG * RAD)
    const beamWm2 = PATCH_W / (Math.PI * (0.015 + wayM * Math.tan(4 * RAD)) ** 2)
    // The middle sees all of the face: L = M/(π sin² 20°), E = L π (R/d)².
    const faceWm2sr = FACE_W / (Math.PI * 0.3 ** 2) / (Math.PI * Math.sin(20 * RAD) ** 2)
    expect(faceWm2sr * Math.PI * (0.3 / 2.757) ** 2).toBeGreaterThan(2 * beamWm2)
    for (const { readings } of sheets) {
      const there = readings.find((r) => Math.abs(r.distanceMm - 2757) < 1)
      expect(there?.fields[3]?.blueWm2sr).toBeGreaterThan((0.94 * beamWm2) / ((Math.PI / 4) * 0.1 ** 2))
    }
  })
})

test('places farther off the axis are places of each lesser angle: no distance there is longer', () => {
  // Green light 13° aside is the strongest, by R(λ), and has no limit; blue light 50° aside has one.
  const pencil = (wm2: number, nm: number, offDeg: number, turnDeg: number) => {
    const [sin, cos] = [Math.sin(offDeg * RAD), Math.cos(offDeg * RAD)]
    const towards = [sin * Math.cos(turnDeg * RAD), sin * Math.sin(turnDeg * RAD), cos] as const
    return drawnLight({
      ...{ rays: 400, nm, watts: wm2 * Math.PI * 0.0035 ** 2 },
      draw: () => ({ at: [0, 0, 0], towards }),
    })
  }
  const green = [0, 90, 180].map((turn) => pencil(21, 555, 13, turn))
  const { distances } = runToEnd(readEyes([...green, pencil(1, 450, 50, 45)], INPUT))
  const last = distances.at(-1)
  expect(last?.angleDeg).toBe(45)
  expect(last?.noLimitM).toBeGreaterThan(0)
  for (const { noLimitM } of distances) expect(noLimitM).toBeGreaterThanOrEqual(last?.noLimitM ?? 0)
})
