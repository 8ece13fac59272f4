// Colour error of one facet, grooves to the target, r 200, f 400, cut for the d line; thickness neglected. Derived from Snell's law and the
// open index data: PMMA of Beadie et al. 2015, PC of Sultanova et al. 2009. + is towards the axis.
import { describe, test } from 'vitest'
import type { BuiltInMaterial } from '../../src/lamp/material.ts'
import { refractiveIndex } from '../../src/library/materials.ts'
import { LEAVES_WORKED } from '../../src/optics/records.ts'
import { slopeToTarget } from '../../src/optics/slopes.ts'
import { expectWithin } from '../kit/expect.ts'
import { grooveTables, passClean, rayAt } from '../kit/lensBench.ts'

const D_NM = 587.5618
const ROWS: [BuiltInMaterial, [number, number][]][] = [
  [
    'pmma',
    [
      [486.1327, 0.37089],
      [656.2725, -0.15567],
      [450, 0.5771],
      [630, -0.10203],
    ],
  ],
  [
    'polycarbonate',
    [
      [486.1327, 0.76559],
      [656.2725, -0.31526],
      [450, 1.19125],
      [630, -0.20777],
    ],
  ],
]

describe.each(ROWS)('%s', (material, lines) => {
  const pitch = 0.8 // 200 is then the middle of ring 249.5: shift the grid by half a pitch instead
  const rings = 254
  const lens = grooveTables({
    halfMm: rings * pitch,
    thicknessMm: 0,
    pitchMm: pitch,
    slopes: Array.from({ length: rings }, () => slopeToTarget(200, 400, 0, refractiveIndex(material, D_NM))),
  })
  test.each([[D_NM, 0] as [number, number], ...lines])('%f nm: %f°', (nm, deg) => {
    const index = refractiveIndex(material, nm)
    // All facets are cut alike here, so the ray through r = 200 meets the right slope wherever the grid lies.
    const out = passClean(lens, () => rayAt([200.3, 0, 0], [200, 0, 400], index), false, LEAVES_WORKED)
    const towardsAxis = (-Math.atan2(out.towards[0], out.towards[2]) * 180) / Math.PI
    expectWithin(towardsAxis, deg, { abs: 1e-5, because: 'five printed decimals' })
  })
})
