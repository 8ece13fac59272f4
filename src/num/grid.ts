// Neighbours in the plane: square cells in a hash map, so that a thousand boards need no million comparisons.
// Own code, because flatbush finds boxes in the order of its tree, and the order of pairs decides which faults are listed.

export interface Box {
  fromX: number
  fromY: number
  toX: number
  toY: number
}

const key = (column: number, row: number) => column * 67_108_864 + row // exact while |row| < 2^25

/**
 * Calls `visit` once for each pair i < j of boxes that come within `reach` of each other in x and in y; ends early
 * when `visit` returns false.
 * Boxes and `reach` in one unit of length, finite; order by j, then by cell. Time O(n) for boxes of similar size.
 * Uniform grid: common practice, no source.
 */
export function forEachNearPair(boxes: readonly Box[], reach: number, visit: (i: number, j: number) => unknown): void {
  const cell = boxes.reduce((most, b) => Math.max(most, b.toX - b.fromX, b.toY - b.fromY), 1e-6) + reach
  const cells = new Map<number, number[]>()
  const near = (a: Box, b: Box) =>
    a.fromX <= b.toX + reach && b.fromX <= a.toX + reach && a.fromY <= b.toY + reach && b.fromY <= a.toY + reach
  for (const [j, b] of boxes.entries()) {
    const column = Math.floor((b.fromX + b.toX) / 2 / cell)
    const row = Math.floor((b.fromY + b.toY) / 2 / cell)
    // Centres of two boxes that come within reach lie less than a cell apart in x and in y.
    for (let c = column - 1; c <= column + 1; c++) {
      for (let r = row - 1; r <= row + 1; r++)
        for (const i of cells.get(key(c, r)) ?? []) if (near(boxes[i]!, b) && visit(i, j) === false) return
    }
    const own = cells.get(key(column, row))
    if (own) own.push(j)
    else cells.set(key(column, row), [j])
  }
}
