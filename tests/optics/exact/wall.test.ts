// The tunnel by vectors: flats by their normals, the cone by its quadratic, Gaussian slopes by a rotation about the mirror direction.
import { describe, expect, test } from 'vitest'
import { NEVER } from '../../../src/optics/cone.ts'
import { draw, drawAt, seedStream } from '../../../src/optics/draws.ts'
import { DX, REACH, SIDE, W, X } from '../../../src/optics/records.ts'
import { insideSection, leaveWall, sectionAt, toWall } from '../../../src/optics/wall.ts'
import { expectWithin } from '../../kit/expect.ts'
import { rayAt } from '../../kit/lensBench.ts'
import { leavesSlowly, slowNormal, slowReach, type Wall, wallParams } from '../../kit/slowWall.ts'
import { along, directionOf, type V } from '../../kit/vectors.ts'

const stream = new Int32Array(3)
const WALLS: Wall[] = [0, 3, 4, 6, 7].flatMap((sides) =>
  [-0.15, 0, 0.4].map((tan) => ({ sides, rIn: 30, zIn: 4, tan, specular: 1, sigma: 0 })),
)
const name = ({ sides, tan, specular, sigma }: Wall) =>
  `${sides} sides, flare ${tan}, specular ${specular}, slopes ${sigma}`
const named = (walls: Wall[]) => walls.map((wall) => [name(wall), wall] as const)
const rounding = { abs: 1e-9, because: 'rounding, over a length of up to 1e3' }

test('section: r_in + (z − z_in) tanγ', () => {
  const p = wallParams({ sides: 0, rIn: 30, zIn: 4, tan: 0.5, specular: 1, sigma: 0 })
  expect(sectionAt(p, 4)).toBe(30)
  expect(sectionAt(p, 14)).toBe(35)
})

describe('inside the section', () => {
  test('round, edge included', () => {
    expect(insideSection(3, -4, 5, 0)).toBe(true)
    expect(insideSection(3, 4.001, 5, 0)).toBe(false)
    expect(insideSection(4, 4, 5, 0)).toBe(false)
  })
  test.each([3, 4, 6, 7])('%i sides: within the polygon of its corners', (sides) => {
    const corner = 5 / Math.cos(Math.PI / sides)
    for (let i = 0; i < 40 * sides; i++) {
      // On the chord between two neighbouring corners, a little inside and a little outside.
      const [side, share] = [Math.floor(i / 40), ((i % 40) + 0.5) / 40]
      const phi = (2 * Math.PI * (side - 0.5)) / sides
      const next = phi + (2 * Math.PI) / sides
      const x = corner * ((1 - share) * Math.cos(phi) + share * Math.cos(next))
      const y = corner * ((1 - share) * Math.sin(phi) + share * Math.sin(next))
      expect(insideSection(0.999 * x, 0.999 * y, 5, sides)).toBe(true)
      expect(insideSection(1.001 * x, 1.001 * y, 5, sides)).toBe(false)
    }
  })
  test('the flat that faces +x belongs to it', () => expect(insideSection(5, 0, 5, 6)).toBe(true))
})

describe.each(named(WALLS))('%s', (_, wall) => {
  const p = wallParams(wall)
  /** Within 0.9 of the inscribed circle at its height. */
  const starts = () =>
    Array.from({ length: 14 }, (_, i): [V, V] => {
      seedStream(stream, 3, 0, i)
      const z = 10 + 20 * draw(stream)
      const r = 0.9 * (30 + (z - 4) * wall.tan) * draw(stream)
      const phi = 2 * Math.PI * draw(stream)
      return [[r * Math.cos(phi), r * Math.sin(phi), z], directionOf(draw(stream), draw(stream))]
    })

  test('the distance to it, and which side', () => {
    for (const [from, d] of starts()) {
      const ray = rayAt(from, d, 1)
      ray[SIDE] = -1
      toWall(ray, p)
      const { s, side } = slowReach(wall, from, d)
      if (s === NEVER) expect(ray[REACH]).toBe(NEVER)
      else expectWithin(ray[REACH]!, s, { rel: 1e-10, because: 'rounding of a root' })
      if (wall.sides > 0 && s < NEVER) expect(ray[SIDE]).toBe(side)
    }
  })

  test.each([
    [1, 0],
    [1, 0.2],
    [0.5, 0.1],
    [0, 0.1],
  ])('leaving it: specular %f, slopes %f', (specular, sigma) => {
    const own = { ...wall, specular, sigma }
    const q = wallParams(own)
    for (const [i, [from, d]] of starts().entries()) {
      const { s, side } = slowReach(wall, from, d)
      if (s > 1000) continue
      const at = along(from, d, s)
      const ray = rayAt(at, d, 1)
      ray[SIDE] = side
      seedStream(stream, 6, 0, i)
      const copy = stream.slice()
      leaveWall(ray, stream, q)
      const out = leavesSlowly(own, d, slowNormal(own, at, side), copy)
      expect(stream).toEqual(copy)
      for (const k of [0, 1, 2] as const) {
        expectWithin(ray[DX + k]!, out[k], rounding)
        expectWithin(ray[X + k]!, at[k], rounding)
      }
      expect(ray[W]).toBe(1)
    }
  })
})

