// Sums over boxes of cells on a grid, from a table of sums over rectangles, for the coarse search of gridDisc.ts.
// Own code, as gridDisc.ts.

interface Cells {
  columns: number
  rows: number
}

interface RowOfBoxes {
  /** Where the sums of its upper and its lower edge begin. */
  over: number
  under: number
  width: number
  sense: 1 | -1
}

/** The left edge of the next box whose sum is over the limit; `end`: there is none before it. */
export function passWeak(
  sums: Float64Array,
  { over, under, width, sense }: RowOfBoxes,
  left: number,
  end: number,
  limit: number,
): number {
  let at = left
  while (at < end) {
    const right = at + width
    if (!(sense * (sums[over + right]! - sums[under + right]! - sums[over + at]! + sums[under + at]!) <= limit)) break
    at++
  }
  return at
}

/** Used by one search at a time; outside the part that it sums it holds values of earlier ones. */
let scratch = new Float64Array(0)
/** What all of it holds the sums of, unpadded; null: nothing that stays. */
let summed: { density: ArrayLike<number>; columns: number } | null = null

/** Sums of the whole grid, kept until another is summed. */
export function sumStill(...of: Parameters<typeof sumRectangles>): Float64Array {
  const [{ columns }, density, pad] = of
  if (pad > 0) return sumRectangles(...of)
  if (summed?.density === density && summed.columns === columns) return scratch
  const sums = sumRectangles(...of)
  summed = { density, columns }
  return sums
}

/** sums[r · wide + c]: sum of the densities in the rows of `part` below r and its (padded) columns below c. */
export function sumRectangles(
  grid: Cells,
  density: ArrayLike<number>,
  pad: number,
  part: { rows: readonly [number, number]; columns: readonly [number, number] },
): Float64Array {
  const { columns, rows } = grid
  const wide = columns + 2 * pad + 1
  summed = null
  if (scratch.length < (rows + 1) * wide) scratch = new Float64Array((rows + 1) * wide)
  const sums = scratch
  const [first, last] = part.columns
  sums.fill(0, part.rows[0] * wide + first, part.rows[0] * wide + last + 1)
  for (let r = part.rows[0]; r < part.rows[1]; r++) {
    let along = 0
    const at = (r + 1) * wide
    sums[at + first] = 0
    let column = pad === 0 ? first : (first - pad + columns) % columns
    for (let c = first; c < last; c++) {
      along += density[r * columns + column]!
      sums[at + c + 1] = sums[at - wide + c + 1]! + along
      if (++column === columns) column = 0
    }
  }
  return sums
}
