// Lamps side by side: each by one reader, all with the same seeds and rays.
import type { Lamp } from '../../lamp/schema.ts'
import type { DangerStage } from '../danger/result.ts'
import type { CellOptions } from '../sweep/cell.ts'
import type { Column, ColumnDanger, ColumnHeat, ColumnLight, ColumnSoFar, LitColumn } from './result.ts'

/** Who reads a lamp: a worker of a browser or of Node, or this thread. */
export interface ColumnReader {
  light(lamp: Lamp, options: CellOptions): Promise<LitColumn>
  heat(lamp: Lamp, ledger: ColumnLight['ledger']): Promise<ColumnHeat>
  danger(
    lamp: Lamp,
    options: { seed: number; rough: boolean },
    onStage: (stage: DangerStage, share: number) => void,
  ): Promise<ColumnDanger>
  close(): void
}

export interface CompareOptions extends CellOptions {
  /** Dangers from few rays. */
  rough: boolean
}

export interface CompareListener {
  /** Hears of each column as it grows: its light, then heat, then dangers. */
  onPart?(index: number, part: ColumnSoFar): void
  /** How far the dangers of a lamp are, 0 to 1 within a stage. */
  onStage?(index: number, stage: DangerStage, share: number): void
}

/** In the order of the lamps. Rejects when a worker dies. */
export async function runCompare(
  readers: readonly ColumnReader[],
  lamps: readonly Lamp[],
  { rough, ...options }: CompareOptions,
  { onPart, onStage }: CompareListener = {},
): Promise<Column[]> {
  const columns: Column[] = []
  const waiting = lamps.entries()
  await Promise.all(
    readers.map(async (reader) => {
      for (const [index, lamp] of waiting) {
        const lit = await reader.light(lamp, options)
        onPart?.(index, lit)
        const warm = { ...lit, heat: await reader.heat(lamp, lit.light.ledger) }
        onPart?.(index, warm)
        const danger = await reader.danger(lamp, { seed: options.seed, rough }, (stage, share) =>
          onStage?.(index, stage, share),
        )
        columns[index] = { ...warm, danger }
        onPart?.(index, columns[index])
      }
    }),
  )
  return columns
}
