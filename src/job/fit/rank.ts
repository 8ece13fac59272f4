// How probable each explanation is against the others.
import { birgeRatio } from '../../readings/agreement.ts'
import type { CauseKey } from './cause.ts'
import { isDarkKey } from './dark.ts'
import type { Explanation } from './result.ts'

type Tried = Pick<Explanation, 'causes' | 'chi2'>

/** How many were tried of those of which only the best are listed. */
interface NotListed {
  pairs: number
  /** Of two dark boards. */
  darkPairs: number
}

/**
 * Schwarz's criterion of explanations with 0, 1 or 2 causes: BIC = χ² + k ln n (G. Schwarz, Ann. Statist. 6 (1978) 461), and weights e^(−BIC/2) (K. P.
 * Burnham and D. R. Anderson, Model Selection and Multimodel Inference, 2nd ed. 2002, 6.4; both from memory). Beforehand no cause and one
 * are taken as equally likely and two together as a quarter of that; within each all kinds alike. All dark boards are one kind, all dark strings, all dark
 * channels, and all pairs of dark boards: our choice. n: readings. Likeliest first.
 */
export function rank(tried: readonly Tried[], n: number, all: NotListed = { pairs: 0, darkPairs: 0 }): Explanation[] {
  const members = new Map<string, number>()
  for (const { causes } of tried) members.set(kindOf(causes), (members.get(kindOf(causes)) ?? 0) + 1)
  members.set(TWO_DARK, Math.max(members.get(TWO_DARK) ?? 0, all.darkPairs))
  const kinds = [0, 1, 2].map(
    (k) => new Set(tried.filter((t) => t.causes.length === k).map((t) => kindOf(t.causes))).size,
  )
  // Only the best pairs are listed: the others were tried as well.
  kinds[2] = Math.max(kinds[2] ?? 0, all.pairs + (all.darkPairs > 0 ? 1 : 0))
  // A dark board beside another cause is the likeliest of as many as without it.
  const alike = (causes: Explanation['causes']) => {
    const own = members.get(kindOf(causes)) ?? 1
    if (causes.length < 2 || causes.every((c) => isDarkKey(c.key))) return own
    return causes.reduce((all, c) => (isDarkKey(c.key) ? all * (members.get(c.key) ?? 1) : all), 1)
  }
  const scored = tried.map(({ causes, chi2 }) => {
    const k = causes.length
    const bic = chi2 + k * Math.log(n)
    const prior = (k === 2 ? 0.25 : 1) / (kinds[k] || 1) / alike(causes)
    return { causes, chi2, bic, prior, birge: birgeRatio(chi2, n - k), probability: 0 }
  })
  const least = Math.min(...scored.map((s) => s.bic))
  const weights = scored.map((s) => s.prior * Math.exp(-(s.bic - least) / 2))
  const sum = weights.reduce((a, b) => a + b, 0)
  return scored
    .map(({ prior: _, ...s }, i) => ({ ...s, probability: (weights[i] ?? 0) / sum }))
    .sort((a, b) => b.probability - a.probability)
}

const TWO_DARK = 'dark dark'

/** One name for all boards that may be dark; any other cause is its own kind. */
const kindOf = (causes: readonly { key: CauseKey; board?: string }[]): string => {
  const areDark = causes.every((c) => isDarkKey(c.key))
  return causes.map((c) => (areDark || c.board === undefined ? c.key : `${c.key} ${c.board}`)).join(' ')
}
