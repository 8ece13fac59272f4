// The lines of segments over the planes square to a direction, each against its own crossing.
import { describe, expect, test } from 'vitest'
import { powerOn, projectNear, readWaist } from '../../../src/hazard/air/crossings.ts'
import { dot, type Near, powerThrough, type V3 } from '../../../src/hazard/air/near.ts'
import { seededRandom } from '../../../src/num/rng.ts'
import { expectWithin } from '../../kit/expect.ts'
import { type NearRay, nearOf } from '../../kit/handNear.ts'

const Z: V3 = [0, 0, 1]
const ANYWHERE = { acrossMm: Number.POSITIVE_INFINITY, alongMm: Number.POSITIVE_INFINITY }
const onto = (near: Near, n: V3) => projectNear(near, n, ANYWHERE)

describe('projected onto the planes square to a direction', () => {
  test('every ray against its own crossing, discs anywhere that is looked at', () => {
    const random = seededRandom(11)
    const some = (): V3 => [random() - 0.5, random() - 0.5, random() - 0.5]
    const unit = (v: V3): V3 => v.map((x) => x / Math.hypot(...v)) as V3
    let counted = 0
    for (let k = 0; k < 200; k++) {
      const rays = Array.from({ length: 20 }, (): NearRay => {
        const d = unit(some())
        const by = some()
        return { x: [0, 1, 2].map((j) => 12 * by[j]! - 15 * d[j]!) as V3, d, length: 30 * random(), watts: random() }
      })
      const near = nearOf(rays)
      const n = unit(some())
      const c = some().map((x) => 8 * x) as V3
      const along = dot(c, n)
      const across = Math.sqrt(dot(c, c) - along * along)
      const looked = { acrossMm: 1.0001 * (across + 3), alongMm: 1.0001 * Math.abs(along) }
      const crossings = projectNear(near, n, looked)
      const expected = powerThrough(near, c, n, 3)
      if (expected > 0) counted++
      expectWithin(powerOn(crossings, c, 3), expected, { abs: 1e-12, because: 'the same rays, in double precision' })
      // Few of the others are kept.
      expect(crossings.count).toBeLessThan(20)
    }
    expect(counted).toBeGreaterThan(50)
  })
  test('only what meets a disc that is looked at', () => {
    const count = (ray: NearRay) => projectNear(nearOf([ray]), Z, { acrossMm: 4, alongMm: 2 }).count
    expect(count({ x: [3.9, 0, -9], d: Z })).toBe(1)
    expect(count({ x: [4.1, 0, -9], d: Z })).toBe(0)
    expect(count({ x: [0, 0, 1.9], d: Z })).toBe(1)
    expect(count({ x: [0, 0, 2.1], d: Z })).toBe(0)
    expect(count({ x: [0, 0, -9], d: Z, length: 7.1 })).toBe(1)
    expect(count({ x: [0, 0, -9], d: Z, length: 6.9 })).toBe(0)
    // At 45° through (x, 0, 0): at z = 2 it is 2 mm nearer to the axis.
    const s = Math.SQRT1_2
    expect(count({ x: [5.9 + 9, 0, -9], d: [-s, 0, s] })).toBe(1)
    expect(count({ x: [6.1 + 9, 0, -9], d: [-s, 0, s] })).toBe(0)
    expect(count({ x: [-6.1 + 9, 0, 9], d: [-s, 0, -s], length: 90 })).toBe(0) // runs against it
  })
  test('the waist of a cone: ahead by how far its tip is, aside by how far off it is', () => {
    // To a tip at (0.5, 0.2, 7) from places ± 1 about (0.5, 0.2) − 7 (0.1, −0.05) at z = 0.
    const tip: V3 = [0.5, 0.2, 7]
    const rays = [
      [1, 0],
      [-1, 0],
      [0, 1],
      [0, -1],
    ].map(([x, y]): NearRay => {
      const to: V3 = [0.7 - x!, -0.35 - y!, 7]
      const length = Math.hypot(...to)
      const d = to.map((v) => v / length) as V3
      return { x: [0, 1, 2].map((k) => tip[k]! - 2 * to[k]!) as V3, d, watts: 2 }
    })
    const crossings = onto(nearOf(rays), Z)
    const { ahead, offU, offV } = readWaist(crossings, [0, 0, 0], 5)
    expectWithin(ahead, 7, { rel: 1e-12, because: 'z of the tip' })
    const off = [0, 1, 2].map((k) => offU * crossings.u[k]! + offV * crossings.v[k]!)
    for (const k of [0, 1, 2]) expectWithin(off[k]!, [0.5, 0.2, 0][k]!, { abs: 1e-12, because: 'x and y of the tip' })
    // No light, or one direction alone: it stays.
    expect(readWaist(onto(nearOf([]), Z), [0, 0, 0], 5)).toEqual({ ahead: 0, offU: 0, offV: 0 })
    expect(readWaist(onto(nearOf([{ d: Z }]), Z), [0, 0, 0], 5).ahead).toBe(0)
  })
})
