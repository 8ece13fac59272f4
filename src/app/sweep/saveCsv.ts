// The sweep as a CSV file, the same as from the command line.
import { csvText } from '../../files/csv.ts'
import { valuesAt } from '../../job/sweep/plan.ts'
import { sweepTable } from '../../report/sweepTable.ts'
import type { SweepRun } from '../store/sweep.ts'
import { CELL } from './runner.ts'

export function saveCsv(run: SweepRun): void {
  const cells = run.cells.map(
    (cell, index) => cell ?? { index, values: valuesAt(run.axes, index), reading: null, why: 'Not traced.' },
  )
  const text = csvText(sweepTable(run.lamp, run.axes, cells, CELL.seed))
  const url = URL.createObjectURL(new Blob([text], { type: 'text/csv' }))
  const link = document.createElement('a')
  link.href = url
  link.download = 'range.csv'
  link.click()
  URL.revokeObjectURL(url)
}
