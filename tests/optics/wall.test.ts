import assert from 'node:assert/strict'
import { describe, expect, test } from 'vitest'
import { seededRandom } from '../../src/num/rng.ts'
import { seedStream } from '../../src/optics/draws.ts'
import * as P from '../../src/optics/params.ts'
import { DX, DY, DZ, REACH, X, Y, Z } from '../../src/optics/records.ts'
import { insideSection, leaveWall, sectionAt, toWall } from '../../src/optics/wall.ts'
import { expectShares } from '../kit/chi2.ts'
import { expectWithin } from '../kit/expect.ts'
import { doubles, rayAt, type Vec } from '../kit/lensBench.ts'

const RAD = Math.PI / 180
const stream = new Int32Array(3)

/** Distance to the wall. */
function reach(ray: Float64Array, p: Float32Array): number {
  toWall(ray, p)
  return ray[REACH]!
}

interface Wall {
  sides: number
  rIn: number
  tan: number
  specular?: number
  sigma?: number
}
function wallOf({ sides, rIn, tan, specular = 1, sigma = 0 }: Wall): Float32Array {
  const p = doubles(P.size)
  p[P.hasTunnel] = 1
  p[P.sides] = sides
  p[P.zOut] = 100
  p[P.rIn] = rIn
  p[P.tanFlare] = tan
  p[P.wallSpecular] = specular
  p[P.wallScatter] = sigma
  return p
}

const SHAPES = [0, 3, 4, 6, 8, 13].flatMap((sides) => [-0.15, 0, 0.3].map((tan) => [sides, tan] as const))

/** A random point inside at z, by rejection. */
function insidePoint(random: () => number, p: Float32Array, sides: number, z: number): Vec {
  const half = sectionAt(p, z)
  for (;;) {
    const x = (4 * random() - 2) * half
    const y = (4 * random() - 2) * half
    if (insideSection(x, y, 0.999 * half, sides)) return [x, y, z]
  }
}

describe.each(SHAPES)('%i sides, flare tan %f', (sides, tan) => {
  const p = wallOf({ sides, rIn: 30, tan })
  test('the way to the wall ends on the wall, and no sooner', () => {
    const random = seededRandom(1 + sides)
    let met = 0
    let sooner = 0
    for (let i = 0; i < 2000; i++) {
      const from = insidePoint(random, p, sides, 100 * random())
      const ray = rayAt(from, [random() - 0.5, random() - 0.5, random() - 0.5], 1)
      const s = reach(ray, p)
      if (!(s < 1e4)) continue
      met++
      const at = (t: number): Vec => [from[0] + t * ray[DX]!, from[1] + t * ray[DY]!, from[2] + t * ray[DZ]!]
      const inside = ([x, y, z]: Vec, by: number) => insideSection(x, y, sectionAt(p, z) * (1 + by), sides)
      assert.equal(inside(at(s), 1e-9), true)
      assert.equal(inside(at(s), -1e-9), false)
      for (let k = 1; k < 20; k++) if (!inside(at((k / 20) * s), 0)) sooner++
    }
    expect(sooner).toBe(0)
    expect(met).toBeGreaterThan(1500)
  })

  test('a mirror reflects about the true normal: the section’s gradient', () => {
    const random = seededRandom(50 + sides)
    for (let i = 0; i < 500; i++) {
      const from = insidePoint(random, p, sides, 40 + 20 * random())
      const ray = rayAt(from, [random() - 0.5, random() - 0.5, 0.2 * (random() - 0.5)], 1)
      const d = [ray[DX]!, ray[DY]!, ray[DZ]!] as const
      const s = reach(ray, p)
      if (!(s < 1e4)) continue // along a wall that opens faster than the ray
      for (const k of [0, 1, 2] as const) ray[X + k]! += s * d[k]
      const hit = [ray[X]!, ray[Y]!, ray[Z]!] as const
      leaveWall(ray, stream, p)
      // Reflection is along the normal: the change of direction is parallel to the gradient of "half size less distance to the wall".
      const excess = (x: number, y: number, z: number) => {
        const half = sectionAt(p, z)
        if (sides === 0) return half - Math.hypot(x, y)
        let least = 1e9
        for (let k = 0; k < sides; k++) {
          const phi = (2 * Math.PI * k) / sides
          least = Math.min(least, half - x * Math.cos(phi) - y * Math.sin(phi))
        }
        return least
      }
      const [x, y, z] = hit
      const h = 1e-5
      const g = [
        (excess(x + h, y, z) - excess(x - h, y, z)) / (2 * h),
        (excess(x, y + h, z) - excess(x, y - h, z)) / (2 * h),
        (excess(x, y, z + h) - excess(x, y, z - h)) / (2 * h),
      ]
      const length = Math.hypot(...g)
      const cos = (d[0] * g[0]! + d[1] * g[1]! + d[2] * g[2]!) / length
      for (const k of [0, 1, 2] as const) {
        expectWithin(ray[DX + k]!, d[k] - (2 * cos * g[k]!) / length, {
          abs: 2e-5,
          because: 'numeric gradient; a corner within 1e-5 mm is not met',
        })
      }
    }
  })
})

