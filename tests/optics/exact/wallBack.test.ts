import { describe, expect, test } from 'vitest'
import { draw, seedStream } from '../../../src/optics/draws.ts'
import { DX, SIDE, W, X } from '../../../src/optics/records.ts'
import { leaveWall } from '../../../src/optics/wall.ts'
import { leaveWallBack, normalBelow, staysOff } from '../../../src/optics/wallBack.ts'
import { expectWithin } from '../../kit/expect.ts'
import { rayAt } from '../../kit/lensBench.ts'
import { normalBySeries, slowNormal, type Wall, wallParams, weightBack } from '../../kit/slowWall.ts'
import type { V } from '../../kit/vectors.ts'

const approximation = { abs: 7.5e-8, because: 'Abramowitz & Stegun 26.2.17' }
const stream = new Int32Array(3)

test('normal distribution', () => {
  for (const x of [-5, -2.5, -1, -0.3, 0, 0.2, 0.7, 1, 1.7, 2, 3, 4, 6])
    expectWithin(normalBelow(x), normalBySeries(x), approximation)
  expect(normalBelow(9)).toBe(1)
  expect(normalBelow(-9)).toBe(0)
  expect(normalBelow(-7.9)).toBeGreaterThan(0)
})

test('chance to stay off: Φ(cotθ/σ)', () => {
  for (const theta of [0.3, 1, 1.4, 1.55, Math.PI / 2])
    for (const sigma of [0.05, 0.3, 1])
      expectWithin(staysOff(Math.cos(theta), sigma), normalBySeries(1 / Math.tan(theta) / sigma), approximation)
  expect(staysOff(1, 0.1)).toBe(1)
  expect(staysOff(1 + 1e-12, 0.1)).toBe(1) // a cosine that rounding has put above 1
})

const WALLS: Wall[] = [0, 4, 5].flatMap((sides) =>
  [-0.1, 0.3].flatMap((tan) =>
    [1, 0.6].flatMap((specular) => [0.08, 0.4].map((sigma) => ({ sides, rIn: 20, zIn: 0, tan, specular, sigma }))),
  ),
)

describe.each(WALLS)('$sides sides, flare $tan, specular $specular, slopes $sigma', (wall) => {
  test('draws as forward, and weighs by the densities of both ways', () => {
    const p = wallParams(wall)
    for (let i = 0; i < 14; i++) {
      seedStream(stream, 2, 0, i)
      const side = wall.sides === 0 ? 0 : i % wall.sides
      const phi = wall.sides === 0 ? 0.4 + i : (2 * Math.PI * side) / wall.sides
      const z = 10 * draw(stream)
      const half = 20 + z * wall.tan
      const aside = wall.sides === 0 ? 0 : 5 // along the flat
      const at: V = [half * Math.cos(phi) - aside * Math.sin(phi), half * Math.sin(phi) + aside * Math.cos(phi), z]
      const normal = slowNormal(wall, at, side)
      const aim: V = [draw(stream) - 0.5, draw(stream) - 0.5, draw(stream) - 0.5]
      const outward = aim[0] * normal[0] + aim[1] * normal[1] + aim[2] * normal[2] > 0 ? -1 : 1
      const ray = rayAt(at, [outward * aim[0], outward * aim[1], outward * aim[2]], 1)
      ray[SIDE] = side
      ray[W] = 0.5
      const before = [...ray.subarray(DX, DX + 3)] as unknown as V
      const forward = ray.slice()
      const copy = stream.slice()
      leaveWall(forward, copy, p)
      leaveWallBack(ray, stream, p)
      expect(ray.subarray(X, DX + 3)).toEqual(forward.subarray(X, DX + 3))
      expect(stream).toEqual(copy)
      const next = [...ray.subarray(DX, DX + 3)] as unknown as V
      expectWithin(ray[W]! / 0.5, weightBack(wall, before, next, normal), {
        rel: 1e-5,
        because: 'arc cosines near 0; the approximation of Φ',
      })
    }
  })
})

test.each([
  ['a plain mirror', 1, 0],
  ['half mirror, half Lambertian', 0.5, 0],
  ['Lambertian', 0, 0.2],
])('%s: symmetric, weight as it was', (_, specular, sigma) => {
  const wall = { sides: 4, rIn: 20, zIn: 0, tan: 0.1, specular, sigma }
  for (let i = 0; i < 20; i++) {
    const ray = rayAt([20, 0, 0], [0.5, 0.3, 0.4], 1)
    const forward = ray.slice()
    seedStream(stream, 9, 0, i)
    const copy = stream.slice()
    leaveWall(forward, copy, wallParams(wall))
    leaveWallBack(ray, stream, wallParams(wall))
    expect(ray).toEqual(forward)
    expect(stream).toEqual(copy)
  }
})

test('a choice at a right angle or more from the mirror direction can only be Lambertian: weight 1', () => {
  const wall = { sides: 4, rIn: 20, zIn: 0, tan: 0, specular: 0.5, sigma: 0.1 }
  let met = 0
  for (let i = 0; i < 60; i++) {
    const ray = rayAt([20, 0, 5], [0.1, 0, 0.995], 1)
    seedStream(stream, 3, 0, i)
    leaveWallBack(ray, stream, wallParams(wall))
    if (-0.1 * ray[DX]! + 0.995 * ray[DX + 2]! > 0) continue
    met++
    expectWithin(ray[W]!, 1, { abs: 1e-12, because: 'rounding' })
  }
  expect(met).toBeGreaterThan(5)
})

test('on the axis and along the wall: finite, never below 0', () => {
  const wall = { sides: 0, rIn: 20, zIn: 0, tan: 0, specular: 1, sigma: 0.1 }
  seedStream(stream, 3, 0, 1)
  const axis = rayAt([0, 0, 5], [0.1, 0, 0.995], 1)
  leaveWallBack(axis, stream, wallParams(wall))
  expect(Number.isFinite(axis[W]!)).toBe(true)
  const grazing = rayAt([20, 0, 5], [0, 0, 1], 1)
  leaveWallBack(grazing, stream, wallParams(wall))
  // cosθ_o is taken as 1e-9 and both chances are known: A(o) = ½.
  const cosI = -grazing[DX]!
  expectWithin(grazing[W]!, (cosI * 0.5) / (1e-9 * staysOff(cosI, 0.1)), { rel: 1e-6, because: 'approximation of Φ' })
})
