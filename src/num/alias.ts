// Alias tables: one of n things drawn by its weight from one number, in one look-up. A. J. Walker (1974, 1977); made as by M. D. Vose (1991).
// Own code, because the tables are laid out for the tracers and held by their bits.

export interface AliasTable {
  /** Share of cell i that is thing i's own; the rest is that of `alias[i]`. */
  share: Float64Array
  alias: Int32Array
}

/** The table of n weights ≥ 0 (any unit); where none is above 0 every thing keeps its own cell. */
export function aliasTable(weights: ArrayLike<number>): AliasTable {
  const all = Array.from(weights)
  const share = new Float64Array(all.length).fill(1)
  const alias = Int32Array.from(all, (_, i) => i)
  const mean = all.reduce((sum, w) => sum + w, 0) / all.length
  if (!(mean > 0)) return { share, alias }
  const scaled = all.map((w, i) => ({ i, part: w / mean }))
  const small = scaled.filter((cell) => cell.part < 1)
  const large = scaled.filter((cell) => cell.part >= 1)
  for (let s = small.pop(); s; s = small.pop()) {
    const l = large.at(-1)
    if (!l) break
    share[s.i] = s.part
    alias[s.i] = l.i
    l.part = l.part + s.part - 1
    if (l.part < 1) {
      large.pop()
      small.push(l)
    }
  }
  return { share, alias }
}
