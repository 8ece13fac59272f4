// Does a sample follow a distribution? Pearson's χ² against the 1 % point (K. Pearson 1900); the quantile by E. B. Wilson, M. M. Hilferty,
// Proc. Natl. Acad. Sci. 17 (1931) 684, good to a per cent of the level for ten cells or more.

/** Value that χ² with `freedom` degrees exceeds once in a hundred times. */
export function chi2OnePercent(freedom: number): number {
  const a = 2 / (9 * freedom)
  return freedom * (1 - a + 2.3263478740408408 * Math.sqrt(a)) ** 3
}

/** Throws when the counts are unlikely, at 1 %, under these shares (they sum to 1). */
export function expectShares(counts: ArrayLike<number>, shares: ArrayLike<number>): void {
  let total = 0
  for (let i = 0; i < counts.length; i++) total += counts[i]!
  let chi2 = 0
  for (let i = 0; i < counts.length; i++) {
    const expected = total * shares[i]!
    if (expected < 5) throw new Error(`cell ${i} expects ${expected} of ${total}: too few for this test`)
    chi2 += (counts[i]! - expected) ** 2 / expected
  }
  const limit = chi2OnePercent(counts.length - 1)
  if (!(chi2 < limit))
    throw new Error(`χ² of ${chi2} with ${counts.length - 1} degrees of freedom; the 1 % point is ${limit}`)
}
