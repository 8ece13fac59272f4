// Spectra, lumens and colour against published values.
import { describe, expect, test } from 'vitest'
import { chromaticity, correlatedColourK } from '../../src/library/colour.ts'
import { LM_PER_W, PHOTOPIC_5NM, photopic } from '../../src/library/photopic.ts'
import {
  blackBodyPower,
  luminousEfficacy,
  spectrumEfficacy,
  spectrumPower,
  sunPower,
  type WhiteClassK,
} from '../../src/library/spectra.ts'
import { expectWithin } from '../kit/expect.ts'

// CIE 1924 photopic observer, open data set of the Colour and Vision Research Laboratory, every 10 nm from 380 to 780 nm.
const CIE_1924_10NM = [
  0.000039, 0.00012, 0.000396, 0.00121, 0.004, 0.0116, 0.023, 0.038, 0.06, 0.09098, 0.13902, 0.20802, 0.323, 0.503,
  0.71, 0.862, 0.954, 0.9949501, 0.995, 0.952, 0.87, 0.757, 0.631, 0.503, 0.381, 0.265, 0.175, 0.107, 0.061, 0.032,
  0.017, 0.00821, 0.004102, 0.002091, 0.001047, 0.00052, 0.0002492, 0.00012, 0.00006, 0.00003, 0.00001499,
]

describe('V(λ), CIE 1924', () => {
  test('the 10 nm values, and 465, 555, 635 nm, same data set', () => {
    expect(CIE_1924_10NM.map((_, i) => photopic(380 + 10 * i))).toEqual(CIE_1924_10NM)
    expect([465, 555, 635].map(photopic)).toEqual([0.0739, 1, 0.217])
  })
  test('the 10 nm sum is 106.8578 nm', () => {
    const sum = PHOTOPIC_5NM.reduce((s, v, i) => (i % 2 === 0 ? s + v : s), 0)
    expect(sum * 10).toBeCloseTo(106.8578, 4)
  })
  test('the 5 nm values sum to 21.371327 (sum of ȳ in 5 nm steps, CIE 15; memory)', () => {
    expect(PHOTOPIC_5NM.length).toBe(81)
    expect(PHOTOPIC_5NM.reduce((a, b) => a + b)).toBeCloseTo(21.371327, 5)
  })
  test('is the 1924 curve, not the 1988 one (0.0002 at 380 nm, 0.0074 at 410 nm)', () => {
    expect(photopic(380)).toBeLessThan(0.0001)
    expect(photopic(410)).toBeLessThan(0.002)
  })
})

describe('lumens per watt', () => {
  test('Km is 683.002 lm/W (CIE e-ILV 17-21-092): 683 within 1e-5', () => {
    expectWithin(LM_PER_W, 683, { rel: 1e-5, because: 'Kcd over V at 540 THz' })
  })
  // 683 V(λ), SI Brochure 9th ed. 2.3.1 and CIE 1924.
  test.each([
    [450, 25.954],
    [465, 50.474],
    [530, 588.746],
    [555, 683],
    [590, 517.031],
    [620, 260.223],
    [635, 148.211],
    [660, 41.663],
  ])('one line at %i nm: %f lm/W', (wavelengthNm, lmW) => {
    expectWithin(spectrumEfficacy({ kind: 'mono', wavelengthNm }), lmW, {
      rel: 2e-5,
      because: '683 against 683.002, and the printed digits',
    })
  })
  test('equal energy from 380 to 780 nm: 182.46 lm/W (683 ΣV·10 nm / 400 nm)', () => {
    expectWithin(spectrumEfficacy({ kind: 'equalEnergy' }), 182.46, { abs: 0.006, because: 'printed digits' })
  })
  // Planck’s law and CIE 1924, per watt inside 380 to 780 nm, 10 nm sums.
  test.each([
    [2856, 156.22],
    [5000, 198.36],
    [6500, 195.63],
  ])('a black body of %i K: %f lm/W', (kelvin, lmW) => {
    expectWithin(luminousEfficacy(blackBodyPower(kelvin)), lmW, { abs: 0.006, because: 'printed digits' })
  })
})

/** CIE 1960 u, v, in which distance from the black-body locus is measured (CIE 15). */
const uv = ({ x, y }: { x: number; y: number }) => [(4 * x) / (12 * y - 2 * x + 3), (6 * y) / (12 * y - 2 * x + 3)]

describe('colour', () => {
  test('equal energy is x = y = 1/3 (definition, CIE 1931); the lobes of 2013 are good to 0.003', () => {
    const { x, y } = chromaticity(spectrumPower({ kind: 'equalEnergy' }))
    expectWithin(x, 1 / 3, { abs: 0.003, because: 'fit of the colour matching functions' })
    expectWithin(y, 1 / 3, { abs: 0.003, because: 'fit of the colour matching functions' })
  })
  test('McCamy 1992 at illuminant A (0.44757, 0.40745) gives 2856 K, at D65 (0.31271, 0.32902) 6504 K (CIE 15)', () => {
    expectWithin(correlatedColourK({ x: 0.44757, y: 0.40745 }), 2856, { abs: 3, because: 'cubic fit' })
    expectWithin(correlatedColourK({ x: 0.31271, y: 0.32902 }), 6504, { abs: 3, because: 'cubic fit' })
  })
  test.each([3000, 4000, 5000, 6500] satisfies WhiteClassK[])(
    'the white of the %i K class lies on the locus there',
    (classK) => {
      const c = chromaticity(spectrumPower({ kind: 'white', classK }))
      expectWithin(correlatedColourK(c), classK, { abs: 150, because: 'what the class promises' })
      const [u, v] = uv(c)
      const [bu, bv] = uv(chromaticity(blackBodyPower(classK)))
      expect(Math.hypot(u! - bu!, v! - bv!)).toBeLessThan(0.003)
    },
  )
  test('the whites give 300 to 340 lm per watt of light (common practice, no source)', () => {
    for (const classK of [3000, 4000, 5000, 6500] as const) {
      const lmW = spectrumEfficacy({ kind: 'white', classK })
      expect(lmW).toBeGreaterThan(300)
      expect(lmW).toBeLessThan(340)
    }
  })
  test('the sun is a 5772 K black body (IAU 2015 nominal)', () => {
    expectWithin(correlatedColourK(chromaticity(sunPower())), 5772, { abs: 40, because: 'McCamy’s fit' })
  })
})
