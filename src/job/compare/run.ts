// Lamps side by side: each by one reader, all with the same seeds and rays.
import type { Lamp } from '../../lamp/schema.ts'
import type { CellOptions } from '../sweep/cell.ts'
import type { Column, ColumnSoFar } from './result.ts'

/** Who reads a lamp: a worker of a browser or of Node, or this thread. */
export interface ColumnReader {
  read(lamp: Lamp, options: CellOptions, onPart: (part: ColumnSoFar) => void): Promise<Column>
  close(): void
}

/** In the order of the lamps. `onPart` hears of each column as it grows. Rejects when a worker dies. */
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
        const column = await reader.read(lamp, options, (part) => onPart(index, part))
        columns[index] = column
        onPart(index, column)
      }
    }),
  )
  return columns
}
