// Whether a result holds something that is no number.

/** Path and value of the first that is no number, or of a text that speaks of one. */
export function unsound(x: unknown, path = ''): string | null {
  if (typeof x === 'number') return Number.isFinite(x) ? null : `${path}: ${x}`
  if (typeof x === 'string') return /NaN|Infinity|undefined/.test(x) ? `${path}: ${x}` : null
  if (x === null || typeof x !== 'object') return null
  const entries = ArrayBuffer.isView(x) ? Array.from(x as Float64Array).entries() : Object.entries(x)
  for (const [key, value] of entries) {
    const found = unsound(value, `${path}.${key}`)
    if (found) return found
  }
  return null
}

/** Where an error was expected as a text: what it says, with where it was thrown. */
export const textOf = (error: unknown): string =>
  error instanceof Error ? (error.stack ?? error.message) : String(error)
