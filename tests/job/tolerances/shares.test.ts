// T. Ishigami, T. Homma, "An importance quantification technique in uncertainty analysis for computer models", ISUMA '90 (1990) 398:
// f = sin x1 + a sin² x2 + b x3⁴ sin x1, x uniform in ±π. V = a²/8 + bπ⁴/5 + b²π⁸/18 + 1/2; for a = 7, b = 0.1 the shares stand in
// A. Saltelli et al., Global Sensitivity Analysis: The Primer (2008), by integration.
import { expect, test } from 'vitest'
import { type ShareRow, sharesOf, type Twice } from '../../../src/job/tolerances/shares.ts'
import { normalQuantile } from '../../../src/num/normal.ts'
import { seededRandom } from '../../../src/num/rng.ts'
import { makeSobolPoints } from '../../../src/num/sobol.ts'

const A = 7
const B = 0.1
const ishigami = (x1: number, x2: number, x3: number) =>
  Math.sin(x1) + A * Math.sin(x2) ** 2 + B * x3 ** 4 * Math.sin(x1)
const VARIANCE = A ** 2 / 8 + (B * Math.PI ** 4) / 5 + (B ** 2 * Math.PI ** 8) / 18 + 0.5

function ishigamiRows(count: number, noise: () => Twice): ShareRow[] {
  const pointAt = makeSobolPoints(Int32Array.from([11, 22, 33, 44, 55, 66], (s) => Math.imul(s, 0x9e3779b1 | 0)))
  const seen = (x: readonly number[]): Twice => {
    const y = ishigami(x[0] ?? 0, x[1] ?? 0, x[2] ?? 0)
    const [n1, n2] = noise()
    return [y + n1, y + n2]
  }
  return Array.from({ length: count }, (_, j) => {
    const u = Array.from(pointAt(j), (v) => Math.PI * (2 * v - 1))
    const [a, b] = [u.slice(0, 3), u.slice(3)]
    return { a: seen(a), b: seen(b), ab: [0, 1, 2].map((i) => seen(a.with(i, b[i] ?? 0))) }
  })
}
const ones = (rows: readonly ShareRow[]) => new Float64Array(rows.length).fill(1)

test('Ishigami’s function: variance, first-order and total shares', () => {
  const rows = ishigamiRows(4096, () => [0, 0])
  const { variance, tracingVariance, first, total } = sharesOf(rows, ones(rows))
  expect(tracingVariance).toBe(0)
  expect(variance / VARIANCE).toBeCloseTo(1, 2)
  for (const [i, s] of [0.3139, 0.4424, 0].entries())
    expect(Math.abs((first[i] ?? 9) - s), `S${i + 1}`).toBeLessThan(0.01)
  for (const [i, t] of [0.5576, 0.4424, 0.2437].entries())
    expect(Math.abs((total[i] ?? 9) - t), `T${i + 1}`).toBeLessThan(0.01)
})

test('noise as large as the spread, and an offset of all first traces, leave variance and shares where they are', () => {
  const random = seededRandom(3)
  const normal = () => normalQuantile(random() + 2 ** -33)
  const sd = Math.sqrt(VARIANCE)
  const rows = ishigamiRows(4096, () => [5 + sd * normal(), sd * normal()])
  const { variance, tracingVariance, first, total, means } = sharesOf(rows, ones(rows))
  // Each trace has the variance V of noise: their mean V/2. Of 8192 lamps the sample's own standard error of it is V/2·√(2/8192) = 0.8 %.
  expect(tracingVariance / (VARIANCE / 2)).toBeCloseTo(1, 1)
  expect(means[0] - means[1]).toBeCloseTo(5, 0)
  // Standard errors of products with noise: about √3/√4096 = 0.027; three of them.
  expect(Math.abs(variance / VARIANCE - 1)).toBeLessThan(0.08)
  for (const [i, s] of [0.3139, 0.4424, 0].entries())
    expect(Math.abs((first[i] ?? 9) - s), `S${i + 1}`).toBeLessThan(0.08)
  for (const [i, t] of [0.5576, 0.4424, 0.2437].entries())
    expect(Math.abs((total[i] ?? 9) - t), `T${i + 1}`).toBeLessThan(0.08)
})
