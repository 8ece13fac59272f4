// How probable each explanation is against the others.
import { birgeRatio } from '../../readings/agreement.ts'
import type { Explanation } from './result.ts'

/**
 * Schwarz's criterion of explanations with 0, 1 or 2 causes: BIC = χ² + k ln n (G. Schwarz, Ann. Statist. 6 (1978) 461), and weights e^(−BIC/2) (K. P.
 * Burnham and D. R. Anderson, Model Selection and Multimodel Inference, 2nd ed. 2002, 6.4; both from memory). Beforehand no cause and one
 * are taken as equally likely and two together as a quarter of that; within each all explanations alike, the dark boards together as one: our choice. n: readings; `pairsTried`: pairs in all. Likeliest first.
 */
export function rank(tried: readonly Pick<Explanation, 'causes' | 'chi2'>[], n: number, pairsTried = 0): Explanation[] {
  const boards = tried.filter(isOneBoard).length
  const sizes = [0, 1, 2].map(
    (k) => tried.filter((t) => t.causes.length === k && !isOneBoard(t)).length + (k === 1 && boards > 0 ? 1 : 0),
  )
  // Only the best pairs are listed: the others were tried as well.
  sizes[2] = Math.max(sizes[2] ?? 0, pairsTried)
  const scored = tried.map(({ causes, chi2 }) => {
    const k = causes.length
    const bic = chi2 + k * Math.log(n)
    const prior = (k === 2 ? 0.25 : 1) / (sizes[k] ?? 1) / (isOneBoard({ causes }) ? boards : 1)
    return { causes, chi2, bic, prior, birge: birgeRatio(chi2, n - k), probability: 0 }
  })
  const least = Math.min(...scored.map((s) => s.bic))
  const weights = scored.map((s) => s.prior * Math.exp(-(s.bic - least) / 2))
  const sum = weights.reduce((a, b) => a + b, 0)
  return scored
    .map(({ prior: _, ...s }, i) => ({ ...s, probability: (weights[i] ?? 0) / sum }))
    .sort((a, b) => b.probability - a.probability)
}

const isOneBoard = ({ causes }: Pick<Explanation, 'causes'>): boolean =>
  causes.length === 1 && causes[0]?.key === 'dark'
