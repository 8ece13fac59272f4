// Lens materials against the open refractive-index collection (CC0), whose records name these papers.
import { describe, expect, test } from 'vitest'
import type { BuiltInMaterial } from '../../src/lamp/material.ts'
import { absorptionPerMm, LENS_MATERIALS, refractiveIndex } from '../../src/library/materials.ts'
import { expectWithin } from '../kit/expect.ts'

const LINES_NM = { F: 486.1327, d: 587.5618, C: 656.2725 } // Fraunhofer lines F, d, C (ISO 7944)
const abbeOf = (material: BuiltInMaterial) => {
  const n = (nm: number) => refractiveIndex(material, nm)
  return (n(LINES_NM.d) - 1) / (n(LINES_NM.F) - n(LINES_NM.C))
}

// n at 450 nm, F, d, C, 850 nm, and the Abbe number.
const ROWS: [BuiltInMaterial, string, number, number, number, number, number, number][] = [
  ['pmma', 'Beadie et al. 2015', 1.501591, 1.498363, 1.492527, 1.490067, 1.485907, 59.367],
  ['polycarbonate', 'Sultanova et al. 2009', 1.607776, 1.599598, 1.584763, 1.578607, 1.56885, 27.858],
  ['crown', 'Sellmeier data of 2017', 1.52532, 1.522376, 1.5168, 1.514322, 1.50984, 64.167],
]

describe.each(ROWS)('%s (%s)', (material, _, n450, nF, nd, nC, n850, abbe) => {
  const n = (nm: number) => refractiveIndex(material, nm)
  test('index at five wavelengths', () => {
    const printed = { abs: 1e-6, because: 'six printed decimals' }
    expectWithin(n(450), n450, printed)
    expectWithin(n(LINES_NM.F), nF, printed)
    expectWithin(n(LINES_NM.d), nd, printed)
    expectWithin(n(LINES_NM.C), nC, printed)
    expectWithin(n(850), n850, printed)
  })
  test('Abbe number', () => {
    expectWithin(abbeOf(material), abbe, { abs: 0.002, because: 'printed digits, and the lines to 0.001 nm' })
  })
})

/**
 * Values printed in the records: wavelength in nm, index. Zhang et al. 2020 (PVC, polystyrene) at 0.40 to 0.78 µm; Gupta et al. 2019
 * (silicone); tolerance: the scatter of the measured values about a smooth curve.
 */
const MEASURED: [BuiltInMaterial, number, [number, number][]][] = [
  [
    'pvc',
    7e-4,
    [
      [400, 1.56135],
      [450, 1.55388],
      [490, 1.5494],
      [550, 1.54493],
      [590, 1.54238],
      [660, 1.53946],
      [700, 1.53754],
      [780, 1.53526],
    ],
  ],
  [
    'polystyrene',
    3e-4,
    [
      [400, 1.62552],
      [450, 1.61037],
      [490, 1.60201],
      [550, 1.59338],
      [590, 1.58898],
      [660, 1.58359],
      [700, 1.58128],
      [780, 1.57746],
    ],
  ],
  [
    'silicone',
    1e-5,
    [
      [380, 1.428553],
      [450, 1.41939],
      [486, 1.416489],
      [550, 1.412946],
      [588, 1.411469],
      [656, 1.40954],
      [700, 1.408625],
      [780, 1.40739],
    ],
  ],
]

describe.each(MEASURED)('%s as measured', (material, within, points) => {
  test.each(points)('%i nm: %f', (nm, index) => {
    expectWithin(refractiveIndex(material, nm), index, { abs: within, because: 'scatter of the measured values' })
  })
})

