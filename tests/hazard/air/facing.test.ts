// A disc that faces the light: irradiance and error, by all batches and by halves, worked by hand.
import { describe, expect, test } from 'vitest'
import { measureFacing } from '../../../src/hazard/air/disc.ts'
import { measureUnseen } from '../../../src/hazard/air/search.ts'
import { expectWithin } from '../../kit/expect.ts'
import { type ListedSegment, listedSegments } from '../../kit/handSegments.ts'

/** kW/m² of 1 W on a disc of 10 mm: 1000/(25 π). */
const ONE = 1000 / (25 * Math.PI)
const disc = { xMm: 3, yMm: -4, zMm: 50, dx: 0, dy: 0, dz: 1 }
/** So many equal rays of batch b, along z through the disc. */
const beam = (rays: (batch: number) => number, watts: (batch: number) => number, one = 0) =>
  listedSegments(
    Array.from({ length: 16 }, (_, batch) =>
      Array.from(
        { length: rays(batch) },
        (): ListedSegment => ({
          from: [3, -4, -10],
          towards: [0, 0, 1],
          watts: watts(batch),
          batch,
        }),
      ),
    ).flat(),
    one,
  )
const read = (segments: ReturnType<typeof beam>) => measureFacing(segments, disc, 10)

describe('a reading', () => {
  test('unequal batches: s.e. √(16/15 Σ (s − s̄)²), of the halves 2 √(8/7 Σ …)', () => {
    // Batch b holds b W: 120 W, mean 7.5, Σ (b − 7.5)² = 340. Even ones 0, 2 … 14: 56 W, Σ (b − 7)² = 168. Odd ones 64 W, 168.
    const { all, even, odd } = read(
      beam(
        () => 1,
        (b) => b,
      ),
    )
    const because = 'by hand'
    expectWithin(all.kWm2, 120 * ONE, { rel: 1e-12, because })
    expectWithin(even.kWm2, 112 * ONE, { rel: 1e-12, because })
    expectWithin(odd.kWm2, 128 * ONE, { rel: 1e-12, because })
    // The counts' errors are √Σ w²: √1240 = 35.2, √560 = 23.7 and √680 = 26.1. The batches' √362.7 = 19.0 and √192 = 13.9 are less.
    expectWithin(all.se, Math.sqrt(1240) * ONE, { rel: 1e-12, because })
    expectWithin(even.se, 2 * Math.sqrt(560) * ONE, { rel: 1e-12, because })
    expectWithin(odd.se, 2 * Math.sqrt(680) * ONE, { rel: 1e-12, because })
  })
  test('many rays a batch: the scatter of the batches', () => {
    // 64 rays of b/64 W: the same sums, and counts' errors an eighth as large.
    const { all, even, odd } = read(
      beam(
        () => 64,
        (b) => b / 64,
      ),
    )
    const because = 'by hand'
    expectWithin(all.se, Math.sqrt((16 / 15) * 340) * ONE, { rel: 1e-12, because })
    expectWithin(even.se, 2 * Math.sqrt((8 / 7) * 168) * ONE, { rel: 1e-12, because })
    expectWithin(odd.se, 2 * Math.sqrt((8 / 7) * 168) * ONE, { rel: 1e-12, because })
  })
  test('at least one ray’s watts, also without light', () => {
    const { all, even, odd } = read(
      beam(
        (b) => (b === 3 ? 1 : 0),
        () => 0.1,
        2,
      ),
    )
    const because = 'by hand'
    expectWithin(all.kWm2, 0.1 * ONE, { rel: 1e-6, because })
    expectWithin(all.se, 2 * ONE, { rel: 1e-12, because })
    expect(even.kWm2).toBe(0)
    expectWithin(even.se, 4 * ONE, { rel: 1e-12, because })
    expectWithin(odd.kWm2, 0.2 * ONE, { rel: 1e-6, because })
    expectWithin(odd.se, 4 * ONE, { rel: 1e-12, because })
  })
  test('up to its edge, by its own direction, and smaller discs by their own area', () => {
    const rays = listedSegments([
      { from: [8, -4, -10], towards: [0, 0, 1] },
      { from: [8.001, -4, -10], towards: [0, 0, 1] },
      { from: [-50, -2, 51], towards: [1, 0, 0], watts: 4 },
    ])
    expectWithin(read(rays).all.kWm2, ONE, { rel: 1e-12, because: 'at 5 mm' })
    expectWithin(measureFacing(rays, { ...disc, dx: 1, dz: 0 }, 6).all.kWm2, 4000 / (9 * Math.PI), {
      rel: 1e-12,
      because: '4 W at √5 mm on a disc of 6 mm across x',
    })
    expect(measureFacing(rays, { ...disc, dx: -1, dz: 0 }, 6).all.kWm2).toBe(0)
  })
})

describe('a place is measured by the batches that did not find it', () => {
  test('where the halves differ by more than two standard errors of that', () => {
    // 64 rays a batch, 2 W and 1 W together: 32 and 16 W, errors 2 √(8 · 64) · w = 1.41 and 0.71 W; 16 > 2 · 1.58.
    const far = beam(
      () => 64,
      (b) => (b % 2 === 0 ? 2 / 64 : 1 / 64),
    )
    expect(measureUnseen(far, disc, 10)).toEqual(measureFacing(far, disc, 10).odd)
    expectWithin(measureUnseen(far, disc, 10).kWm2, 16 * ONE, { rel: 1e-12, because: 'the odd ones, doubled' })
  })
  test('else by all', () => {
    // 1.05 W and 1 W: 16.8 and 16 W; 0.8 < 2 √(0.74² + 0.71²).
    const near = beam(
      () => 64,
      (b) => (b % 2 === 0 ? 1.05 / 64 : 1 / 64),
    )
    expect(measureUnseen(near, disc, 10)).toEqual(measureFacing(near, disc, 10).all)
    // 1.15 W: 18.4 W; 2.4 > 2 √(0.81² + 0.71²) = 2.15; and the other way round.
    const apart = (even: number, odd: number) => {
      const segments = beam(
        () => 64,
        (b) => (b % 2 === 0 ? even / 64 : odd / 64),
      )
      return measureUnseen(segments, disc, 10).kWm2 / ONE
    }
    expectWithin(apart(1.15, 1), 16, { rel: 1e-6, because: 'the odd ones' })
    expectWithin(apart(1, 1.15), 18.4, { rel: 1e-6, because: 'the odd ones' })
    expectWithin(apart(1.12, 1), 16.96, { rel: 1e-6, because: 'all: 1.92 < 2.12' })
  })
})
