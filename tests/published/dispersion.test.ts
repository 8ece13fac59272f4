// Lens materials against the open refractive-index collection (CC0), whose records name these papers.
import { describe, expect, test } from 'vitest'
import type { LensMaterial } from '../../src/lamp/schema.ts'
import { absorptionPerMm, LENS_MATERIALS, refractiveIndex } from '../../src/library/materials.ts'
import { expectWithin } from '../kit/expect.ts'

const LINES_NM = { F: 486.1327, d: 587.5618, C: 656.2725 } // Fraunhofer lines F, d, C (ISO 7944)

// n at 450 nm, F, d, C, 850 nm, and the Abbe number.
const ROWS: [LensMaterial, string, number, number, number, number, number, number][] = [
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
    const got = (n(LINES_NM.d) - 1) / (n(LINES_NM.F) - n(LINES_NM.C))
    expectWithin(got, abbe, { abs: 0.002, because: 'printed digits, and the lines to 0.001 nm' })
  })
})

describe('absorption: what a plate passes inside', () => {
  // Zhang et al. (extinction at 0.55 µm, two PMMA sheets and one PC); crown at 0.546 µm from its index record.
  test.each([
    ['pmma', 3, 0.98814],
    ['polycarbonate', 3, 0.97242],
    ['crown', 10, 0.998398],
  ] as const)('%s, %i mm: %f', (material, mm, share) => {
    expectWithin(Math.exp(-absorptionPerMm(material) * mm), share, { abs: 1e-5, because: 'printed digits' })
  })
  test('the less clear PMMA sheet, 3 mm: 0.98449', () => {
    expectWithin(Math.exp(-LENS_MATERIALS.pmma.absorptionHighPerMm * 3), 0.98449, {
      abs: 1e-5,
      because: 'printed digits',
    })
  })
})

test('PMMA: deflection 95 °C (ISO 75), continuous service 70 °C: the warning comes at the lower', () => {
  expect(LENS_MATERIALS.pmma.deflectionC).toBe(95)
  expect(LENS_MATERIALS.pmma.keepBelowC).toBe(70)
  expect(LENS_MATERIALS.polycarbonate.deflectionC).toBe(127)
})
