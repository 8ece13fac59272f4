// The sweep as a CSV file, the same as from the command line.

import { csvText } from '../../files/csv.ts'
import { valuesAt } from '../../job/sweep/plan.ts'
import { sweepTable } from '../../report/sweepTable.ts'
import { pageMark } from '../common/decimalMark.ts'
import { saveFile } from '../common/saveFile.ts'
import type { SweepRun } from '../store/sweep.ts'
import { unitSystem } from '../store/unitSystem.ts'
import { CELL } from './runner.ts'

export function saveCsv(run: SweepRun): void {
  const cells = run.cells.map(
    (cell, index) => cell ?? { index, values: valuesAt(run.axes, index), reading: null, why: 'Not traced.' },
  )
  const text = csvText(sweepTable(run.lamp, run.axes, cells, CELL.seed, unitSystem()), pageMark)
  saveFile('range.csv', text, 'text/csv')
}
