// Discs in the air, against light whose irradiance is known by geometry.
import { describe, expect, test } from 'vitest'
import { climbDisc, moveToWaist } from '../../../src/hazard/air/climb.ts'
import { type FacingDisc, measureFacing } from '../../../src/hazard/air/disc.ts'
import { joinSegments } from '../../../src/run/segments.ts'
import { expectWithin } from '../../kit/expect.ts'
import { drawnSegments, evenDisc, type V3 } from '../../kit/handSegments.ts'

const DISC = 10
/** kW/m² of so many watts on the disc. */
const onDisc = (watts: number) => (watts / (Math.PI * (DISC / 2) ** 2)) * 1000

/** A cone from a disc of 100 mm radius at z = 0 to a spot of this radius about a point. */
const cone = (at: V3, spotMm: number, watts: number, seed = 1) =>
  drawnSegments({ rays: 8000, watts, seed }, (u) => {
    const [x, y] = evenDisc(u, 100)
    const [sx, sy] = evenDisc(u, spotMm)
    return { from: [x, y, 0], towards: [at[0] + sx - x, at[1] + sy - y, at[2]] }
  })

/** A parallel beam of this radius about the origin, running along `n` (unit vector). */
function beam(n: V3, radiusMm: number, watts: number, seed = 1) {
  const u: V3 = Math.abs(n[0]) < 0.5 ? [0, -n[2], n[1]] : [n[1], -n[0], 0]
  const scale = 1 / Math.hypot(...u)
  const a = u.map((c) => c * scale) as [number, number, number]
  const b: V3 = [n[1] * a[2] - n[2] * a[1], n[2] * a[0] - n[0] * a[2], n[0] * a[1] - n[1] * a[0]]
  return drawnSegments({ rays: 20_000, watts, seed }, (draw) => {
    const [p, q] = evenDisc(draw, radiusMm)
    return { from: [0, 1, 2].map((k) => p * a[k]! + q * b[k]! - 500 * n[k]!) as unknown as V3, towards: n }
  })
}

const at = (xMm: number, yMm: number, zMm: number) => ({ xMm, yMm, zMm })

describe('the hottest disc near a place', () => {
  test('of a cone to a small spot holds all of its light, and faces it', () => {
    const segments = cone([20, -10, 400], 3, 50)
    const disc = climbDisc(segments, at(26, -14, 385), DISC)!
    expectWithin(measureFacing(segments, disc, DISC).all.kWm2, onDisc(50), { rel: 1e-6, because: 'all of the spot' })
    // The middle of the cone runs from (0, 0, 0) to the spot.
    const length = Math.hypot(20, 10, 400)
    expectWithin(disc.dx, 20 / length, { abs: 0.01, because: 'mean of 8000 directions, 0.18 rad rms' })
    expectWithin(disc.dy, -10 / length, { abs: 0.01, because: 'the same' })
    // rms angle of an even cone of half angle 100/400, both axes: 0.25/√2, less by the curvature.
    expectWithin(disc.spread, 0.25 / Math.SQRT2, { rel: 0.06, because: 'small angles' })
  })
  test('moved to the waist lies on the spot to a fraction of a millimetre', () => {
    const segments = cone([20, -10, 400], 3, 50)
    const disc = moveToWaist(segments, climbDisc(segments, at(26, -14, 385), DISC)!, DISC)
    expectWithin(Math.hypot(disc.xMm - 20, disc.yMm + 10), 0, { abs: 0.15, because: '1.5 mm rms over 8000 rays' })
    expectWithin(disc.zMm, 400, { abs: 0.6, because: '1.5 mm over 0.18 rad, 8000 rays' })
  })
  test('keeps to where it may lie, and to a plane where one is given', () => {
    const segments = cone([0, 0, 400], 3, 50)
    const limited = climbDisc(segments, at(3, 0, 385), DISC, { mayLie: (_x, _y, z) => z <= 386 })!
    expect(limited.zMm).toBeLessThanOrEqual(386)
    const flat = climbDisc(segments, at(3, 0, 380), DISC, { across: [0, 0, 1] })!
    expectWithin(flat.zMm, 380, { abs: 1e-9, because: 'the plane through its start' })
    // 20 mm before the spot the cone's radius is 20 · 100/400 + 3 · 380/400 = 7.85 mm, even in the middle.
    expectWithin(measureFacing(segments, flat, DISC).all.kWm2, onDisc(50 * (5 / 5) ** 2 * 0.78), {
      rel: 0.15,
      because: 'cone and spot folded: between (5/5.85)² and 1 of the light',
    })
  })
  test('faces a slanting beam: no cosine is lost', () => {
    const n: V3 = [Math.sin(1), 0, Math.cos(1)]
    const segments = beam(n, 40, 100)
    const disc = climbDisc(segments, at(0, 0, 0), DISC)!
    expectWithin(disc.dx, n[0], { abs: 1e-6, because: 'parallel' })
    const { kWm2, se } = measureFacing(segments, disc, DISC).all
    const even = (100 / (Math.PI * 40 ** 2)) * 1000
    expect(kWm2).toBeGreaterThan(0.95 * even)
    expect(kWm2).toBeLessThan(even + 4 * se)
  })
  test('two beams at right angles: it faces their bisector and meets √2 of one', () => {
    const segments = joinSegments(beam([1, 0, 0], 40, 100, 2), beam([0, 0, 1], 40, 100, 3))
    const disc = climbDisc(segments, at(0, 0, 0), DISC)!
    expectWithin(disc.dx, Math.SQRT1_2, {
      abs: 0.12,
      because: 'some 300 rays of each, 0.03 each way, and the climb takes the luckiest',
    })
    const { kWm2, se } = measureFacing(segments, disc, DISC).all
    expectWithin(kWm2, (Math.SQRT2 * 100 * 1000) / (Math.PI * 40 ** 2), { sigmas: 4, se })
  })
  test('two beams head on: it faces one of them', () => {
    const segments = joinSegments(beam([0, 0, 1], 40, 100, 2), beam([0, 0, -1], 40, 100, 3))
    const disc = climbDisc(segments, at(0, 0, 0), DISC)!
    const { kWm2, se } = measureFacing(segments, disc, DISC).all
    expectWithin(kWm2, (100 * 1000) / (Math.PI * 40 ** 2), { sigmas: 4, se })
  })
  test.each([
    [8, 2],
    [9.5, 2],
    [13, 1],
  ])('spots of 0.1 mm, %d mm apart: %i of them', (apart, held) => {
    const segments = drawnSegments({ rays: 4000, watts: 20 }, (u, i) => {
      const [x, y] = evenDisc(u, 0.1)
      return { from: [x + (i % 32 < 16 ? apart : 0), y, 0], towards: [0, 0, 1] }
    })
    const disc = climbDisc(segments, at(2, 1, 100), DISC)!
    expectWithin(measureFacing(segments, disc, DISC).all.kWm2, onDisc(10 * held), { rel: 1e-6, because: 'whole spots' })
  })
  test('no light near: none', () => {
    expect(climbDisc(cone([0, 0, 400], 3, 50), at(500, 0, 400), DISC)).toBeNull()
  })
  test('a segment that ends before the disc does not count', () => {
    const segments = drawnSegments({ rays: 160, watts: 16 }, (_u, i) => ({
      from: [0, 0, 0],
      towards: [0, 0, 1],
      lengthMm: i < 80 ? 99 : 101,
    }))
    const disc: FacingDisc = { xMm: 0, yMm: 0, zMm: 100, dx: 0, dy: 0, dz: 1 }
    expectWithin(measureFacing(segments, disc, DISC).all.kWm2, onDisc(8), { rel: 1e-6, because: 'half reach it' })
  })
})