describe('scatter', () => {
  const sigma = 2 * RAD
  const p = wallOf({ sides: 4, rIn: 30, tan: 0, sigma })
  /** Leaves the +x wall; comes at 40° to it in the x–z plane. */
  function bounce(p: Float32Array, toWallDeg: number, i: number): Float64Array {
    const a = toWallDeg * RAD
    const ray = rayAt([30 - 1e-3, 0, 50], [Math.sin(a), 0, Math.cos(a)], 1)
    const s = reach(ray, p)
    ray[X] = 30
    ray[Z] = ray[Z]! + s * ray[DZ]!
    seedStream(stream, 8, 0, i)
    leaveWall(ray, stream, p)
    return ray
  }

  test('σ of each of the two slopes about the mirror direction', () => {
    const n = 50_000
    const a = 40 * RAD
    const mirror = [-Math.sin(a), 0, Math.cos(a)] as const
    const inPlane = [Math.cos(a), 0, Math.sin(a)] as const
    let [u2, v2, u, v, u4] = [0, 0, 0, 0, 0]
    for (let i = 0; i < n; i++) {
      const r = bounce(p, 40, i)
      const along = r[DX]! * mirror[0] + r[DZ]! * mirror[2]
      const su = (r[DX]! * inPlane[0] + r[DZ]! * inPlane[2]) / along
      const sv = r[DY]! / along
      u += su / n
      v += sv / n
      u2 += (su * su) / n
      v2 += (sv * sv) / n
      u4 += su ** 4 / n
      expectWithin(Math.hypot(r[DX]!, r[DY]!, r[DZ]!), 1, {
        abs: 1e-11,
        because: 'series of the turn, 4e-10, times σ²',
      })
    }
    const sd = { rel: 4 / Math.sqrt(2 * n), because: 'four standard errors of a standard deviation' }
    expectWithin(Math.sqrt(u2), sigma, sd)
    expectWithin(Math.sqrt(v2), sigma, sd)
    expectWithin(u, 0, { sigmas: 4, se: sigma / Math.sqrt(n) })
    expectWithin(v, 0, { sigmas: 4, se: sigma / Math.sqrt(n) })
    expectWithin(u4 / sigma ** 4, 3, { sigmas: 4, se: Math.sqrt(96 / n) }) // a Gaussian's fourth moment
  })

  test('never through the wall, even grazing', () => {
    for (const deg of [0.01, 0.5, 2]) {
      let through = 0
      for (let i = 0; i < 20_000; i++) if (!(bounce(p, deg, i)[DX]! < 0)) through++
      expect(through).toBe(0)
    }
  })

  test('a share of the light is Lambertian about the normal', () => {
    const half = wallOf({ sides: 4, rIn: 30, tan: 0, specular: 0.3 })
    let mirrored = 0
    const cells = 10
    const byCos2 = new Float64Array(cells)
    const n = 40_000
    for (let i = 0; i < n; i++) {
      const r = bounce(half, 40, i)
      if (Math.abs(r[DY]!) < 1e-12 && Math.abs(r[DZ]! - Math.cos(40 * RAD)) < 1e-9) mirrored++
      else byCos2[Math.min(cells - 1, Math.floor(r[DX]! ** 2 * cells))]!++
    }
    // The share is held as 0.3 in double precision here.
    expectWithin(mirrored / n, 0.3, { sigmas: 3.5, se: Math.sqrt(0.21 / n) })
    expectShares(byCos2, new Array<number>(cells).fill(1 / cells))
  })
})

test('polygons: size across flats, first flat to +x', () => {
  for (const sides of [3, 4, 6, 8]) {
    expect(insideSection(9.999, 0, 10, sides)).toBe(true)
    expect(insideSection(10.001, 0, 10, sides)).toBe(false)
    const corner = 10 / Math.cos(Math.PI / sides)
    const phi = Math.PI / sides
    expect(insideSection(0.999 * corner * Math.cos(phi), 0.999 * corner * Math.sin(phi), 10, sides)).toBe(true)
    expect(insideSection(1.001 * corner * Math.cos(phi), 1.001 * corner * Math.sin(phi), 10, sides)).toBe(false)
  }
})
