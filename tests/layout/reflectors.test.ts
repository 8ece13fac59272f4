// Reflectors against what defines their curves: focus and directrix, edge rays, étendue (Welford and Winston, High Collection
// Nonimaging Optics, chapter 4; from memory).
import { describe, expect, test } from 'vitest'
import { stretchesOf } from '../../src/lamp/assembly.ts'
import type { Tunnel } from '../../src/lamp/schema.ts'
import { tunnel as tunnelSchema } from '../../src/lamp/tunnel.ts'
import {
  concentratorSize,
  concentratorTunnel,
  type MadeReflector,
  paraboloidTunnel,
} from '../../src/layout/reflectors.ts'
import { finishFields, WALL_FINISHES } from '../../src/library/wallFinishes.ts'

const finish = finishFields(WALL_FINISHES[0]!)
const DEG = Math.PI / 180

function made(reflector: MadeReflector): Tunnel {
  if (!reflector.ok) throw new Error(reflector.why)
  return reflector.tunnel
}
/** Points of the wall, the ends of its stretches. */
const pointsOf = (tunnel: Tunnel) => {
  const all = stretchesOf(tunnel)
  return [...all.map((s) => ({ z: s.zInMm, r: s.inMm / 2 })), { z: tunnel.zOutMm, r: tunnel.outMm / 2 }]
}
function worstStepDeg(tunnel: Tunnel): number {
  const slopes = stretchesOf(tunnel).map((s) => Math.atan((s.outMm - s.inMm) / 2 / (s.zOutMm - s.zInMm)) / DEG)
  return Math.max(...slopes.slice(1).map((s, i) => Math.abs(s - slopes[i]!)))
}

describe('a paraboloid', () => {
  const order = { focalMm: 10, focusZMm: 3, inMm: 40, outMm: 160, finish }
  const tunnel = made(paraboloidTunnel(order))

  test('every point is as far from the focus as from the directrix, which lies two focal lengths behind it', () => {
    for (const { z, r } of pointsOf(tunnel)) expect(Math.hypot(r, z - 3)).toBeCloseTo(z - 3 + 20, 5)
  })
  test('light of the focus leaves along the axis within half a step, wherever it meets a stretch', () => {
    for (const s of stretchesOf(tunnel)) {
      const [z, r] = [(s.zInMm + s.zOutMm) / 2, (s.inMm + s.outMm) / 4]
      const slope = Math.atan2((s.outMm - s.inMm) / 2, s.zOutMm - s.zInMm)
      // A mirror turns a ray at angle a to the axis to 2·slope − a.
      expect(Math.abs(2 * slope - Math.atan2(r, z - 3)) / DEG).toBeLessThan(0.2)
    }
  })
  test('begins and ends where it was told, in steps under 0.2°, with the fewest joints, as the document takes it', () => {
    // z = z_focus − f + r²/4f
    expect([tunnel.inMm, tunnel.outMm]).toEqual([40, 160])
    expect([tunnel.zInMm, tunnel.zOutMm]).toEqual([3, 153])
    expect(worstStepDeg(tunnel)).toBeLessThan(0.2)
    // From 45° (r = 2f) to atan(20/80) = 14.04°: 30.96° of slope.
    expect(tunnel.joints!.length).toBeGreaterThanOrEqual(154)
    expect(tunnel.joints!.length).toBeLessThanOrEqual(157)
    expect(tunnelSchema.safeParse(tunnel).success).toBe(true)
  })
  test('says why there is none', () => {
    expect(paraboloidTunnel({ ...order, outMm: 40 })).toEqual({
      ok: false,
      why: 'A rim of 40 mm is no wider than the neck of 40 mm.',
    })
    expect(paraboloidTunnel({ ...order, inMm: 20 })).toEqual({
      ok: false,
      why: 'A neck of 20 mm would lie 4.5 mm behind the face; raise the focus, or take a wider neck (from 33.47 mm on).',
    })
    // Beside r = 0.7 mm a step of 0.2° is 2.5 µm high: r dr/2f, dr = 2f dγ/sin²γ.
    expect(paraboloidTunnel({ focalMm: 2, focusZMm: 3, inMm: 1.4, outMm: 20, finish })).toEqual({
      ok: false,
      why: 'Stretches at its neck would be shorter than 0.01 mm; take a wider neck.',
    })
    // From 87.1° to 2.3°: 84.8° of slope, more than 401 steps of 0.2°.
    expect(paraboloidTunnel({ ...order, focalMm: 20, focusZMm: 20, inMm: 4, outMm: 1980 })).toEqual({
      ok: false,
      why: 'Its slope turns by 84.82°: with at most 400 joints neighbours would differ by 0.2° or more; cut off the steep part by a wider neck.',
    })
    expect(paraboloidTunnel({ ...order, focalMm: 0.1, outMm: 1000 })).toMatchObject({
      ok: false,
      why: expect.stringMatching(/^It would reach .* mm ahead, more than 10000 mm\.$/),
    })
  })
})

