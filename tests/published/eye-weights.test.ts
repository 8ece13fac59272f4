// Weighting functions of the retina and limits of IEC 62471:2006 (CIE S 009:2002), rows 4.50 to 4.60 of the check values.
import { describe, expect, test } from 'vitest'
import {
  actinicWeight,
  blueLightWeight,
  nearUltravioletWeight,
  retinalThermalWeight,
  weightedShare,
} from '../../src/library/eyeWeights.ts'
import { spectrumEfficacy, spectrumPower, sunPower } from '../../src/library/spectra.ts'
import { expectWithin } from '../kit/expect.ts'

describe('tables', () => {
  test.each([
    [380, 0.1],
    [400, 1],
    [420, 9],
    [435, 10],
    [440, 10],
    [450, 9.4],
    [470, 6.2],
    [490, 2.2],
    [500, 1],
    [600, 1],
    [700, 1],
    [950, 10 ** -0.5],
    [1100, 0.2],
    [1300, 0.02],
    [1500, 0],
    [300, 0],
  ])('R(%i nm) = %f (table 4.2, second-hand)', (nm, r) => {
    expectWithin(retinalThermalWeight(nm), r, { abs: 1e-12, because: 'the table itself' })
  })
  test.each([
    [400, 0.1],
    [435, 1],
    [440, 1],
    [450, 0.94],
    [460, 0.8],
    [500, 0.1],
    [550, 0.01],
    [600, 0.001],
    [700, 0.001],
    [710, 0],
    [300, 0.01],
    [380, 0.01],
    [299, 0],
  ])('B(%i nm) = %f (memory)', (nm, b) => {
    expectWithin(blueLightWeight(nm), b, { abs: 1e-12, because: 'the table itself' })
  })
  test('both are continuous within a step of the table', () => {
    for (let nm = 381; nm <= 700; nm++) {
      expect(Math.abs(blueLightWeight(nm) - blueLightWeight(nm - 1))).toBeLessThan(0.11)
      expect(Math.abs(retinalThermalWeight(nm) - retinalThermalWeight(nm - 1))).toBeLessThan(1.01)
    }
  })
})

describe('ultraviolet', () => {
  test.each([
    [300, 0.3],
    [305, 0.06],
    [310, 0.015],
    [313, 0.006],
    [315, 0.003],
    [320, 0.001],
    [330, 4.1e-4],
    [350, 2e-4],
    [365, 1.1e-4],
    [380, 6.4e-5],
    [400, 3e-5],
    [299.9, 0],
    [400.1, 0],
  ])('S(%d nm) = %d (table 4.1; memory)', (nm, s) => {
    expectWithin(actinicWeight(nm), s, { rel: 1e-9, because: 'the table itself' })
  })
  test('S follows the fit of ICNIRP 2004, 0.3 · 0.736^(λ − 300) + 10^(2 − 0.0163 λ) (second-hand: open code of an R package)', () => {
    for (let nm = 300; nm <= 400; nm++) {
      const fit = 0.3 * 0.736 ** (nm - 300) + 10 ** (2 - 0.0163 * nm)
      expectWithin(actinicWeight(nm), fit, { rel: 0.35, because: 'a fit; worst at 323 nm' })
    }
  })
  test('near ultraviolet: 315 to 400 nm in full', () => {
    expect([314, 315, 360, 400, 401].map(nearUltravioletWeight)).toEqual([0, 1, 1, 1, 0])
  })
})

describe('limits reproduce the risk groups, row 4.57', () => {
  test.each([
    [1e4, 100],
    [100, 1e4],
    [0.25, 4e6],
  ])('blue light: 10⁶ J/m²sr over %d s is %d W/m²sr', (seconds, radiance) => {
    expect(1e6 / seconds).toBe(radiance)
  })
  test.each([
    [10, 28_000],
    [0.25, 71_000],
  ])('retinal heat: 50 000/t^¼ at %d s is %d, rounded', (seconds, limit) => {
    expectWithin(50_000 / seconds ** 0.25, limit, { rel: 0.006, because: 'rounded in the standard' })
  })
})

describe('sums over spectra', () => {
  /** Blue-light hazard efficacy of luminous radiation, W/lm. */
  const blueOf = (spectrum: Parameters<typeof spectrumPower>[0]) =>
    weightedShare(spectrumPower(spectrum), blueLightWeight) / spectrumEfficacy(spectrum)
  // IEC TR 62778 (2014) annex: K_B,v rises with colour temperature; about 3, 4.5, 6 and 9 · 10⁻⁴ W/lm at 2700 to 6500 K (memory, ±20 %).
  test.each([
    [3000, 3.5e-4],
    [4000, 5.2e-4],
    [5000, 6.8e-4],
    [6500, 8.6e-4],
  ] as const)('white of %i K: about %d W/lm (memory)', (classK, kbv) => {
    expectWithin(blueOf({ kind: 'white', classK }), kbv, { rel: 0.3, because: 'memory, and spectra of another make' })
  })
  test('the midday sun, row 4.60: its disc reaches the blue-light limit in seconds', () => {
    // 467.8 W/m² of 380 to 780 nm (row 4.71) over 6.79996e-5 sr.
    const radiance = (467.824 / 6.79996e-5) * weightedShare(sunPower(), blueLightWeight)
    expect(1e6 / radiance).toBeGreaterThan(0.3)
    expect(1e6 / radiance).toBeLessThan(3)
  })
})
