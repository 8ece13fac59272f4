// The greatest radiance of single rays: never under what shines, and not far over it. A Lambertian disc of area A gives 1/(π A) for each watt.

import { describe, expect, test } from 'vitest'
import { densestPerWatt } from '../../src/hazard/rayRadiance.ts'
import { sourceRadiance } from '../../src/hazard/sourceRadiance.ts'
import { amount } from '../kit/amount.ts'
import { documentRays, lambertianRays, type TestRay } from '../kit/rayFile.ts'
import { oneEmitter } from '../kit/traceHere.ts'

const COUNT = amount(8192, 32_768)
const disc = (mm: number) => 1 / (Math.PI * (Math.PI / 4) * mm * mm * 1e-6)

/** The same rays where they cross a sphere about the source: many files have them start there. */
const onSphere = (rays: readonly TestRay[], radius: number): TestRay[] =>
  rays.map(({ place, direction }) => {
    const [p, d] = [place!, direction!]
    const along = p[0] * d[0] + p[1] * d[1] + p[2] * d[2]
    const s = -along + Math.sqrt(along * along + radius * radius - p[0] ** 2 - p[1] ** 2 - p[2] ** 2)
    return { place: [p[0] + s * d[0], p[1] + s * d[1], p[2] + s * d[2]], direction: d }
  })

function expectHot(rays: readonly TestRay[], truth: number, most: number): void {
  const ratio = densestPerWatt(documentRays(rays)) / truth
  expect(ratio, `over the truth by ${ratio}`).toBeGreaterThan(1)
  expect(ratio, `over the truth by ${ratio}`).toBeLessThan(most)
}

describe('over what shines, by less than some times', () => {
  test.each(amount([1], [1, 2, 3]))('a Lambertian disc, seed %i', (seed) =>
    expectHot(lambertianRays(COUNT, 2, seed), disc(2), 5),
  )
  test('of few rays', () => expectHot(lambertianRays(2000, 2), disc(2), 5))
  test('recorded on a sphere of 8 mm about it', () => expectHot(onSphere(lambertianRays(COUNT, 2), 8), disc(2), 5))
  test.each([500, 2000, COUNT])('recorded on a plane 8 mm above it, %i rays', (count) => {
    const above = lambertianRays(count, 2)
      .filter((r) => r.direction![2] > 0.2)
      .map(({ place, direction }): TestRay => {
        const s = 8 / direction![2]
        return { place: [place![0] + s * direction![0], place![1] + s * direction![1], 8], direction: direction! }
      })
    // Of what is left, sin²θ up to 0.96 of the whole.
    expectHot(above, disc(2) / 0.96, 5)
  })
  test('a bright spot on a dim disc: half of the light from a hundredth of the area', () =>
    expectHot(
      [...lambertianRays(COUNT / 2, 4, 1), ...lambertianRays(COUNT / 2, 0.4, 2)],
      0.5 * disc(0.4) + 0.5 * disc(4),
      5,
    ))
  test('a narrow beam of a wide mouth', () => {
    const narrow = lambertianRays(COUNT, 50).map((r): TestRay => {
      const [dx, dy] = [0.05 * r.direction![0], 0.05 * r.direction![1]]
      return { ...r, direction: [dx, dy, Math.sqrt(1 - dx * dx - dy * dy)] }
    })
    expectHot(narrow, disc(50) / 0.05 ** 2, 5)
  })
})

test('a point is bright beyond all, and still a number', () => {
  const at = densestPerWatt(documentRays(lambertianRays(5000, 0)))
  expect(at).toBeGreaterThan(1e3 * disc(1))
  expect(Number.isFinite(at)).toBe(true)
})

test('a lamp’s emitters: by rays in place of size and profile; the colours of the rays weigh', () => {
  const blue = oneEmitter({ rays: documentRays(lambertianRays(COUNT, 2, 1, { nm: 440 })) })
  const red = oneEmitter({ rays: documentRays(lambertianRays(COUNT, 2, 1, { nm: 650 })) })
  const [b, r] = [sourceRadiance(blue, [2]), sourceRadiance(red, [2])]
  // B(440) = 1, B(650) = 0.001: IEC 62471:2006, table 4.2.
  expect(b.blueWm2sr).toBeGreaterThan(2 * disc(2))
  expect(r.blueWm2sr / b.blueWm2sr).toBeLessThan(0.002)
})
