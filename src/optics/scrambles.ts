// Scrambles of the low-discrepancy sequence, made once in a thread: every edit starts again with the same seed.
import { scrambledNumbers } from './sobol.ts'

const made = new Map<string, Int32Array>()
const KEPT_MOST = 64

/** The result of `scrambledNumbers`, cached a thread for each seed and batch. Not to be written into. */
export function scrambleOf(seed: number, batch: number): Int32Array {
  const key = `${seed} ${batch}`
  const known = made.get(key)
  if (known) return known
  if (made.size >= KEPT_MOST) made.clear()
  const numbers = scrambledNumbers(seed, batch)
  made.set(key, numbers)
  return numbers
}
