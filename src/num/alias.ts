// Alias tables: one of n things drawn by its weight from one number, in one look-up. A. J. Walker (1974, 1977); made as by M. D. Vose (1991).
// Own code, because the tables are laid out for the tracers and held by their bits.

export interface AliasTable {
  /** Share of cell i that is thing i's own; the rest is that of `alias[i]`. */
  share: Float64Array
  alias: Int32Array
}

/** The table of n weights ≥ 0 (any unit); where none is above 0 every thing keeps its own cell. */
export function aliasTable(weights: ArrayLike<number>): AliasTable {
  const n = weights.length
  const share = new Float64Array(n).fill(1)
  const alias = Int32Array.from({ length: n }, (_, i) => i)
  let sum = 0
  for (let i = 0; i < n; i++) sum += weights[i]!
  const mean = sum / n
  if (!(mean > 0)) return { share, alias }
  const scaled = Array.from(weights, (w) => w / mean)
  const small: number[] = []
  const large: number[] = []
  for (let i = 0; i < n; i++) (scaled[i]! < 1 ? small : large).push(i)
  while (small.length > 0 && large.length > 0) {
    const s = small.pop()!
    const l = large[large.length - 1]!
    share[s] = scaled[s]!
    alias[s] = l
    scaled[l] = scaled[l]! + scaled[s]! - 1
    if (scaled[l]! < 1) {
      large.pop()
      small.push(l)
    }
  }
  return { share, alias }
}
