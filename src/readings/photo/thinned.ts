// Which places of a picture a fit takes: neighbours say the same, and each has to be traced.
import type { GridSet } from '../../lamp/readings.ts'

/** Places that are traced of one picture, at most about. Our choice. */
const MOST = 121

/**
 * Numbers of the rows of a set that a fit takes, rising: all of a grid that was read by hand; of a picture every second, third … column and line, counted
 * from those nearest to zero, so that the lines across and up through it stay. The side with more places is thinned first.
 */
export function thinned({ rows, picture }: GridSet): number[] {
  const all = rows.map((_, i) => i)
  if (!picture || rows.length <= MOST) return all
  const [columns, lines] = [numbered(rows.map((r) => r.xMm)), numbered(rows.map((r) => r.yMm))]
  for (let [x, y] = [1, 1]; ; ) {
    if (columns.size / x >= lines.size / y) x++
    else y++
    const some = all.filter((i) => {
      const row = rows[i]
      return row && (columns.get(row.xMm) ?? 0) % x === 0 && (lines.get(row.yMm) ?? 0) % y === 0
    })
    if (some.length <= MOST) return some
  }
}

/** Each place along one side, counted from the one nearest to zero. */
function numbered(places: readonly number[]): Map<number, number> {
  const sorted = [...new Set(places)].sort((a, b) => a - b)
  const middle = sorted.reduce((best, at, i) => (Math.abs(at) < Math.abs(sorted[best] ?? Infinity) ? i : best), 0)
  return new Map(sorted.map((at, i) => [at, Math.abs(i - middle)]))
}
