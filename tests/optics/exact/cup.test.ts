import { describe, expect, test } from 'vitest'
import { passCup } from '../../../src/optics/cup.ts'
import { draw, seedStream } from '../../../src/optics/draws.ts'
import { DX, W, X, Z } from '../../../src/optics/records.ts'
import { expectWithin } from '../../kit/expect.ts'
import { rayAt } from '../../kit/lensBench.ts'
import { type Cup, cupKinds, focusOf, mouthOf, slowCup } from '../../kit/slowCup.ts'
import { directionOf, type V } from '../../kit/vectors.ts'

const AXIS = [30, -12] as const
const CUPS: Cup[] = [
  { focal: 8, exit: 70, rho: 0.9, z: 5, shift: 0 },
  { focal: 3, exit: 60, rho: 0.8, z: 4, shift: 1 },
  { focal: 5, exit: 40, rho: 0.95, z: 2, shift: -1.5 },
]
const rounding = { abs: 1e-8, because: 'rounding over some mirrors' }

describe.each(CUPS)('focal length $focal, exit $exit, emitter $shift above the focus', (cup) => {
  test('every ray as through the plain cup', () => {
    const stream = new Int32Array(3)
    const ends = new Map<string, number>()
    const kinds = cupKinds(cup, 16)
    for (let i = 0; i < 250; i++) {
      seedStream(stream, 1, 0, i)
      const from: V = [AXIS[0] + 4 * draw(stream) - 2, AXIS[1] + 4 * draw(stream) - 2, cup.z]
      const d = directionOf(0.5 + 0.5 * draw(stream) ** 2, draw(stream))
      const ray = rayAt(from, d, 1)
      ray[W] = 0.5
      const through = passCup(ray, kinds, 16, ...AXIS, cup.z - cup.shift)
      const slow = slowCup(cup, AXIS, from, d, false)
      expect(through).toBe(slow.end === 'mouth')
      ends.set(slow.end + slow.bounces, 1)
      for (const k of [0, 1, 2] as const) {
        expectWithin(ray[X + k]!, slow.at[k], rounding)
        expectWithin(ray[DX + k]!, slow.d[k], rounding)
      }
      expectWithin(ray[W]!, 0.5 * cup.rho ** slow.bounces, rounding)
    }
    for (const end of ['mouth0', 'mouth1']) expect(ends.has(end)).toBe(true)
  })
})

const [plain] = CUPS as [Cup]
const enter = (ray: Float64Array, cup = plain) => passCup(ray, cupKinds(cup), 0, ...AXIS, cup.z - cup.shift)

test('down below the focal plane: lost, without a mirror', () => {
  const ray = rayAt(focusOf(plain, AXIS), [0.6, 0, -0.8], 1)
  expect(enter(ray)).toBe(false)
  expect(ray[W]).toBe(1)
  expect(ray[Z]).toBeLessThan(plain.z)
  // From the focus at this angle below the plane: r = 2f/(1 + cos) with cos = 0.8 towards the vertex.
  expectWithin(Math.hypot(ray[X]! - AXIS[0], ray[Z]! - plain.z), 16 / 1.8, rounding)
})

test('from below the focus the emitter’s own height is the base', () => {
  const from: V = [AXIS[0], AXIS[1], plain.z - 3]
  const ray = rayAt(from, [0.99, 0, -0.1], 1)
  expect(enter(ray)).toBe(false)
  const level = rayAt(from, [1, 0, 0], 1)
  const slow = slowCup(plain, AXIS, from, [1, 0, 0], false)
  expect(slow.bounces).toBeGreaterThan(0)
  expect(enter(level)).toBe(slow.end === 'mouth')
  expectWithin(level[W]!, 0.9 ** slow.bounces, rounding)
})

test('at the mouth or above it, upward: out as it is', () => {
  for (const above of [0, 0.25]) {
    const ray = rayAt([AXIS[0] + 1, AXIS[1], mouthOf(plain) + above], [0, 0.6, 0.8], 1)
    const before = ray.slice()
    expect(enter(ray)).toBe(true)
    expect(ray).toEqual(before)
  }
})

test('at the mouth or above it, downward: not out', () => {
  for (const above of [0, 5]) {
    const ray = rayAt([AXIS[0], AXIS[1], mouthOf(plain) + above], [0, 0.6, -0.8], 1)
    expect(enter(ray)).toBe(false)
    expect(ray[W]).toBe(1)
  }
})

test('along the wall it is given up after forty mirrors', () => {
  // Level and nearly along the wall: each chord is short, and the mouth is far up.
  const cup: Cup = { focal: 1, exit: 60, rho: 0.9, z: 1, shift: 0 }
  const ray = rayAt([AXIS[0], AXIS[1] + 2 * Math.sqrt(101) - 1e-4, 101], [1, 0, 0], 1)
  const from: V = [ray[X]!, ray[X + 1]!, ray[Z]!]
  const low = { ...cup, z: 101, shift: 100 }
  expect(slowCup(low, AXIS, from, [1, 0, 0], false).end).toBe('limit')
  expect(passCup(ray, cupKinds(low), 0, ...AXIS, 1)).toBe(false)
  expectWithin(ray[W]!, 0.9 ** 40, { rel: 1e-12, because: 'rounding' })
})
