import { describe, expect, test } from 'vitest'
import {
  crestMm,
  drawnRings,
  facetSlopeTan,
  focusZMm,
  fresnelPlanes,
  grooveLine,
  solidOutline,
} from '../../../src/app/common/lensProfile.ts'
import type { FresnelLens, SolidLens } from '../../../src/lamp/schema.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import { cutIndex, lensIndex } from '../../../src/library/lensMaterial.ts'

const target = gannetHead().lens as FresnelLens
const source: FresnelLens = { ...target, grooves: 'source' }
const solid: SolidLens = {
  kind: 'solid',
  zMm: 300,
  diameterMm: 100,
  radiusMm: 120,
  conic: 0,
  thicknessMm: 20,
  curved: 'target',
  material: 'crown',
}

/** Refraction by vector Snell at a surface with unit normal (z, r), from n1 into n2. */
function refract(d: readonly [number, number], n: readonly [number, number], n1: number, n2: number): [number, number] {
  const cos = d[0] * n[0] + d[1] * n[1]
  const k = n1 / n2
  const out = Math.sqrt(1 - k * k * (1 - cos * cos))
  return [k * d[0] + (out - k * cos) * n[0], k * d[1] + (out - k * cos) * n[1]]
}

describe('facets', () => {
  // Checked by walking the ray rather than by the formula that made the slope.
  test.each([0, 10, 200, 559])('grooves to the target: the ray through the middle of ring %i leaves parallel', (k) => {
    const n = cutIndex(target)
    const r = (k + 0.5) * target.pitchMm
    let low = 0
    let high = 1.5
    for (let i = 0; i < 60; i++) {
      const u = (low + high) / 2
      const inside = Math.asin(Math.sin(u) / n)
      if (target.focalMm * Math.tan(u) + target.thicknessMm * Math.tan(inside) < r) low = u
      else high = u
    }
    const inside = Math.asin(Math.sin(low) / n)
    const alpha = Math.atan(facetSlopeTan(target, k))
    // The facet falls away from the axis: its outward normal leans outwards by alpha.
    const out = refract([Math.cos(inside), Math.sin(inside)], [Math.cos(alpha), Math.sin(alpha)], n, 1)
    expect(out[1]).toBeCloseTo(0, 9)
  })

  test.each([0, 10, 200, 559])('grooves to the source: the ray to the middle of ring %i goes on parallel', (k) => {
    const n = cutIndex(source)
    const theta = Math.atan2((k + 0.5) * source.pitchMm, source.focalMm)
    const alpha = Math.atan(facetSlopeTan(source, k))
    const inside = refract([Math.cos(theta), Math.sin(theta)], [Math.cos(alpha), -Math.sin(alpha)], 1, n)
    expect(inside[1]).toBeCloseTo(0, 9)
  })

  test('grooves stay in their pitch, rise the right way, and only those in sight are made', () => {
    for (const lens of [target, source]) {
      const { valleyMm, rise } = fresnelPlanes(lens)
      const points = grooveLine(lens, 100, 110)
      expect(points.length).toBeLessThan(50)
      for (const [z] of points) expect((z - valleyMm) * rise).toBeGreaterThanOrEqual(0)
      const r = points.map((p) => p[1])
      expect(r).toEqual([...r].sort((a, b) => a - b))
      expect(r[0]).toBeLessThanOrEqual(100)
      expect(r.at(-1)).toBeGreaterThanOrEqual(110)
    }
    expect(drawnRings(target)).toBe(560)
    expect(grooveLine(target, 0, 280).at(-1)).toEqual([1053, 280])
  })

  test('the riser leans by the draft angle', () => {
    const [, , , crest] = grooveLine(target, 100, 110)
    const k = Math.floor(crest![1] / target.pitchMm)
    const high = crestMm(target, k)
    expect((crest![1] - k * target.pitchMm) / high).toBeCloseTo(Math.tan((3 * Math.PI) / 180), 6)
    // From the crest the facet falls to the next valley with the facet's own slope.
    expect(high / ((k + 1) * target.pitchMm - crest![1])).toBeCloseTo(facetSlopeTan(target, k), 6)
  })
})

describe('solid lens', () => {
  test('its outline runs from the vertex along the curve to the flat side', () => {
    const points = solidOutline(solid)
    expect(points[0]).toEqual([320, 0])
    expect(points.at(-1)).toEqual([300, 0])
    // A sphere of 120 mm: 12.0 mm of depth at 50 mm... sag = 120 − √(120² − 50²) = 10.913 mm.
    const rim = points[48]!
    expect(rim[1]).toBeCloseTo(50, 9)
    expect(rim[0]).toBeCloseTo(300 + 20 - (120 - Math.sqrt(120 ** 2 - 50 ** 2)), 9)
  })

  test.each(['target', 'source'] as const)(
    'a ray near the axis from the focus leaves parallel, curve to the %s',
    (curved) => {
      const lens = { ...solid, curved }
      const n = lensIndex(lens, 587.6)
      const focus = focusZMm(lens)
      const h = 1e-3
      // Paraxial: y and slope through both surfaces.
      const first = curved === 'target' ? lens.zMm : lens.zMm - lens.thicknessMm
      let slope = h / (first - focus)
      let y = h
      const bend = (y: number, slope: number, n1: number, n2: number, power: number) => (n1 * slope - y * power) / n2
      slope = bend(y, slope, 1, n, curved === 'source' ? (n - 1) / lens.radiusMm : 0)
      y += slope * lens.thicknessMm
      slope = bend(y, slope, n, 1, curved === 'target' ? (n - 1) / lens.radiusMm : 0)
      expect(slope / h).toBeCloseTo(0, 9)
    },
  )

  test('an ideal or a Fresnel lens is measured from its own plane', () => {
    expect(focusZMm(target)).toBe(-50)
    expect(focusZMm({ kind: 'ideal', zMm: 200, focalMm: 200, diameterMm: 200 })).toBe(0)
  })
})
