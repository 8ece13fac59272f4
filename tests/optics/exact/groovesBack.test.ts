// The two ways back past a rounded tip, by hand: the share that is scattered and the share that goes on, in radiance over n².
import { describe, expect, test } from 'vitest'
import { drawAt, seedStream } from '../../../src/optics/draws.ts'
import { backOntoTip, backThroughTip } from '../../../src/optics/groovesBack.ts'
import * as P from '../../../src/optics/params.ts'
import { DX, W, X } from '../../../src/optics/records.ts'
import { expectWithin } from '../../kit/expect.ts'
import { grooveTables, rayAt } from '../../kit/lensBench.ts'
import { inFrameAbout, type V } from '../../kit/vectors.ts'

const N = 1.5
const stream = new Int32Array(3)
const near = { abs: 1e-8, because: 'the turn’s series' }
const lensOf = (tipShare: number, square = false) =>
  grooveTables({ halfMm: 12, thicknessMm: 2, pitchMm: 4, slopes: [0.2, 0.5, 0.8], draftRad: 0.1, tipShare, square })

/** Lambertian from draws k and k + 1 of the stream. */
function lambert(normal: V, k: number): V {
  const u = drawAt(stream, k)
  const phi = 2 * Math.PI * drawAt(stream, k + 1)
  return inFrameAbout(normal, [Math.sqrt(1 - u) * Math.cos(phi), Math.sqrt(1 - u) * Math.sin(phi), Math.sqrt(u)])
}

describe.each([0.2, 0.6, 0.95, 1])('share %f', (share) => {
  const { p, rings } = lensOf(share)
  test('from the plane of the tips', () => {
    const scattered = share * N * N
    const groove = share > 0.9 ? 0.1 : 1 - share
    for (let i = 0; i < 30; i++) {
      seedStream(stream, 1, 0, i)
      const ray = rayAt([5, -6, 3], [0.6, 0, -0.8], N)
      ray[W] = 0.5
      const through = backThroughTip(ray, stream, p)
      expect(through).toBe(drawAt(stream, 8) < scattered / (scattered + groove))
      expectWithin(ray[W]!, 0.5 * (scattered + groove) * (through ? 1 : 1 / groove), near)
      const d = through ? lambert([0, 0, -1], 9) : [0.6, 0, -0.8]
      for (const [k, v] of [5, -6, through ? 0 : 3, ...d].entries()) expectWithin(ray[X + k]!, v, near)
      expect(stream[2]).toBe(through ? 11 : 9)
    }
  })
  test('up through the plane of the valleys, below a facet', () => {
    const [r, ring, alpha] = [Math.hypot(4, 5), 1, 0.5]
    const scattered = share / (N * N * Math.cos(alpha))
    for (let i = 0; i < 30; i++) {
      seedStream(stream, 2, 0, i)
      const ray = rayAt([4, -5, 0], [0.6, 0, 0.8], N)
      ray[W] = 0.5
      const onto = backOntoTip(ray, stream, p, rings, ring)
      expect(onto).toBe(drawAt(stream, 8) < scattered / (1 + scattered))
      expectWithin(ray[W]!, 0.5 * (1 + scattered), near)
      const normal: V = [(Math.sin(alpha) * 4) / r, (Math.sin(alpha) * -5) / r, Math.cos(alpha)]
      const d = onto ? lambert(normal, 9) : [0.6, 0, 0.8]
      const z = onto ? (8 - r) * Math.tan(alpha) : 0
      for (const [k, v] of [4, -5, z, ...d].entries()) expectWithin(ray[X + k]!, v, near)
      expect(stream[2]).toBe(onto ? 11 : 9)
    }
  })
})

test('up through the plane of the valleys, below a riser: on as it was, without a draw', () => {
  const { p, rings } = lensOf(1)
  seedStream(stream, 1, 0, 0)
  // r = 4.01: the riser's foot is at 4, and at this slope the facet would stand higher there than the tip.
  const ray = rayAt([0, 4.01, 0], [0, 0.6, 0.8], N)
  const before = ray.slice()
  expect(backOntoTip(ray, stream, p, rings, 1)).toBe(false)
  expect(ray).toEqual(before)
  expect(stream[2]).toBe(8)
})

test('on the axis, and at the valley where rounding puts it below: nothing breaks', () => {
  const { p, rings } = lensOf(1)
  rings[3] = 10
  for (const [x, ring] of [
    [0, 0],
    [8.000001, 1],
  ] as const)
    for (let i = 0; i < 20; i++) {
      seedStream(stream, 1, 0, i)
      const ray = rayAt([x, 0, -1], [0, 0, 1], N)
      if (!backOntoTip(ray, stream, p, rings, ring)) continue
      expect(ray[X + 2]!).toBeGreaterThanOrEqual(0)
      expectWithin(Math.hypot(...ray.subarray(DX, DX + 3)), 1, { abs: 0.02, because: 'no normal at the very axis' })
    }
})

test('beside a square body there is no tip', () => {
  for (const [at, inside] of [
    [[12, 12], true],
    [[-12, -12], true],
    [[12.001, 0], false],
    [[0, -12.001], false],
  ] as const)
    for (const square of [true, false]) {
      const { p } = lensOf(0.5, square)
      seedStream(stream, 1, 0, 0)
      const ray = rayAt([at[0], at[1], 3], [0, 0, -1], N)
      backThroughTip(ray, stream, p)
      expect(stream[2]! > 8).toBe(inside || !square)
      expect(ray[W] === 1).toBe(!inside && square)
      expect(p[P.lensTipShare]).toBe(0.5)
    }
})
