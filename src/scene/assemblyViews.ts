// An assembly's flat tables as the walk reads them.
import * as STRETCH from '../optics/stretchRow.ts'

/** The rows of a table, as views. */
export const rowsOf = (table: Float32Array, size: number): Float32Array[] =>
  Array.from({ length: table.length / size }, (_, i) => table.subarray(i * size, (i + 1) * size))

/** Of each stretch: 1 where the next is of another size. */
export const stepsOf = (stretches: readonly Float32Array[]): Uint8Array =>
  Uint8Array.from(stretches, (row, i) => (hasStep(row, stretches[i + 1]) ? 1 : 0))

/** Of each stretch, lower end then upper: z, and the square of the radius there. */
export const endsOf = (stretches: readonly Float32Array[]): Float64Array =>
  Float64Array.from(
    stretches.flatMap((row) => {
      const [from, to, r] = [row[STRETCH.zIn]!, row[STRETCH.zOut]!, row[STRETCH.rIn]!]
      const rOut = r + (to - from) * row[STRETCH.tanFlare]!
      return [from, r * r, to, rOut * rOut]
    }),
  )

/** Steps narrower than this, mm, are none: sizes are in single precision, so that equal ones differ by rounding. */
const FLUSH_MM = 1e-3

function hasStep(below: Float32Array, above: Float32Array | undefined): boolean {
  if (!above) return false
  const long = below[STRETCH.zOut]! - below[STRETCH.zIn]!
  const jumpX = below[STRETCH.rIn]! + long * below[STRETCH.tanFlare]! - above[STRETCH.rIn]!
  const jumpY = below[STRETCH.halfYIn]! + long * below[STRETCH.tanFlareY]! - above[STRETCH.halfYIn]!
  return Math.max(Math.abs(jumpX), Math.abs(jumpY)) > FLUSH_MM
}
