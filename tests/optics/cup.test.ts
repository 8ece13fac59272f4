import { describe, expect, test } from 'vitest'
import { seededRandom } from '../../src/num/rng.ts'
import { passCup } from '../../src/optics/cup.ts'
import * as KIND from '../../src/optics/kindRow.ts'
import { DX, DY, DZ, W, X, Y, Z } from '../../src/optics/records.ts'
import { expectWithin } from '../kit/expect.ts'
import { doubles, rayAt, type Vec } from '../kit/lensBench.ts'

const near = { abs: 1e-9, because: 'rounding' }

function cup(focalMm: number, exitMm: number, rho: number): Float32Array {
  const k = doubles(KIND.size)
  k[KIND.optic] = 1
  k[KIND.cupFocal] = focalMm
  k[KIND.cupExit] = exitMm
  k[KIND.cupRho] = rho
  return k
}

function upward(random: () => number): Vec {
  const z = random()
  const phi = 2 * Math.PI * random()
  const r = Math.sqrt(1 - z * z)
  return [r * Math.cos(phi), r * Math.sin(phi), z]
}

describe('rays from the focus', () => {
  const kinds = cup(8, 70, 0.9)
  const mouth = 3 - 8 + 35 ** 2 / 32
  test('leave parallel to the axis after one mirror, or straight by the mouth; weight 0.9 or 1', () => {
    const random = seededRandom(1)
    let mirrored = 0
    for (let i = 0; i < 5000; i++) {
      const d = upward(random)
      const ray = rayAt([100, -40, 3], d, 1)
      expect(passCup(ray, kinds, 0, 100, -40, 3)).toBe(true)
      expectWithin(ray[Z]!, mouth, near)
      // From the focus the mirror shows a point at distance 2f/(1 + cosθ) seen from below: it is met when the mouth is passed by its rim.
      const straightRadius = ((mouth - 3) * Math.hypot(d[0], d[1])) / d[2]
      if (straightRadius <= 35) {
        expect(ray[W]).toBe(1)
        expectWithin(ray[DX]!, d[0], near)
      } else {
        mirrored++
        expectWithin(ray[W]!, 0.9, near)
        expectWithin(Math.hypot(ray[DX]!, ray[DY]!), 0, near)
        expectWithin(ray[DZ]!, 1, near)
        // r = 2 f tan((180° − θ)/2), the paraboloid's polar equation.
        const theta = Math.acos(d[2])
        expectWithin(Math.hypot(ray[X]! - 100, ray[Y]! + 40), 16 / Math.tan(theta / 2), {
          rel: 1e-9,
          because: 'rounding',
        })
      }
    }
    expect(mirrored).toBeGreaterThan(1000)
  })
})

test('off the focus: each mirror keeps the path inside, on the paraboloid, unit length; lost light is reported', () => {
  const kinds = cup(10, 90, 0.8)
  const random = seededRandom(2)
  let through = 0
  for (let i = 0; i < 5000; i++) {
    const from: Vec = [4 * random() - 2, 4 * random() - 2, 5 + 2 * random()]
    const ray = rayAt(from, upward(random), 1)
    if (passCup(ray, kinds, 0, 0, 0, 5)) {
      through++
      expect(ray[DZ]!).toBeGreaterThan(0)
      expect(Math.hypot(ray[X]!, ray[Y]!)).toBeLessThanOrEqual(45 + 1e-9)
      const bounces = Math.log(ray[W]!) / Math.log(0.8)
      expectWithin(bounces, Math.round(bounces), { abs: 1e-9, because: 'a whole number of mirrors' })
    }
    expectWithin(Math.hypot(ray[DX]!, ray[DY]!, ray[DZ]!), 1, near)
  }
  expect(through).toBeGreaterThan(4900)
})
