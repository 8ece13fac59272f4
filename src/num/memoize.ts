// Results made from arrays of numbers that mostly stay the same from one call to the next: a lens that is dragged
// leaves the emitters alone.
// Own code, because memoize-one holds one result only; here the last four stay, compared number by number.
type Numbers = ArrayLike<number>

const MAX_ENTRIES = 4

/**
 * `make` with a cache of four entries: the earlier result comes back while every array of `inputs(of)` holds the same
 * numbers as then. `make` may read nothing else. Results are shared: callers must not write into them.
 */
export function memoize<A, T>(inputs: (of: A) => readonly Numbers[], make: (of: A) => T): (of: A) => T {
  const entries: { made: readonly Numbers[]; answer: T }[] = []
  return (of) => {
    const now = inputs(of)
    const at = entries.findIndex(({ made }) => made.every((numbers, i) => sameNumbers(numbers, now[i]!)))
    const found = at < 0 ? { made: now, answer: make(of) } : entries.splice(at, 1)[0]!
    entries.unshift(found)
    entries.length = Math.min(entries.length, MAX_ENTRIES)
    return found.answer
  }
}

function sameNumbers(a: Numbers, b: Numbers): boolean {
  if (a === b) return true
  if (a.length !== b.length) return false
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false
  return true
}
