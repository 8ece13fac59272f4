// Where lenses focus. Thin-lens and lensmaker's formulae are in any text on optics (e.g. E. Hecht, Optics, ch. 5; chapter from memory);
// values derived. Curves without aberration: R. Descartes, La Dioptrique (1637), discours 8; constants derived below.
import { describe, expect, test } from 'vitest'
import { passIdeal } from '../../src/optics/idealLens.ts'
import * as P from '../../src/optics/params.ts'
import { LEAVES_FLAT, LEAVES_WORKED } from '../../src/optics/records.ts'
import { expectWithin } from '../kit/expect.ts'
import { doubles, passClean, rayAt, solidTables } from '../kit/lensBench.ts'
import { exitsOf, oneEmitter, traceHere } from '../kit/traceHere.ts'

/** Where a ray parallel to the axis at height h crosses it, measured from the vertex. */
function backFocus(radiusMm: number, n: number, h: number, conic = 0): number {
  const lens = solidTables({ halfMm: 3 * h, thicknessMm: 20 + h, radiusMm, conic })
  const out = passClean(lens, () => rayAt([h, 0, -20 - h], [0, 0, 1], n), false, LEAVES_WORKED)
  return out.at[2] - (out.at[0] * out.towards[2]) / out.towards[0]
}

describe('plano-convex, f = R/(n − 1) from the vertex, near the axis', () => {
  test.each([
    [1.5168, 51.68, 100],
    [1.49, 196, 400],
  ])('n %f, R %f: %f', (n, radius, focal) => {
    expectWithin(backFocus(radius, n, 1e-3), focal, { rel: 1e-8, because: 'aberration grows with (h/R)²' })
  })
})

describe('a hyperboloid of conic constant −n² brings parallel light to one point', () => {
  // Equal optical paths n z + √(r² + (f − z)²) = f, z back from the vertex: with e = n a hyperbola, K = −e² = −n², f = R/(n − 1).
  test.each([1.49, 1.5168, 1.585])('n %f', (n) => {
    const radius = 100
    for (const h of [1, 20, 60, 120]) {
      expectWithin(backFocus(radius, n, h, -n * n), radius / (n - 1), { rel: 1e-9, because: 'no aberration, rounding' })
    }
    // A sphere misses by millimetres at the same height: the test would see the wrong constant.
    expect(Math.abs(backFocus(radius, n, 60) - radius / (n - 1))).toBeGreaterThan(1)
  })
})

describe('an ellipsoid of conic constant −1/n² does so inside the glass', () => {
  // Light meets the curve first; equal paths give e = 1/n, f' = n R/(n − 1) from the vertex, in the glass.
  test.each([1.49, 1.585])('n %f', (n) => {
    const radius = 50
    const focal = (n * radius) / (n - 1)
    const lens = solidTables({ halfMm: 60, thicknessMm: focal, radiusMm: radius, conic: -1 / (n * n) })
    for (const h of [0.01, 10, 30, 45]) {
      const out = passClean(lens, () => rayAt([h, 0, 0], [0, 0, -1], n), true, LEAVES_FLAT)
      expectWithin(out.at[0], 0, { abs: 1e-9, because: 'no aberration, rounding' })
      expectWithin(out.at[2], -focal, { ulps: 2 })
    }
  })
})

describe('thin ideal lens, f 400: an object at 450 has its image at 3600, eight times as large', () => {
  test.each([0, 0.3, -2])('object at height %f', (height) => {
    const p = doubles(P.size)
    p[P.lensFocal] = 400
    for (const [x, y] of [
      [1, 0],
      [-80, 40],
      [150, -200],
    ] as const) {
      const ray = rayAt([x, y, 0], [x - height, y, 450], 1)
      passIdeal(ray, p)
      const [dx, dy, dz] = ray.subarray(3, 6)
      expectWithin(x + (3600 * dx!) / dz!, -8 * height, { abs: 1e-9, because: 'rounding' })
      expectWithin(y + (3600 * dy!) / dz!, 0, { abs: 1e-9, because: 'rounding' })
      expectWithin(Math.hypot(dx!, dy!, dz!), 1, { ulps: 4 })
    }
  })

  test('traced through the whole lamp', () => {
    const lamp = oneEmitter({
      source: { shape: 'disc', diameterMm: 2 },
      lens: { kind: 'ideal', zMm: 450, focalMm: 400, diameterMm: 300 },
    })
    const exits = exitsOf(traceHere(lamp, { rays: 1 << 16 }))
    const radii = exits.map(({ x, y, dx, dy, dz }) => Math.hypot(x + (3600 * dx) / dz, y + (3600 * dy) / dz))
    expect(exits.length).toBeGreaterThan(5000)
    expectWithin(
      radii.reduce((a, b) => Math.max(a, b)),
      8,
      { rel: 0.01, because: 'the outermost of some thousand rays; single precision carried over 3600 mm' },
    )
    // Even over the disc: mean square radius is half the square of the edge.
    const square = radii.reduce((sum, r) => sum + r * r, 0) / radii.length
    expectWithin(square, 32, { rel: 0.02, because: 'three standard errors of a mean over some 6,000 rays' })
  })
})