describe('the error of a reading', () => {
  const disc: FacingDisc = { xMm: 0, yMm: 0, zMm: 100, dx: 0, dy: 0, dz: 1 }
  const rays = (perBatch: (batch: number) => number) =>
    drawnSegments({ rays: 160, watts: 16 }, (_u, i) => ({
      from: [0, 0, 0],
      towards: [0, 0, 1],
      weight: perBatch(i % 16),
    }))
  test('equal batches: that of counts, √160 rays of 0.1 W', () => {
    const { all, even, odd } = measureFacing(
      rays(() => 1),
      disc,
      DISC,
    )
    expectWithin(all.se, onDisc(0.1 * Math.sqrt(160)), { rel: 1e-6, because: 'the floor' })
    expectWithin(even.kWm2, onDisc(16), { rel: 1e-6, because: 'half of the batches stand for all' })
    expectWithin(odd.se, onDisc(2 * 0.1 * Math.sqrt(80)), { rel: 1e-6, because: 'half of the rays, doubled' })
  })
  test('unequal batches: √(16/15 Σ (s − s̄)²), and by halves √(8/7 Σ …) doubled', () => {
    // Batch b holds b W: mean 7.5, Σ (b − 7.5)² = 340; the even ones 0, 2 … 14: mean 7, Σ = 168.
    const { all, even, odd } = measureFacing(
      rays((b) => b),
      disc,
      DISC,
    )
    expectWithin(all.kWm2, onDisc(120), { rel: 1e-6, because: 'sum' })
    expectWithin(all.se, onDisc(Math.sqrt((16 / 15) * 340)), { rel: 1e-6, because: 'the formula' })
    expectWithin(even.kWm2, onDisc(2 * 56), { rel: 1e-6, because: 'sum of the even, doubled' })
    expectWithin(odd.kWm2, onDisc(2 * 64), { rel: 1e-6, because: 'sum of the odd, doubled' })
    expectWithin(even.se, onDisc(2 * Math.sqrt((8 / 7) * 168)), { rel: 1e-6, because: 'the formula' })
  })
  test('no ray at all: one ray’s watts', () => {
    const far = { ...disc, xMm: 50 }
    expectWithin(
      measureFacing(
        rays(() => 1),
        far,
        DISC,
      ).all.se,
      onDisc(0.1),
      { rel: 1e-6, because: 'the floor' },
    )
  })
})