describe('by hand', () => {
  const round: Wall = { sides: 0, rIn: 10, zIn: 0, tan: 0, specular: 1, sigma: 0 }
  test('a round wall puts the ray back onto itself', () => {
    const ray = rayAt([6.06, -8.08, 7], [0.6, -0.8, 0], 1)
    leaveWall(ray, stream, wallParams(round))
    for (const [k, v] of [6, -8, 7, -0.6, 0.8, 0].entries()) expectWithin(ray[X + k]!, v, rounding)
  })
  test('on the axis, where the normal has no direction, nothing breaks', () => {
    const ray = rayAt([0, 0, 7], [0, 0, 1], 1)
    leaveWall(ray, stream, wallParams(round))
    expect([...ray.subarray(X, X + 6)].map((v) => v + 0)).toEqual([0, 0, 7, 0, 0, 1])
  })
  const square: Wall = { ...round, sides: 4 }
  test('a step outside a flat by rounding: the distance is 0, not less', () => {
    const ray = rayAt([10.001, 0, 5], [1, 0, 0], 1)
    toWall(ray, wallParams(square))
    expect([ray[REACH], ray[SIDE]]).toEqual([0, 0])
  })
  test('a step outside a flat that it runs along: the next flat counts', () => {
    const ray = rayAt([10.001, 0, 5], [0, 1, 0], 1)
    toWall(ray, wallParams(square))
    expectWithin(ray[REACH]!, 10, rounding)
    expect(ray[SIDE]).toBe(1)
  })
  test('into a corner: the first of two flats at the same distance', () => {
    // Sides 0 and 1 of a square of half 1 from (1 − h, 1 − h): h = 1 either way, cos(π/2) being 6e-17.
    const ray = rayAt([0, 0, 5], [1, 0, 0], 1)
    toWall(ray, wallParams({ ...square, sides: 3 }))
    expect([ray[REACH], ray[SIDE]]).toEqual([10, 0])
  })
  test('along the axis no flat is met', () => {
    const ray = rayAt([1, 2, 5], [0, 0, 1], 1)
    toWall(ray, wallParams(square))
    expect(ray[REACH]).toBe(NEVER)
  })
  test('sixteen tries across the wall: the mirror direction, without a draw more', () => {
    // Comes from behind the wall, so that its mirror direction goes through it and small slopes never lead off it.
    const wall = { ...square, sigma: 0.001 }
    const ray = rayAt([10, 0, 5], [-0.8, 0, 0.6], 1)
    ray[SIDE] = 0
    seedStream(stream, 1, 0, 0)
    leaveWall(ray, stream, wallParams(wall))
    for (const [k, v] of [0.8, 0, 0.6].entries()) expectWithin(ray[DX + k]!, v, rounding)
    expect(stream[2]).toBe(8 + 32)
  })
  test('a draw at the specular share itself is Lambertian: [0, share) are mirror', () => {
    seedStream(stream, 1, 0, 0)
    const own = { ...square, specular: drawAt(stream, 8) }
    const ray = rayAt([10, 0, 5], [0.8, 0, 0.6], 1)
    ray[SIDE] = 0
    leaveWall(ray, stream, wallParams(own))
    expect(stream[2]).toBe(11)
  })
  test('a wall all mirror takes no draw to choose; one of slopes 0 none to scatter', () => {
    const ray = rayAt([10, 0, 5], [0.8, 0, 0.6], 1)
    ray[SIDE] = 0
    seedStream(stream, 1, 0, 0)
    leaveWall(ray, stream, wallParams(square))
    expect(stream[2]).toBe(8)
  })
})