describe('a compound parabolic concentrator', () => {
  const order = { acceptanceDeg: 20, inMm: 30, zInMm: 5, keptShare: 1, sides: 0 as const, finish }
  const tunnel = made(concentratorTunnel(order))
  const [a, small, theta] = [15 / Math.sin(20 * DEG), 15, 20 * DEG]

  test('mouth a = a′/sinθ, length (a + a′)/tanθ, concentration 1/sin²θ', () => {
    expect(tunnel.inMm).toBe(30)
    expect(tunnel.outMm).toBeCloseTo(2 * a, 5)
    expect(tunnel.zOutMm - 5).toBeCloseTo((a + small) / Math.tan(theta), 5)
    expect(concentratorSize(order).concentration).toBeCloseTo((tunnel.outMm / tunnel.inMm) ** 2, 6)
    expect(concentratorSize({ acceptanceDeg: 30, inMm: 10 })).toEqual({
      outMm: expect.closeTo(20, 9),
      lengthMm: expect.closeTo(15 * Math.sqrt(3), 9),
      concentration: expect.closeTo(4, 9),
    })
  })
  test('the way from the far edge of the small end to the wall and on at θ is as long by every point: 2a′(1 + sinθ)', () => {
    for (const { z, r } of pointsOf(tunnel)) {
      const way = Math.hypot(r + small, z - 5) - ((r + small) * -Math.sin(theta) + (z - 5) * Math.cos(theta))
      expect(way).toBeCloseTo(2 * small * (1 + Math.sin(theta)), 5)
    }
  })
  test('steps under 0.2°, from 45° − θ/2 at the small end to along the axis at the mouth', () => {
    expect(worstStepDeg(tunnel)).toBeLessThan(0.2)
    const slopes = stretchesOf(tunnel).map((s) => Math.atan((s.outMm - s.inMm) / 2 / (s.zOutMm - s.zInMm)) / DEG)
    expect(Math.abs(slopes[0]! - 35)).toBeLessThan(0.2)
    expect(Math.abs(slopes.at(-1)!)).toBeLessThan(0.2)
    expect(tunnel.joints!.length).toBeLessThan(180)
    expect(tunnelSchema.safeParse(tunnel).success).toBe(true)
  })
  test('cut short it keeps its curve: the same points’ law, ends at the share of its length, mouth by the cut', () => {
    const cut = made(concentratorTunnel({ ...order, keptShare: 0.5 }))
    const full = (a + small) / Math.tan(theta)
    expect(cut.zOutMm - 5).toBeCloseTo(full / 2, 5)
    const way =
      Math.hypot(cut.outMm / 2 + small, full / 2) -
      (full / 2) * Math.cos(theta) +
      (cut.outMm / 2 + small) * Math.sin(theta)
    expect(way).toBeCloseTo(2 * small * (1 + Math.sin(theta)), 5)
    // The upper half of a concentrator is so steep that it adds little to its mouth.
    expect(cut.outMm).toBeGreaterThan(0.8 * tunnel.outMm)
    expect(worstStepDeg(cut)).toBeLessThan(0.2)
  })
  test('of four flats it has the same profile across them', () => {
    const square = made(concentratorTunnel({ ...order, sides: 4 }))
    expect({ ...square, sides: 0 }).toEqual(tunnel)
  })
  test.each([
    [{ acceptanceDeg: 90 }, 'The acceptance angle lies between 0° and 90°.'],
    [{ keptShare: 0 }, 'The share of the length that is kept lies above 0 and is at most 1.'],
    [{ acceptanceDeg: 0.5, inMm: 30 }, 'A mouth of 3438 mm is wider than 2000 mm.'],
  ])('%j: says why there is none', (over, why) => {
    expect(concentratorTunnel({ ...order, ...over })).toEqual({ ok: false, why })
  })
})
