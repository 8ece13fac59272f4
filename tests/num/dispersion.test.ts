import { expect, test } from 'vitest'
import { abbeNumber, cauchyFromAbbe, cauchyIndex, sellmeierIndex } from '../../src/num/dispersion.ts'
import { expectWithin } from '../kit/expect.ts'

// A common borosilicate crown: coefficients and index of the open index collection (CC0), record of 2017.
const CROWN = [
  { b: 1.03961212, cUm2: 0.00600069867 },
  { b: 0.231792344, cUm2: 0.0200179144 },
  { b: 1.01046945, cUm2: 103.560653 },
]
const PRINTED = { abs: 1e-6, because: 'six printed decimals' }

test.each([
  [450, 1.52532],
  [486.1327, 1.522376],
  [587.5618, 1.5168],
  [656.2725, 1.514322],
  [850, 1.50984],
])('Sellmeier, crown at %f nm: %f', (nm, n) => expectWithin(sellmeierIndex(CROWN, nm), n, PRINTED))

test('Abbe number of the crown: 64.167', () => {
  expectWithin(
    abbeNumber((nm) => sellmeierIndex(CROWN, nm)),
    64.167,
    { abs: 0.002, because: 'printed digits' },
  )
})

test('Cauchy by hand: 1.5 + 0.004/0.25 + 0.0001/0.0625 = 1.5176 at 500 nm', () => {
  expectWithin(cauchyIndex(1.5, 0.004, 0.0001, 500), 1.5176, { abs: 1e-12, because: 'rounding' })
})

test('n_d and Abbe number come back from Cauchy’s two terms', () => {
  for (const [nd, abbe] of [
    [1.5168, 64.17],
    [1.585, 30],
    [1.8, 25.4],
  ] as const) {
    const { a, bUm2 } = cauchyFromAbbe(nd, abbe)
    const index = (nm: number) => cauchyIndex(a, bUm2, 0, nm)
    expectWithin(index(587.5618), nd, { abs: 1e-12, because: 'rounding' })
    expectWithin(abbeNumber(index), abbe, { rel: 1e-9, because: 'rounding' })
  }
})

test('two terms by hand: n_d 1.5, ν 50: B = 0.01/(4.231449 − 2.321842) = 0.0052367 µm², A = 1.5 − 2.896580 B', () => {
  const { a, bUm2 } = cauchyFromAbbe(1.5, 50)
  expectWithin(bUm2, 0.0052367, { abs: 1e-7, because: 'printed digits' })
  expectWithin(a, 1.5 - 2.89658 * 0.0052367, { abs: 1e-6, because: 'printed digits' })
})

test('between F and C the crown differs from its two terms by less than 0.0001, and at 450 nm by 0.0002', () => {
  const { a, bUm2 } = cauchyFromAbbe(1.5168, 64.167)
  const off = (nm: number) => Math.abs(cauchyIndex(a, bUm2, 0, nm) - sellmeierIndex(CROWN, nm))
  for (const nm of [486.1327, 520, 560, 600, 640, 656.2725]) expect(off(nm)).toBeLessThan(1e-4)
  expect(off(450)).toBeLessThan(2e-4)
})

test('no real index: NaN, not a number', () => expect(sellmeierIndex([{ b: -3, cUm2: 0 }], 500)).toBeNaN())
