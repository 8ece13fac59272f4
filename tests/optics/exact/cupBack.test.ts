import { describe, expect, test } from 'vitest'
import { passCup } from '../../../src/optics/cup.ts'
import { cupMouth, seekInCup } from '../../../src/optics/cupBack.ts'
import { draw, seedStream } from '../../../src/optics/draws.ts'
import { DX, W, X, Z } from '../../../src/optics/records.ts'
import { expectWithin } from '../../kit/expect.ts'
import { rayAt } from '../../kit/lensBench.ts'
import { type Cup, cupKinds, mouthOf, slowCup } from '../../kit/slowCup.ts'
import { directionOf, type V } from '../../kit/vectors.ts'

const AXIS = [-7, 20] as const
const CUPS: Cup[] = [
  { focal: 8, exit: 70, rho: 0.9, z: 5, shift: 0 },
  { focal: 3, exit: 60, rho: 0.8, z: 4, shift: 1 },
  { focal: 5, exit: 40, rho: 0.95, z: 2, shift: -1.5 },
]
const rounding = { abs: 1e-6, because: 'the naive root loses digits near the axis, and each mirror stretches that' }
const stream = new Int32Array(3)

test('mouth: 4 f (z − z_vertex) = (exit/2)²', () => {
  // f 8, exit 64: 32²/32 = 32 above the vertex; focus 5 − 2 = 3, vertex −5.
  expect(cupMouth(cupKinds({ focal: 8, exit: 64, rho: 1, z: 5, shift: 2 }, 3), 3)).toBe(27)
})

describe.each(CUPS)('focal length $focal, exit $exit, emitter $shift above the focus', (cup) => {
  const kinds = cupKinds(cup, 16)

  test('from the mouth on, every crossing of the emitter’s plane as in the plain cup', () => {
    const ends = new Map<string, number>()
    for (let i = 0; i < 90; i++) {
      seedStream(stream, 2, 0, i)
      const r = 0.499 * cup.exit * Math.sqrt(draw(stream))
      const phi = 2 * Math.PI * draw(stream)
      let from: V = [AXIS[0] + r * Math.cos(phi), AXIS[1] + r * Math.sin(phi), mouthOf(cup)]
      let d = directionOf(0.5 * draw(stream) ** 4, draw(stream))
      const ray = rayAt(from, d, 1)
      ray[W] = 0.5
      const count = Int32Array.of(0)
      let bounces = 0
      for (let calls = 0; calls < 50; calls++) {
        const slow = slowCup(cup, AXIS, from, d, true)
        const found = seekInCup(ray, kinds, 16, ...AXIS, count)
        expect(found).toBe(slow.end === 'plane')
        bounces += slow.bounces
        expect(count[0]).toBe(bounces)
        expectWithin(ray[W]!, 0.5 * cup.rho ** bounces, rounding)
        ends.set(slow.end, (ends.get(slow.end) ?? 0) + 1)
        for (const k of [0, 1, 2] as const) {
          expectWithin(ray[DX + k]!, slow.d[k], rounding)
          if (slow.end !== 'mouth') expectWithin(ray[X + k]!, slow.at[k], rounding)
        }
        if (!found) break
        expect(ray[Z]).toBe(cup.z)
        from = [ray[X]!, ray[X + 1]!, ray[Z]!]
        d = [ray[DX]!, ray[DX + 1]!, ray[DX + 2]!]
      }
    }
    expect(ends.get('plane')).toBeGreaterThan(10)
    expect(ends.get('mouth')).toBeGreaterThan(5)
    if (cup.shift < 0) expect(ends.get('base')).toBeGreaterThan(0)
  })

  test('what passCup lets out comes back to where it began, by as many mirrors', () => {
    for (let i = 0; i < 30; i++) {
      seedStream(stream, 3, 0, i)
      const from: V = [AXIS[0] + 2 * draw(stream) - 1, AXIS[1] + 2 * draw(stream) - 1, cup.z]
      const d = directionOf(0.5 + 0.5 * draw(stream), draw(stream))
      const ray = rayAt(from, d, 1)
      if (!passCup(ray, kinds, 16, ...AXIS, cup.z - cup.shift)) continue
      const weight = ray[W]!
      ray[W] = 1
      for (let k = DX; k < DX + 3; k++) ray[k]! *= -1
      const count = Int32Array.of(0)
      let found = false
      do found = seekInCup(ray, kinds, 16, ...AXIS, count)
      while (found && Math.hypot(ray[X]! - from[0], ray[X + 1]! - from[1]) > 1e-6)
      expect(found).toBe(true)
      for (const k of [0, 1, 2] as const)
        expectWithin(ray[DX + k]!, -d[k], { abs: 1e-7, because: 'the way there and back' })
      expectWithin(ray[W]!, weight, rounding)
    }
  })
})

test('forty mirrors in all calls, no more', () => {
  const cup: Cup = { focal: 1, exit: 60, rho: 0.9, z: 100.9, shift: 99.9 }
  for (const before of [0, 37, 40]) {
    const ray = rayAt([AXIS[0], AXIS[1] + 2 * Math.sqrt(101) - 1e-4, 101], [1, 0, 0], 1)
    const count = Int32Array.of(before)
    expect(seekInCup(ray, cupKinds(cup), 0, ...AXIS, count)).toBe(false)
    expect(count[0]).toBe(40)
    expectWithin(ray[W]!, 0.9 ** (40 - before), { rel: 1e-12, because: 'rounding' })
  }
})

test('in the emitter’s plane already: on to the wall, not found again', () => {
  const cup = CUPS[0]!
  const ray = rayAt([AXIS[0] + 1, AXIS[1], cup.z], [0.6, 0, -0.8], 1)
  expect(seekInCup(ray, cupKinds(cup), 0, ...AXIS, Int32Array.of(0))).toBe(false)
  expect(ray[Z]).toBeLessThan(cup.z)
})

test('level in the plane of focus and emitter: the wall there is a mirror', () => {
  const cup = CUPS[0]!
  const ray = rayAt([AXIS[0], AXIS[1], cup.z], [0, 1, 0], 1)
  const count = Int32Array.of(0)
  seekInCup(ray, cupKinds(cup), 0, ...AXIS, count)
  expect(count[0]).toBeGreaterThan(0)
})

test('level, between plane and mouth: a mirror sends it on', () => {
  const cup = CUPS[0]!
  const from: V = [AXIS[0] + 1, AXIS[1], cup.z + 2]
  const ray = rayAt(from, [1, 0, 0], 1)
  const slow = slowCup(cup, AXIS, from, [1, 0, 0], true)
  expect(seekInCup(ray, cupKinds(cup), 0, ...AXIS, Int32Array.of(0))).toBe(slow.end === 'plane')
  for (const k of [0, 1, 2] as const) expectWithin(ray[DX + k]!, slow.d[k], rounding)
})