describe('Abbe numbers of the plastics and of float glass', () => {
  test.each([
    // By hand: mean of the record's five values about each line (0.47 to 0.51, 0.57 to 0.61, 0.64 to 0.68 µm), carried to it by their
    // slope. PVC's values scatter by 2.3e-4: the difference by 1.5e-4 of 0.0106, ν by 0.7.
    ['pvc', 1.54978, 1.54251, 1.53919, 1.4],
    // By hand: the two values beside each line, interpolated linearly. They scatter by 1.1e-4: ν by 0.25.
    ['polystyrene', 1.60266, 1.58922, 1.58384, 0.5],
  ] as const)('%s: by the measured values about the lines', (material, nF, nd, nC, within) => {
    expectWithin(abbeOf(material), (nd - 1) / (nF - nC), {
      abs: within,
      because: 'two standard errors of the measured values',
    })
  })
  test('polystyrene: 30.9, the handbooks’ value (memory)', () => {
    expectWithin(abbeOf('polystyrene'), 30.9, { abs: 0.5, because: 'grades differ by some tenths' })
  })
  test('silicone: by the record’s values at 486, 587, 588 and 656 nm', () => {
    const nd = 1.411503 + 0.5618 * (1.411469 - 1.411503)
    const nF = 1.416489 + 0.1327 * (1.41642 - 1.416489)
    const nC = 1.40954 + 0.2725 * (1.409517 - 1.40954)
    expectWithin(abbeOf('silicone'), (nd - 1) / (nF - nC), { abs: 0.05, because: 'six printed decimals, and the fit' })
  })
  test('float glass: index 1.523 at the sodium line 589.3 nm (tables of soda-lime glass, second-hand)', () => {
    expectWithin(refractiveIndex('float', 589.3), 1.523, { abs: 5e-4, because: 'printed digits' })
  })
  test('float glass: 63.97 by its formula worked out by hand at the lines; 58 to 60 in tables (memory) is within a tenth', () => {
    // 1.5130 − 0.003169 λ² + 0.003962/λ²: 1.529016, 1.523382, 1.520834.
    expectWithin(abbeOf('float'), 0.523382 / (1.529016 - 1.520834), { abs: 0.02, because: 'six digits by hand' })
    expectWithin(abbeOf('float'), 59, { rel: 0.1, because: 'samples differ' })
  })
})

describe('absorption: what a plate passes inside', () => {
  // Zhang et al. (extinction at 0.55 µm, two PMMA sheets, one of PC, PVC, PS and silicone each); crown at 0.546 µm from its index record.
  test.each([
    ['pmma', 3, 0.98814, 1e-5, 'printed digits'],
    ['polycarbonate', 3, 0.97242, 1e-5, 'printed digits'],
    ['crown', 10, 0.998398, 1e-5, 'printed digits'],
    // exp(−4πk t/λ), λ = 550 nm, k = 2.17e-6 and 5.78e-7.
    ['pvc', 1, 0.95163, 1e-4, 'three digits of k'],
    ['polystyrene', 3, 0.96115, 1e-4, 'three digits of k'],
  ] as const)('%s, %i mm: %f', (material, mm, share, abs, because) => {
    expectWithin(Math.exp(-absorptionPerMm(material) * mm), share, { abs, because })
  })
  test('the less clear PMMA sheet, 3 mm: 0.98449', () => {
    expectWithin(Math.exp(-LENS_MATERIALS.pmma.absorptionHighPerMm * 3), 0.98449, {
      abs: 1e-5,
      because: 'printed digits',
    })
  })
  test('silicone: k = 1.42e-6 is the less clear sample', () => {
    expectWithin(LENS_MATERIALS.silicone.absorptionHighPerMm, (4 * Math.PI * 1.42e-6) / 550e-6, {
      abs: 1e-4,
      because: 'printed digits',
    })
  })
  test('PVC over the wavelength: 4πk/λ of k at 0.40, 0.58 and 0.78 µm', () => {
    const rows = new Map(LENS_MATERIALS.pvc.absorptionByNm)
    for (const [nm, k] of [
      [400, 2.72e-6],
      [580, 2.34e-6],
      [780, 6.47e-7],
    ] as const)
      expectWithin(rows.get(nm)!, (4 * Math.PI * k) / (nm * 1e-6), { rel: 5e-3, because: 'three digits of the table' })
  })
})

test('PMMA: deflection 95 °C (ISO 75), continuous service 70 °C: the warning comes at the lower', () => {
  expect(LENS_MATERIALS.pmma.deflectionC).toBe(95)
  expect(LENS_MATERIALS.pmma.keepBelowC).toBe(70)
  expect(LENS_MATERIALS.polycarbonate.deflectionC).toBe(127)
})
