// Sums by integer cell of a sparse grid: open addressing in typed arrays. Own code, because a Map of boxed numbers is
// several times slower, and this is filled some hundred times for each reading.

export interface CellSums {
  /** Adds to the cell with a key from 0 to 2³² − 2. */
  add(key: number, value: number): void
  /** Calls for each cell in the order of first use. */
  each(call: (key: number, sum: number, count: number) => void): void
  clear(): void
}

const EMPTY = 0xffffffff

/** Sums for at most `most` different cells at a time; throws beyond that. In the unit of what is added. */
export function makeCellSums(most: number): CellSums {
  const size = 2 ** Math.ceil(Math.log2(Math.max(16, 2 * most)))
  const keys = new Uint32Array(size).fill(EMPTY)
  const sums = new Float64Array(size)
  const counts = new Uint32Array(size)
  const used = new Uint32Array(size)
  let n = 0
  const slotOf = (key: number): number => {
    let at = (Math.imul(key, 0x9e3779b1) >>> 7) & (size - 1)
    while (keys[at] !== EMPTY && keys[at] !== key) at = (at + 1) & (size - 1)
    return at
  }
  return {
    add(key, value) {
      const at = slotOf(key)
      if (keys[at] === EMPTY) {
        if (n >= most) throw new Error(`cell sums: more than ${most} cells`)
        keys[at] = key
        sums[at] = 0
        counts[at] = 0
        used[n++] = at
      }
      sums[at]! += value
      counts[at]!++
    },
    each(call) {
      for (let k = 0; k < n; k++) call(keys[used[k]!]!, sums[used[k]!]!, counts[used[k]!]!)
    },
    clear() {
      for (let k = 0; k < n; k++) keys[used[k]!] = EMPTY
      n = 0
    },
  }
}
