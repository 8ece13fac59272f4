import assert from 'node:assert/strict'
import { describe, expect, test } from 'vitest'
import { seededRandom } from '../../src/num/rng.ts'
import { seedStream } from '../../src/optics/draws.ts'
import { cross, crossPlane, fresnelMean, lambertian, tilt } from '../../src/optics/interface.ts'
import { DX, DY, DZ, ETA, NX, NZ, TX, TY, TZ } from '../../src/optics/records.ts'
import { expectShares } from '../kit/chi2.ts'
import { expectWithin } from '../kit/expect.ts'
import { rayAt } from '../kit/lensBench.ts'

const stream = new Int32Array(3)

function unitVector(random: () => number): [number, number, number] {
  const z = 2 * random() - 1
  const phi = 2 * Math.PI * random()
  const r = Math.sqrt(1 - z * z)
  return [r * Math.cos(phi), r * Math.sin(phi), z]
}

describe('cross', () => {
  test('unit length, in the plane of incidence, Snell’s law or the mirror’s, over 8,000 random crossings', () => {
    const random = seededRandom(1)
    let refracted = 0
    for (let i = 0; i < 8_000; i++) {
      const n = unitVector(random)
      let d = unitVector(random)
      if (d[0] * n[0] + d[1] * n[1] + d[2] * n[2] > 0) d = [-d[0], -d[1], -d[2]]
      const eta = random() < 0.5 ? 1.5 : 1 / 1.5
      const ray = rayAt([0, 0, 0], d, 1.5)
      ray.set(n, NX)
      ray[ETA] = eta
      seedStream(stream, 1, 0, i)
      const went = cross(ray, stream)
      const out = [ray[DX]!, ray[DY]!, ray[DZ]!] as const
      expectWithin(Math.hypot(...out), 1, { abs: 1e-14, because: 'rounding' })
      const cosIn = -(d[0] * n[0] + d[1] * n[1] + d[2] * n[2])
      const cosOut = out[0] * n[0] + out[1] * n[1] + out[2] * n[2]
      // What lies along the surface: scaled by eta when refracted, unchanged when reflected.
      const scale = went ? eta : 1
      for (const k of [0, 1, 2] as const) {
        const along = d[k] + cosIn * n[k]
        expectWithin(out[k] - cosOut * n[k], scale * along, { abs: 1e-13, because: 'rounding' })
      }
      if (went) {
        refracted++
        assert.ok(cosOut <= 0)
      } else expectWithin(cosOut, cosIn, { abs: 1e-13, because: 'rounding' })
      if (eta * Math.sqrt(1 - cosIn * cosIn) > 1) assert.equal(went, false)
    }
    expect(refracted).toBeGreaterThan(3000)
  })

  test.each([
    [0, 1 / 1.5],
    [50, 1 / 1.5],
    [85, 1 / 1.5],
    [30, 1.5],
    [41, 1.5],
  ])('energy split at %i°, index ratio %f: the reflected share is Fresnel’s', (deg, eta) => {
    const angle = (deg * Math.PI) / 180
    const count = (plane: boolean) => {
      let back = 0
      for (let i = 0; i < 40_000; i++) {
        const ray = rayAt([0, 0, 0], [Math.sin(angle), 0, Math.cos(angle)], 1.5)
        ray.set([0, 0, -1], NX)
        ray[ETA] = eta
        seedStream(stream, 2, 0, i)
        if (!(plane ? crossPlane(ray, stream) : cross(ray, stream))) back++
      }
      return back / 40_000
    }
    const share = fresnelMean(Math.cos(angle), eta, 1)
    expectWithin(count(false), share, { sigmas: 3.5, se: Math.sqrt((share * (1 - share)) / 40_000) })
    expect(count(true)).toBe(count(false)) // the same draws, the same decisions
  })

  test('crossPlane gives what cross gives with the axis as normal', () => {
    const random = seededRandom(3)
    for (let i = 0; i < 5000; i++) {
      const d = unitVector(random)
      const eta = random() < 0.5 ? 1.49 : 1 / 1.49
      const a = rayAt([0, 0, 0], d, 1.49)
      const b = a.slice()
      a.set([0, 0, d[2] > 0 ? -1 : 1], NX)
      a[ETA] = eta
      b[ETA] = eta
      seedStream(stream, 5, 0, i)
      const wentA = cross(a, stream)
      seedStream(stream, 5, 0, i)
      expect(crossPlane(b, stream)).toBe(wentA)
      for (const k of [DX, DY, DZ]) expectWithin(a[k]!, b[k]!, { abs: 1e-13, because: 'rounding' })
    }
  })
})

test('tilt: a turned frame, right-handed, lengths and angles unchanged', () => {
  const random = seededRandom(4)
  for (let i = 0; i < 2000; i++) {
    const n = i === 0 ? ([0, 0, -1] as const) : unitVector(random)
    const images = [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ].map((t) => {
      const ray = rayAt([0, 0, 0], [0, 0, 1], 1)
      ray.set(n, NX)
      ray.set(t, TX)
      tilt(ray)
      return [ray[DX]!, ray[DY]!, ray[DZ]!]
    })
    const dot = (a: number[], b: number[]) => a[0]! * b[0]! + a[1]! * b[1]! + a[2]! * b[2]!
    const [x, y, z] = images as [number[], number[], number[]]
    const near = { abs: 1e-12, because: 'rounding' }
    for (const [a, b, value] of [
      [x, x, 1],
      [y, y, 1],
      [z, z, 1],
      [x, y, 0],
      [y, z, 0],
      [x, z, 0],
    ] as const)
      expectWithin(dot(a, b), value, near)
    const turned = [x[1]! * y[2]! - x[2]! * y[1]!, x[2]! * y[0]! - x[0]! * y[2]!, x[0]! * y[1]! - x[1]! * y[0]!]
    expectWithin(dot(turned, z), 1, near)
    expectWithin(dot(z, [...n]), 1, near)
  }
})

test('Lambertian about a slanted axis: cos² and azimuth are even', () => {
  const axis = [0.6, 0, -0.8]
  const cells = 20
  const byCos2 = new Float64Array(cells)
  const byTurn = new Float64Array(cells)
  for (let i = 0; i < 40_000; i++) {
    const ray = rayAt([0, 0, 0], [1, 0, 0], 1)
    ray.set(axis, NX)
    seedStream(stream, 6, 0, i)
    lambertian(ray, stream)
    const cos = ray[DX]! * 0.6 - ray[DZ]! * 0.8
    assert.ok(cos > 0)
    byCos2[Math.min(cells - 1, Math.floor(cos * cos * cells))]!++
    const across = ray[DX]! * 0.8 + ray[DZ]! * 0.6
    byTurn[Math.floor(((Math.atan2(ray[DY]!, across) / (2 * Math.PI) + 1) % 1) * cells)]!++
    assert.ok(ray[TZ]! > 0)
    assert.ok(Math.abs(ray[TY]!) <= 1)
  }
  const even = new Array<number>(cells).fill(1 / cells)
  expectShares(byCos2, even)
  expectShares(byTurn, even)
  expect(NZ - NX).toBe(2) // the slots set above lie in a row
})
