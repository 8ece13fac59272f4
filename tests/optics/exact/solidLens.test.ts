import { describe, expect, test } from 'vitest'
import { draw, drawAt, seedStream } from '../../../src/optics/draws.ts'
import {
  DX,
  ENDS_AT_LIMIT,
  ENDS_AT_RIM,
  LEAVES_FLAT,
  LEAVES_WORKED,
  PATH,
  W,
  X,
  Z,
} from '../../../src/optics/records.ts'
import { passSolid } from '../../../src/optics/solidLens.ts'
import { expectWithin } from '../../kit/expect.ts'
import { rayAt, type SolidCurve, solidTables } from '../../kit/lensBench.ts'
import { slowSolid } from '../../kit/slowSolid.ts'
import { bent, directionOf, type V } from '../../kit/vectors.ts'

const N = 1.5168
const stream = new Int32Array(3)
const near = { abs: 3e-9, because: 'the short series of absorb is good to 3e-9' }

const LENSES: SolidCurve[] = [
  { halfMm: 40, thicknessMm: 16, radiusMm: 70, conic: 0, absorption: 0.01 },
  { halfMm: 30, thicknessMm: 14, radiusMm: 40, conic: -1, absorption: 0.01 },
  { halfMm: 30, thicknessMm: 12, radiusMm: 45, conic: -2.3, absorption: 0.01 },
  { halfMm: 30, thicknessMm: 25, radiusMm: 36, conic: 0.3, absorption: 0.01 },
]

describe.each(LENSES)('radius $radiusMm, conic $conic', (lens) => {
  test.each([false, true])('every ray as through the plain lens, from the curve %s', (curved) => {
    const { p } = solidTables(lens)
    const seen = new Map<number, number>()
    for (let i = 0; i < 120; i++) {
      seedStream(stream, 5, curved ? 1 : 0, i)
      const r = lens.halfMm * Math.sqrt(draw(stream)) * (curved ? 1.05 : 1)
      const phi = 2 * Math.PI * draw(stream)
      const d = directionOf(1 - 0.5 * draw(stream) ** (i % 2 ? 1 : 4), draw(stream))
      const from: V = [r * Math.cos(phi), r * Math.sin(phi), curved ? 0 : -lens.thicknessMm]
      const ray = rayAt(from, [d[0], d[1], curved ? -d[2] : d[2]], N)
      ray[W] = 0.5
      ray[PATH] = 99
      const copy = stream.slice()
      const begin = [...ray.subarray(DX, DX + 3)] as unknown as V
      const slow = slowSolid(lens, N, from, begin, copy, curved)
      const outcome = passSolid(ray, stream, p, curved)
      expect([outcome, ...stream], `ray ${i}`).toEqual([slow.outcome, ...copy])
      seen.set(outcome, (seen.get(outcome) ?? 0) + 1)
      expectWithin(ray[PATH]!, slow.path, near)
      expectWithin(ray[W]!, 0.5 * Math.exp(-0.01 * slow.path), near)
      for (const k of [0, 1, 2] as const) {
        expectWithin(ray[DX + k]!, slow.d[k], near)
        expectWithin(ray[X + k]!, slow.at[k], near)
      }
    }
    for (const outcome of [LEAVES_WORKED, LEAVES_FLAT, ENDS_AT_RIM]) expect(seen.get(outcome) ?? 0).toBeGreaterThan(0)
  })
})

/** Repeats with other draws until it ends so. */
function until(lens: SolidCurve, make: () => Float64Array, curved: boolean, outcome: number): Float64Array {
  for (let i = 0; i < 3000; i++) {
    seedStream(stream, 2, 0, i)
    const ray = make()
    if (passSolid(ray, stream, solidTables(lens).p, curved) === outcome) return ray
  }
  throw new Error('never so')
}

describe('by hand', () => {
  const ball: SolidCurve = { halfMm: 8, thicknessMm: 10, radiusMm: 10, conic: 0 }
  test('along the axis: straight through, the path being the thickness', () => {
    const ray = until(ball, () => rayAt([0, 0, -10], [0, 0, 1], N), false, LEAVES_WORKED)
    for (const [k, v] of [0, 0, 0, 0, 0, 1].entries()) expectWithin(ray[X + k]!, v, near)
    expectWithin(ray[PATH]!, 10, near)
  })
  test('3, 4, 5 on a hemisphere: met at (6, −2), the normal (0.6, 0.8)', () => {
    const ray = until(ball, () => rayAt([6, 0, 0], [0, 0, -1], N), true, LEAVES_WORKED)
    // Reflected: −ẑ − 2 (−0.8)(0.6, 0.8).
    for (const [k, v] of [6, 0, -2, 0.96, 0, 0.28].entries()) expectWithin(ray[X + k]!, v, near)
    const through = until(ball, () => rayAt([6, 0, 0], [0, 0, -1], N), true, LEAVES_FLAT)
    const glass = bent([0, 0, -1], [0.6, 0, 0.8], 1 / N)!
    expectWithin(through[X]!, 6 + (8 / -glass[2]) * glass[0], near)
    expectWithin(through[PATH]!, 8 / -glass[2], near)
    expect(through[Z]).toBe(-10)
  })
  test('past the curve, or onto it beyond the rim: ends at the rim, no path', () => {
    for (const from of [
      [12, 0, 0],
      [9, 0, 0],
    ] as V[]) {
      const ray = rayAt(from, [0, 0, -1], N)
      seedStream(stream, 1, 0, 0)
      expect(passSolid(ray, stream, solidTables(ball).p, true)).toBe(ENDS_AT_RIM)
      expect([ray[PATH], stream[2]]).toEqual([0, 8])
    }
  })
  test('onto the curve at the rim itself: belongs to the lens', () => {
    for (let i = 0; i < 20; i++) {
      seedStream(stream, 1, 0, i)
      passSolid(rayAt([8, 0, 0], [0, 0, -1], N), stream, solidTables(ball).p, true)
      expect(stream[2]).toBeGreaterThan(8) // it has met a surface
    }
  })
  test('held by both faces it is given up after 20,000 surfaces', () => {
    // Of a million times the index of air 4e-6 go through a face; the stream is set on a draw that lets it in.
    const plate: SolidCurve = { halfMm: 1e9, thicknessMm: 1, radiusMm: Number.POSITIVE_INFINITY, conic: 0 }
    seedStream(stream, 1, 0, 0)
    let k = 0
    while (drawAt(stream, k) < 1 - 3e-6) k++
    stream[2] = k
    const ray = rayAt([3, 4, -1], [0, 0, 1], 1e6)
    expect(passSolid(ray, stream, solidTables(plate).p, false)).toBe(ENDS_AT_LIMIT)
    expect([ray[X], ray[X + 1], ray[PATH], stream[2]]).toEqual([3, 4, 20_000, k + 20_001])
  })
})
