import { type WiringRow, wiringCsv } from '../../report/wiringTable.ts'
import { pageMark } from '../common/decimalMark.ts'
import { saveFile } from '../common/saveFile.ts'
import type { UnitSystem } from '../common/unitSystem.ts'

export const saveWiring = (rows: readonly WiringRow[], missing: readonly string[], system: UnitSystem): void =>
  saveFile('wiring.csv', wiringCsv(rows, missing, pageMark, system), 'text/csv')
