import { editDistance } from '../num/editDistance.ts'

/** The known word that was probably meant: `word` is its prefix or within two edits of it, fewer for a short word. */
export function nearest(word: string, known: readonly string[]): string | null {
  const longer = known.filter((k) => word.length >= 3 && k.startsWith(word))
  if (longer.length === 1) return longer[0]!
  let best: string | null = null
  let bestSlips = Math.min(3, Math.floor(word.length / 2) + 1)
  for (const k of known) {
    const slips = editDistance(word, k)
    if (slips < bestSlips) {
      best = k
      bestSlips = slips
    }
  }
  return best
}

export const didYouMean = (word: string, known: readonly string[], before = ''): string => {
  const near = nearest(word, known)
  return near === null ? '' : ` (did you mean ${before}${near}?)`
}
