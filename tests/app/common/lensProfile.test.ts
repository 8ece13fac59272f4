import { describe, expect, test } from 'vitest'
import { crestMm, facetSlopeTan, focusZMm, fresnelPlanes } from '../../../src/app/common/lensProfile.ts'
import { chordOf, curveLine, groovesBetween } from '../../../src/app/common/pieceCut.ts'
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

  /** The line of grooves over a piece of the upright section, from r to r. */
  const grooves = (lens: FresnelLens, from: number, to: number) => {
    const valleys = chordOf(lens, 'upright', fresnelPlanes(lens).valleyMm - lens.zMm)!
    return groovesBetween(lens, valleys, from, to)
  }

  test('grooves rise the right way, on both sides of the axis, and only those in sight are made', () => {
    for (const lens of [target, source]) {
      const { valleyMm, rise } = fresnelPlanes(lens)
      const points = grooves(lens, 100, 110)
      expect(points.length).toBeLessThan(50)
      for (const [z] of points) expect((z - valleyMm) * rise).toBeGreaterThanOrEqual(-1e-12)
      const r = points.map((p) => p[1])
      expect(r).toEqual([...r].sort((a, b) => a - b))
      expect([r[0], r.at(-1)]).toEqual([100, 110])
    }
    expect(grooves(target, 0, 280).at(-1)).toEqual([1053, 280])
    // The same rings below the axis as above it, from the middle outwards.
    const upper = grooves(target, 0, 5).map(([z, r]) => [z.toFixed(9), r.toFixed(9)])
    const lower = grooves(target, -5, 0).map(([z, r]) => [z.toFixed(9), Math.abs(r).toFixed(9)])
    expect(lower.toReversed()).toEqual(upper)
  })

  test('the riser leans by the draft angle', () => {
    const points = grooves(target, 100, 110)
    const crest = points.find(([z, r]) => z > 1053 && r > 101)!
    const k = Math.floor(crest[1] / target.pitchMm)
    const high = crestMm(target, k)
    expect(crest[0]).toBeCloseTo(1053 + high, 9)
    expect((crest[1] - k * target.pitchMm) / high).toBeCloseTo(Math.tan((3 * Math.PI) / 180), 6)
    // From the crest the facet falls to the next valley with the facet's own slope.
    expect(high / ((k + 1) * target.pitchMm - crest[1])).toBeCloseTo(facetSlopeTan(target, k), 6)
  })
})

describe('solid lens', () => {
  test('its curve runs from rim to rim over the vertex', () => {
    const points = curveLine(solid, chordOf(solid, 'upright')!)
    expect(points[48]).toEqual([320, 0])
    // A sphere of 120 mm has 120 − √(120² − 50²) = 10.913 mm of depth at 50 mm.
    for (const [end, r] of [
      [points[0]!, -50],
      [points.at(-1)!, 50],
    ] as const) {
      expect(end[1]).toBeCloseTo(r, 9)
      expect(end[0]).toBeCloseTo(300 + 20 - 10.9128, 3)
    }
    // To the source it rises the other way.
    const back = { ...solid, curved: 'source' } as const
    expect(curveLine(back, chordOf(back, 'upright')!)[48]).toEqual([280, 0])
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
