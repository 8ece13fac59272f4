// Lamps side by side: each by one reader, all with the same seeds and rays.
import type { Lamp } from '../../lamp/schema.ts'
import type { CellOptions } from '../sweep/cell.ts'
import type { Column, ColumnSoFar, LitColumn } from './result.ts'

/** Who reads a lamp: a worker of a browser or of Node, or this thread. */
export interface ColumnReader {
  light(lamp: Lamp, options: CellOptions): Promise<LitColumn>
  /** Heat, then danger. */
  rest(lamp: Lamp, options: CellOptions, lit: LitColumn, onPart: (part: ColumnSoFar) => void): Promise<Column>
  close(): void
}

/** In the order of the lamps. `onPart` hears of each column as it grows, three times. Rejects when a worker dies. */
export async function runCompare(
  readers: readonly ColumnReader[],
  lamps: readonly Lamp[],
  options: CellOptions,
  onPart: (index: number, part: ColumnSoFar) => void = () => {},
): Promise<Column[]> {
  const columns: Column[] = []
  const waiting = lamps.entries()
  await Promise.all(
    readers.map(async (reader) => {
      for (const [index, lamp] of waiting) {
        const lit = await reader.light(lamp, options)
        onPart(index, lit)
        const column = await reader.rest(lamp, options, lit, (part) => onPart(index, part))
        columns[index] = column
        onPart(index, column)
      }
    }),
  )
  return columns
}
