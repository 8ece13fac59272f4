// How near the fill comes to the best known packings of equal circles in a circle. Ratios R/r from the table of best known
// packings published on the web by E. Specht ("Packomania"); closed forms for 3 to 5, 7, 8, 9, 11, 13, 18 and 19.
import { describe, expect, test } from 'vitest'
import { findLayoutFaults } from '../../src/layout/clearance.ts'
import { type FillPattern, fillFace } from '../../src/layout/fill.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { amount } from '../kit/amount.ts'
import { lampWith } from '../kit/lampWith.ts'

const BEST: Record<number, number> = {
  1: 1,
  2: 2,
  3: 1 + 2 / Math.sqrt(3),
  4: 1 + Math.SQRT2,
  5: 1 + Math.sqrt(2 * (1 + 1 / Math.sqrt(5))),
  7: 3,
  8: 1 + 1 / Math.sin(Math.PI / 7),
  9: 1 + Math.sqrt(2 * (2 + Math.SQRT2)),
  10: 3.81302563,
  11: 1 + 1 / Math.sin(Math.PI / 9),
  12: 4.02960193,
  13: 2 + Math.sqrt(5),
  14: 4.32842855,
  15: 4.52135696,
  16: 4.61542559,
  17: 4.79203375,
  19: 1 + Math.SQRT2 + Math.sqrt(6),
  20: 5.12232074,
  22: 5.43971896,
  25: 5.75282433,
  28: 6.0149381,
  31: 6.29150262,
  34: 6.61095709,
  37: 6.75877048,
  40: 7.12384644,
  44: 7.49803668,
  48: 7.79127143,
  52: 8.08471719,
  55: 8.21110255,
  58: 8.52455377,
  61: 8.66129758,
}

const known = new Map<string, number>()

/** Discs of 40 mm with nothing between them in a round face of R/r times 40 mm; each face filled once. */
function placed(ratio: number, pattern: FillPattern): number {
  const name = `${ratio} ${pattern}`
  const count = known.get(name) ?? fill(ratio, pattern)
  known.set(name, count)
  return count
}

function fill(ratio: number, pattern: FillPattern): number {
  const lamp = lampWith({
    boardTypes: [
      { ...gannetHead().boardTypes[0]!, sites: [{ xMm: 0, yMm: 0 }], outline: { shape: 'disc', diameterMm: 40 } },
    ],
    face: { sizeMm: 40 * ratio, clearanceMm: 0, marginMm: 0 },
    boards: [],
  })
  const filled = fillFace(lamp, { boardType: 'seven', pattern, clearanceMm: 0, marginMm: 0, currentA: 1 })
  expect(findLayoutFaults({ ...lamp, boards: filled.boards })).toEqual([])
  return filled.placed
}

const all = Object.entries(BEST)
  .map(([n, ratio]) => [Number(n), ratio] as const)
  .filter(([n]) => n <= 37 || n === 61 || amount(false, true))

describe('never more than the best known', () => {
  // A count above the table's would mean overlapping boards (or a discovery). Just under the ratio N no longer fits.
  test.each(all.filter(([n]) => n > 1))('fewer than %i at a hair under R/r = %f', (n, ratio) => {
    expect(placed(ratio * 0.9995, 'most')).toBeLessThan(n)
  })
})

describe('most', () => {
  test.each(all.filter(([n]) => n <= 16 || [19, 20, 31, 37, 55, 61].includes(n)))(
    'finds %i at R/r = %f, give or take 1e-5',
    (n, ratio) => {
      expect(placed(ratio * 1.00001, 'most')).toBe(n)
    },
  )
  test.each(all)('is at most one short of %i exactly where it first fits, R/r = %f', (n, ratio) => {
    expect(placed(ratio * 1.00001, 'most')).toBeGreaterThanOrEqual(n - 1)
  })
  test.each(all.filter(([n]) => n <= 37))('finds %i with a fiftieth more room than R/r = %f', (n, ratio) => {
    expect(placed(ratio * 1.02, 'most')).toBeGreaterThanOrEqual(n)
  })
})

describe('hexagonal', () => {
  // A hexagon of k rings, 1 + 3k(k + 1) discs, needs R/r = 2k + 1 (geometry).
  test.each([
    [7, 3],
    [19, 5],
    [37, 7],
    [61, 9],
    [91, 11],
    [127, 13],
  ])('holds %i at R/r = %i', (n, ratio) => expect(placed(ratio * (1 + 1e-9), 'hexagonal')).toBeGreaterThanOrEqual(n))
})

describe('rings', () => {
  test.each([
    [5, BEST[5]!],
    [7, 3],
    [8, BEST[8]!],
    [9, BEST[9]!],
    [13, BEST[13]!],
    [19, BEST[19]!],
  ])('hold %i at R/r = %f', (n, ratio) => expect(placed(ratio * 1.00001, 'rings')).toBeGreaterThanOrEqual(n))
})

test('a large face holds within 8 % of the densest plane, π/√12 (Thue), less the rim', () => {
  // N ≤ 0.9069 (R/r)²; a rim about half a disc wide is lost: (R/r − 1)² is common practice for a first guess.
  const n = placed(25, 'hexagonal')
  const guess = (Math.PI / Math.sqrt(12)) * 24 ** 2
  expect(n).toBeLessThan((Math.PI / Math.sqrt(12)) * 25 ** 2)
  expect(n).toBeGreaterThan(0.92 * guess)
})
